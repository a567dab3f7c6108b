import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bandsOf, squeezed, type Width } from '../../../src/face/print/bands.ts';

const column = fc
  .tuple(fc.integer({ min: 20, max: 200 }), fc.double({ min: 0.3, max: 1, noNaN: true }))
  .map(([width, part]): Width => ({ width, least: Math.round(width * part) }));
const columns = fc.array(column, { minLength: 1, maxLength: 60 });
const sum = (widths: readonly number[]) => widths.reduce((total, width) => total + width, 0);

test('every column stands in one band, in order, and no band is wider than the paper', () => {
  fc.assert(
    fc.property(columns, fc.integer({ min: 200, max: 1_000 }), (widths, room) => {
      const bands = bandsOf(widths, room);
      expect(bands[0]?.from).toBe(0);
      expect(bands.at(-1)?.to).toBe(widths.length);
      for (const [at, { from, to }] of bands.entries()) {
        expect(to).toBeGreaterThan(from);
        if (at > 0) expect(from).toBe(bands[at - 1]?.to);
        const set = squeezed(widths.slice(from, to), room);
        expect(sum(set.map(({ width }) => width))).toBeLessThanOrEqual(room + 1e-6);
        for (const [place, { width, least }] of set.entries()) {
          expect(width).toBeGreaterThanOrEqual(least - 1e-6);
          expect(width).toBeLessThanOrEqual((widths[from + place]?.width ?? 0) + 1e-6);
        }
      }
    }),
  );
});

test('there are as few bands as the columns can do with, and they are about equally full', () => {
  const like = (...widths: number[]) => widths.map((width) => ({ width, least: width }));
  expect(bandsOf(like(100, 100, 100, 100, 100, 100), 500)).toEqual([
    { from: 0, to: 3 },
    { from: 3, to: 6 },
  ]);
  expect(bandsOf(like(300, 300, 100, 100), 500)).toEqual([
    { from: 0, to: 1 },
    { from: 1, to: 4 },
  ]);
  // Columns of words give way before a band is added.
  const wordy = [...like(200, 200), { width: 200, least: 90 }];
  expect(bandsOf(wordy, 500)).toEqual([{ from: 0, to: 3 }]);
  expect(squeezed(wordy, 500).map(({ width }) => width)).toEqual([200, 200, 100]);
});

test('a column wider than the paper has a band of its own', () => {
  const wide = [50, 900, 50].map((width) => ({ width, least: width }));
  expect(bandsOf(wide, 500)).toEqual([
    { from: 0, to: 1 },
    { from: 1, to: 2 },
    { from: 2, to: 3 },
  ]);
});

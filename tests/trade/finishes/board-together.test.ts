import { expect, test } from 'vitest';
import { layoutSheets, sheetsTogether } from '../../../src/trade/index.ts';
import { plain } from '../plain.ts';
import { chanceFrom } from '../../engine/calculation/random-formula.ts';

const FOOT = 0.3048;
const INCH = 0.0254;

function together(
  surfaces: readonly (readonly [number, number, number])[],
  sheet: readonly [number, number],
) {
  return plain(
    sheetsTogether(
      surfaces.map(([length]) => length * FOOT),
      surfaces.map(([, height]) => height * FOOT),
      surfaces.map(() => 'along'),
      surfaces.map(() => 16 * INCH),
      surfaces.map(([, , repeats]) => repeats),
      sheet[0] * FOOT,
      sheet[1] * FOOT,
      16 * INCH,
    ),
  );
}

function alone(
  [length, height, repeats]: readonly [number, number, number],
  sheet: readonly [number, number],
) {
  const layout = layoutSheets({
    length: length * FOOT,
    height: height * FOOT,
    sheetLength: sheet[0] * FOOT,
    sheetWidth: sheet[1] * FOOT,
    direction: 'along',
    framing: 16 * INCH,
    stagger: 16 * INCH,
  });
  if ('fault' in layout) throw new Error(layout.fault);
  return layout.sheets * repeats;
}

test('two closets of 6 ft by 4 ft are one sheet of 4 × 12, where each by itself takes one', () => {
  expect(together([[6, 4, 2]], [12, 4])).toBe(1);
  expect(alone([6, 4, 2], [12, 4])).toBe(2);
});

test('over 300 random houses the shared pile takes no more than the surfaces by themselves, and no less than their area', () => {
  const chance = chanceFrom(7);
  const random = (below: number) => Math.floor(chance() * below);
  const between = (low: number, high: number) => low + chance() * (high - low);
  for (let house = 0; house < 300; house++) {
    const sheet = [
      [8, 4],
      [12, 4],
      [12, 4.5],
    ][random(3)] as [number, number];
    const surfaces = Array.from(
      { length: 1 + random(6) },
      () => [between(3, 24), between(3, 10), 1 + random(3)] as const,
    );
    const found = together(surfaces, sheet);
    const sum = surfaces.reduce((total, each) => total + alone(each, sheet), 0);
    const area = surfaces.reduce((total, [length, height, repeats]) => total + length * height * repeats, 0);
    expect(found).toBeLessThanOrEqual(sum);
    expect(found).toBeGreaterThanOrEqual(Math.ceil(area / (sheet[0] * sheet[1]) - 1e-9));
  }
});

test('a wrong surface, and half a surface, say what is wrong', () => {
  expect(together([[0, 8, 1]], [12, 4])).toMatchObject({
    fault: expect.stringContaining('length of the surface') as string,
  });
  expect(together([[10, 8, 0.5]], [12, 4])).toMatchObject({
    fault: expect.stringContaining('0.5 times') as string,
  });
  expect(together([[10, 8, 0]], [12, 4])).toBe(0);
});

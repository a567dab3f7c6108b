/** The ± of a result does not tell in which order its sources were met. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { sumOfSquares } from '../../../src/engine/calculation/sources.ts';

test('a sum of squares is the same in any order', () => {
  const parts = fc.array(fc.double({ noNaN: true, min: -1e100, max: 1e100 }), { maxLength: 60 });
  fc.assert(
    fc.property(parts, (some) => {
      const sorted = [...some].sort((a, b) => a - b);
      expect(sumOfSquares(sorted)).toBe(sumOfSquares(some));
      expect(sumOfSquares(sorted.reverse())).toBe(sumOfSquares(some));
    }),
    { numRuns: 2000 },
  );
});

test('many small parts behind a large one are not lost', () => {
  expect(sumOfSquares([1, ...Array.from({ length: 1e6 }, () => 1e-8)])).toBe(1 + 1e-10);
});

test('a sum beyond the range of doubles is infinite, not nothing', () => {
  expect(sumOfSquares([1e200, 1])).toBe(Infinity);
});

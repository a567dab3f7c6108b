import { expect, test } from 'vitest';
import { squareHole } from '../../../src/trade/index.ts';

const square = (inches: number) => (inches * 0.0254) ** 2;

test('an area is said as the side of a square hole, as on a tape', () => {
  expect(squareHole(square(4))).toBe('4 in × 4 in (102 mm × 102 mm)');
  expect(squareHole(square(1.5))).toBe('1 1/2 in × 1 1/2 in (38 mm × 38 mm)');
  expect(squareHole(square(0.25))).toBe('1/4 in × 1/4 in (6 mm × 6 mm)');
  // Rounded up to a whole inch, not to 8/8.
  expect(squareHole(square(2.99))).toBe('3 in × 3 in (76 mm × 76 mm)');
});

test('nothing, less than nothing and next to nothing have words of their own', () => {
  expect(squareHole(0)).toBe('no hole');
  expect(squareHole(-0.001)).toBe('no hole');
  expect(squareHole(square(0.02))).toBe('under 1/8 in × 1/8 in (3 mm × 3 mm)');
});

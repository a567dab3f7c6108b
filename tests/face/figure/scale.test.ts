import fc from 'fast-check';
import { expect, test } from 'vitest';
import { linearRange, logRange, logTicks } from '../../../src/face/figure/scale.ts';

test('a log axis holds every value, with room around points and none beyond a line’s ends', () => {
  const range = logRange([12.4, 60.2], [10, 80]);
  expect(range).toEqual({ min: 10, max: 80 });
  expect(logTicks(range.min, range.max)).toEqual([10, 15, 20, 30, 40, 50, 60, 80]);
});

test('a log axis stays put while a value moves a little', () => {
  expect(logRange([12.4, 60.2])).toEqual(logRange([12.9, 59.1]));
});

test('values that a logarithm does not know are left to the figure, not to the axis', () => {
  expect(logRange([0, -5, Number.NaN])).toEqual({ min: 10, max: 100 });
});

test('log axes: the ends enclose the values, with at most eight labels or one a decade', () => {
  fc.assert(
    fc.property(fc.array(fc.double({ min: 1e-3, max: 1e6, noNaN: true }), { minLength: 1 }), (values) => {
      const { min, max } = logRange(values);
      const ticks = logTicks(min, max);
      expect(min).toBeLessThanOrEqual(Math.min(...values));
      expect(max).toBeGreaterThanOrEqual(Math.max(...values));
      expect(ticks.length).toBeLessThanOrEqual(10);
      for (const tick of ticks) expect(tick >= min && tick <= max).toBe(true);
    }),
  );
});

test('a linear axis ends on even steps around the values', () => {
  expect(linearRange([0.83, 1.27], 7)).toEqual({ min: 0.8, max: 1.3, step: 0.1 });
  expect(linearRange([3, 3])).toEqual({ min: 2.5, max: 3.5, step: 0.5 });
});

/** Moments to second order, against published examples whose first-order terms vanish in part. */
import { describe, expect, test } from 'vitest';
import { movementOf } from '../../../src/engine/calculation/second-order.ts';

/** A model of inputs with their standard uncertainties, as a function of so many of these for each. */
function moved(
  inputs: readonly (readonly [number, number])[],
  model: (...values: readonly number[]) => number,
): ReturnType<typeof movementOf> {
  return movementOf(
    inputs.length,
    (times) => model(...inputs.map(([value, u], k) => value + u * times[k]!)),
    0,
  );
}

describe('to second order', () => {
  test('JCGM 100:2008 H.1, gauge block: 34 nm, where the first order gives 32 nm', () => {
    const { shift, uncertainty } = moved(
      [
        [50_000_623, 25],
        [215, 9.7],
        [0, 0.58e-6],
        [-0.1, 0.41],
        [11.5e-6, 1.2e-6],
        [0, 0.029],
      ],
      (ls = 0, d = 0, da = 0, th = 0, as = 0, dt = 0) => ls + d - ls * (da * th + as * dt),
    );
    expect(Math.round(uncertainty)).toBe(34);
    // ls × u(δα) × u(θ) and ls × u(αs) × u(δθ), from the inputs of its table.
    expect(uncertainty).toBeCloseTo(Math.hypot(31.71061, 11.89, 1.74), 2);
    expect(Math.abs(shift)).toBeLessThan(1e-6);
  });

  // The published value from memory; recomputed in 10⁶ draws as 0.0754.
  test('JCGM 101:2008 9.3, mass calibration: 0.0750 mg, where the first order gives 0.0539 mg', () => {
    const root3 = Math.sqrt(3);
    const { uncertainty } = moved(
      [
        [100_000, 0.05],
        [1.234, 0.02],
        [1.2, 0.1 / root3],
        [8000, 1000 / root3],
        [8000, 50 / root3],
      ],
      (mR = 0, dmR = 0, ra = 0, rW = 0, rR = 0) =>
        (mR + dmR) * (1 + (ra - 1.2) * (1 / rW - 1 / rR)) - 100_000,
    );
    expect(Math.abs(uncertainty - 0.075)).toBeLessThan(0.0005);
  });

  // Mean k and variance 2k: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.6.6.
  test.each([1, 2, 7, 8, 40])('a sum of %i squares has the moments of chi-squared', (count) => {
    const { shift, uncertainty } = moved(
      Array.from({ length: count }, () => [0, 1] as const),
      (...x) => x.reduce((sum, each) => sum + each * each, 0),
    );
    expect(shift).toBeCloseTo(count, 9);
    expect(uncertainty).toBeCloseTo(Math.sqrt(2 * count), 9);
  });

  // The variance of a sum of independent products of independent standard normals is their number.
  test.each([2, 4, 6])('products of %i values in pairs', (count) => {
    const { shift, uncertainty } = moved(
      Array.from({ length: count }, () => [0, 1] as const),
      (...x) => x.reduce((sum, each, k) => (k % 2 === 0 ? sum + each * (x[k + 1] ?? 0) : sum), 0),
    );
    expect(shift).toBeCloseTo(0, 12);
    expect(uncertainty).toBeCloseTo(Math.sqrt(count / 2), 9);
  });

  test('of many values in pairs, a choice of patterns comes close', () => {
    for (const count of [10, 30, 60]) {
      const { uncertainty } = moved(
        Array.from({ length: count }, () => [0, 1] as const),
        (...x) => x.reduce((sum, each, k) => (k % 2 === 0 ? sum + each * (x[k + 1] ?? 0) : sum), 0),
      );
      expect(Math.abs(uncertainty / Math.sqrt(count / 2) - 1), String(count)).toBeLessThan(0.25);
    }
  });

  test('a value outside the range of the function tells nothing, and rounding is no movement', () => {
    const { shift, up, down } = moved([[0, 1]], (x = 0) => Math.sqrt(x));
    expect([up, down]).toEqual([Math.sqrt(Math.sqrt(3)), 0]);
    expect(shift).toBeGreaterThan(0);
    expect(movementOf(1, (times) => 1e-16 * times[0]!, 1e-15)).toEqual({
      shift: 0,
      uncertainty: 0,
      down: 0,
      up: 0,
    });
  });
});

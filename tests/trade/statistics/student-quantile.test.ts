import fc from 'fast-check';
import jStat from 'jstat';
import { describe, expect, it } from 'vitest';

import {
  gammaHalfRatio,
  studentDensity,
  studentProbability,
  studentProbabilityByDof,
  studentQuantile,
  studentQuantileSlopes,
} from '../../../src/engine/index.ts';
import { tQuantile } from '../../../src/trade/statistics/student-quantile.ts';
import { expectRelative } from '../closeness.ts';
import { studentQuantiles } from './student-quantiles.ts';

const probability = fc.double({ min: 1e-12, max: 1 - 1e-12, noNaN: true });
const dof = fc.oneof(fc.integer({ min: 1, max: 200 }), fc.double({ min: 1, max: 1e6, noNaN: true }));

describe('studentQuantile', () => {
  it('agrees with 50-digit values (mpmath) to 1e-12, from 1e-90 to 0.9995 and from 1 to a million degrees of freedom', () => {
    for (const [p, nu, t] of studentQuantiles) {
      expectRelative(studentQuantile(p, nu), t, 1e-12, `t(${p}, ${nu})`);
    }
  });

  it('has the closed forms at 1, 2 and 4 degrees of freedom (Shaw, Journal of Computational Finance 9 (2006) 37)', () => {
    for (const p of [0.001, 0.025, 0.2, 0.45, 0.6, 0.9, 0.975, 0.9995]) {
      const alpha = 4 * p * (1 - p);
      expectRelative(studentQuantile(p, 1), Math.tan(Math.PI * (p - 0.5)), 1e-12);
      expectRelative(studentQuantile(p, 2), (2 * p - 1) * Math.sqrt(2 / alpha), 1e-12);
      const q = (4 / Math.sqrt(alpha)) * Math.cos(Math.acos(Math.sqrt(alpha)) / 3);
      expectRelative(studentQuantile(p, 4), Math.sign(p - 0.5) * Math.sqrt(q - 4), 1e-12);
    }
  });

  it('agrees with jstat on random probabilities and degrees of freedom, to what jstat keeps', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        fc.integer({ min: 1, max: 200 }),
        (p, nu) => {
          fc.pre(Math.abs(p - 0.5) > 1e-3);
          expectRelative(studentQuantile(p, nu), jStat.studentt.inv(p, nu), 1e-7, `t(${p}, ${nu})`);
        },
      ),
    );
  });

  it('is odd about one half, rises with the probability, and is zero in the middle', () => {
    expect(studentQuantile(0.5, 7)).toBe(0);
    fc.assert(
      fc.property(probability, dof, (p, nu) => {
        fc.pre(p > 1e-6 && p < 1 - 1e-6 && 1 - (1 - p) === p);
        expect(studentQuantile(1 - p, nu)).toBe(-studentQuantile(p, nu));
        expect(studentQuantile(p + (1 - p) * 1e-3, nu)).toBeGreaterThan(studentQuantile(p, nu));
      }),
    );
  });

  it('is unavailable outside its limits, and the formula says why', () => {
    for (const [p, nu] of [
      [0, 5],
      [1, 5],
      [-0.1, 5],
      [NaN, 5],
      [0.975, 0],
      [0.975, 0.5],
      [0.975, NaN],
      [0.975, Infinity],
    ] as const) {
      expect(studentQuantile(p, nu)).toBeNaN();
      expect(tQuantile.compute(p, nu)).toHaveProperty('fault');
    }
    expect(tQuantile.compute(95, 5)).toMatchObject({ fault: 'The probability must lie between 0 and 1.' });
    expect(tQuantile.compute(0.975, 0)).toMatchObject({
      fault: 'Student’s t needs at least 1 degree of freedom.',
    });
  });
});

describe('derivatives of the distribution', () => {
  it('have the closed forms at 2 degrees of freedom by t: density 1 / (2 + t²)^1.5 (Shaw, as above)', () => {
    for (const t of [-7, -0.3, 0, 1, 40]) expectRelative(studentDensity(t, 2), (2 + t * t) ** -1.5, 1e-13);
  });

  it('by the degrees of freedom agree with differences of the probability, in both its forms', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -12, max: 12, noNaN: true }),
        fc.double({ min: 1.1, max: 300, noNaN: true }),
        (t, nu) => {
          const once = (h: number) =>
            (studentProbability(t, nu + h) - studentProbability(t, nu - h)) / (2 * h);
          const h = 2e-3 * nu;
          const slope = once(h) + (once(h) - once(2 * h)) / 3;
          const found = studentProbabilityByDof(t, nu);
          expect(Math.abs(found - slope)).toBeLessThanOrEqual(1e-8 * Math.abs(slope) + 1e-13 / h);
        },
      ),
    );
  });

  it('in the tail keep their digits where the probability is 1 to rounding', () => {
    const tail = (nu: number) => studentProbability(-9, nu);
    for (const nu of [30, 120, 500]) {
      const h = 1e-4 * nu;
      const slope = (8 * (tail(nu + h) - tail(nu - h)) - (tail(nu + 2 * h) - tail(nu - 2 * h))) / (12 * h);
      expectRelative(studentProbabilityByDof(-9, nu), slope, 1e-8, `ν = ${nu}`);
      expect(studentProbabilityByDof(9, nu)).toBe(-studentProbabilityByDof(-9, nu));
    }
  });

  it('of a quantile agree with differences of jstat’s, to what jstat keeps', () => {
    const inverse = (p: number, nu: number) => jStat.studentt.inv(p, nu);
    for (const [p, nu] of [
      [0.975, 4],
      [0.975, 30],
      [0.9, 7.5],
      [0.05, 12],
    ] as const) {
      const { byProbability, byDof } = studentQuantileSlopes(studentQuantile(p, nu), nu);
      const [dp, dnu] = [1e-3 * Math.min(p, 1 - p), 2e-2 * nu];
      expectRelative(byProbability, (inverse(p + dp, nu) - inverse(p - dp, nu)) / (2 * dp), 1e-4);
      expectRelative(byDof, (inverse(p, nu + dnu) - inverse(p, nu - dnu)) / (2 * dnu), 2e-3);
    }
  });
});

describe('gammaHalfRatio', () => {
  it('has the known values at whole and half numbers', () => {
    expectRelative(gammaHalfRatio(0.5), 1 / Math.sqrt(Math.PI), 1e-14);
    expectRelative(gammaHalfRatio(1), Math.sqrt(Math.PI) / 2, 1e-14);
    expectRelative(gammaHalfRatio(3), (15 * Math.sqrt(Math.PI)) / 16, 1e-14);
  });

  it('satisfies r(z) r(z + ½) = z, on both sides of the switch to the series', () => {
    for (const z of [0.5, 3.2, 19.4, 19.6, 20, 250, 1e6]) {
      expectRelative(gammaHalfRatio(z) * gammaHalfRatio(z + 0.5), z, 1e-14, `z = ${z}`);
    }
  });
});

import fc from 'fast-check';
import jStat from 'jstat';
import { linearRegression, rSquared } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { straightLineFit } from '../../../src/trade/index.ts';
import { expectRelative, sound } from '../closeness.ts';

const measured = fc.double({ min: -1000, max: 1000, noNaN: true }).map((v) => Math.round(v * 1e3) / 1e3);
const cloud = fc
  .array(fc.tuple(measured, measured), { minLength: 4, maxLength: 40 })
  .filter((points) => new Set(points.map(([x]) => x)).size > 2 && new Set(points.map(([, y]) => y)).size > 2);

describe('straightLineFit', () => {
  it('agrees with simple-statistics and jstat on random points', () => {
    fc.assert(
      fc.property(cloud, (points) => {
        const x = points.map((p) => p[0]);
        const y = points.map((p) => p[1]);
        const spread = Math.max(...x) - Math.min(...x);
        // Both libraries use sums that are not centred: keep x wide, so that they keep their digits.
        fc.pre(spread > 200);
        const fit = sound(straightLineFit(x, y));
        const scale = Math.max(...y.map(Math.abs));
        const line = linearRegression(points);
        expect(Math.abs(fit.slope - line.m)).toBeLessThan((1e-7 * scale) / spread);
        expect(Math.abs(fit.intercept - line.b)).toBeLessThan(
          1e-7 * scale * (1 + Math.abs(fit.meanX) / spread),
        );
        expect(Math.abs(fit.rSquared - rSquared(points, (v) => line.b + line.m * v))).toBeLessThan(1e-7);
        const other = jStat.models.ols(
          y,
          x.map((value) => [1, value]),
        );
        expect(Math.abs(fit.slope - (other.coef[1] ?? NaN))).toBeLessThan((1e-6 * scale) / spread);
        expect(Math.abs(fit.rSquared - other.R2)).toBeLessThan(1e-6);
        if (fit.residualSd < 1e-6 * scale) return; // points on a line: rounding alone
        expectRelative(fit.seIntercept, other.t.se[0] ?? NaN, 1e-5, 'se of intercept');
        expectRelative(fit.seSlope, other.t.se[1] ?? NaN, 1e-5, 'se of slope');
      }),
    );
  });

  it('does not lose digits when x lies far from zero', () => {
    const x = [1, 2, 3, 4, 5, 6];
    const y = [3.014, 5.225, 7.004, 9.061, 11.201, 12.762];
    const near = sound(straightLineFit(x, y));
    const far = sound(
      straightLineFit(
        x.map((v) => v + 2 ** 30),
        y,
      ),
    );
    expectRelative(far.slope, near.slope, 1e-13);
    expectRelative(far.seSlope, near.seSlope, 1e-13);
    expectRelative(far.rSquared, near.rSquared, 1e-13);
  });

  it('has residuals that sum to nothing and leverages that sum to two', () => {
    fc.assert(
      fc.property(cloud, (points) => {
        const fit = sound(
          straightLineFit(
            points.map((p) => p[0]),
            points.map((p) => p[1]),
          ),
        );
        expect(Math.abs(fit.residuals.reduce((a, b) => a + b))).toBeLessThan(1e-9);
        expectRelative(
          fit.leverage.reduce((a, b) => a + b),
          2,
          1e-12,
        );
      }),
    );
  });

  it('studentizes a residual by the scatter of the fit without that point', () => {
    const x = [1, 2, 3, 4, 5, 6, 7];
    const y = [2.1, 3.9, 6.2, 7.8, 13, 12.1, 13.9];
    const fit = sound(straightLineFit(x, y));
    x.forEach((at, i) => {
      const without = sound(
        straightLineFit(
          x.filter((_, k) => k !== i),
          y.filter((_, k) => k !== i),
        ),
      );
      const off = (y[i] ?? NaN) - (without.intercept + without.slope * at);
      const distance = at - without.meanX;
      const se = without.residualSd * Math.sqrt(1 + 1 / 6 + (distance * distance) / without.sumSquaresX);
      expectRelative(fit.studentizedResiduals[i], off / se, 1e-11, `point ${i + 1}`);
    });
  });

  it('calls the one point off an exact line infinitely far, and says nothing of points that are all on it', () => {
    const off = sound(straightLineFit([1, 2, 3, 4, 5], [1, 2, 3, 5, 5]));
    expect(off.studentizedResiduals[3]).toBe(Infinity);
    const exact = sound(straightLineFit([1, 2, 3, 4, 5], [0.1, 0.2, 0.3, 0.4, 0.5]));
    expect(exact.studentizedResiduals.every(Number.isNaN)).toBe(true);
    expect(exact.residualSd).toBeLessThan(1e-15);
  });

  it('gives a line through two points and nothing about its scatter', () => {
    const fit = sound(straightLineFit([1, 3], [2, 8]));
    expect(fit).toMatchObject({ points: 2, slope: 3, intercept: -1, dof: 0 });
    for (const unknown of [fit.seSlope, fit.seIntercept, fit.covariance, fit.residualSd, fit.rSquared]) {
      expect(unknown).toBeNaN();
    }
    expect(fit.studentizedResiduals).toEqual([NaN, NaN]);
  });

  it('finds no r² where every y is the same', () => {
    expect(sound(straightLineFit([1, 2, 3], [4, 4, 4]))).toMatchObject({
      slope: 0,
      intercept: 4,
      rSquared: NaN,
    });
  });

  it('is a fault for one point, none, equal x, unequal lengths or a value that is no number', () => {
    expect(straightLineFit([1], [2])).toMatchObject({ fault: 'One point does not fix a line.' });
    expect(straightLineFit([], [])).toMatchObject({ fault: 'There are no points to fit.' });
    expect(straightLineFit([0.1 + 0.2, 0.3, 0.3], [1, 2, 3])).toMatchObject({
      fault: 'All x values are equal, so there is no slope.',
    });
    expect(straightLineFit([1, 2], [2])).toMatchObject({ fault: 'There are 2 x values and 1 y values.' });
    expect(straightLineFit([1, NaN], [2, 3])).toHaveProperty('fault');
    expect(straightLineFit([1e200, -1e200], [2, 3])).toHaveProperty('fault');
  });
});

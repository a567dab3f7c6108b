import { describe, expect, it } from 'vitest';
import { powerLawFitBothAxes, straightLineFit, yorkFit } from '../../src/trade/index.ts';
import { expectRelative, sound } from '../trade/closeness.ts';

describe('ISO/TS 28037:2010 example 3 (straight line, errors in both axes)', () => {
  const x = [1.2, 1.9, 2.9, 4.0, 4.7, 5.9];
  const y = [3.4, 4.4, 7.2, 8.5, 10.8, 13.5];
  const fit = sound(yorkFit(x, y, [0.2, 0.2, 0.2, 0.2, 0.2, 0.2], [0.2, 0.2, 0.2, 0.4, 0.4, 0.4]));

  it('gives the published line, to the digits published', () => {
    expect(fit.intercept).toBeCloseTo(0.5788, 4);
    expect(fit.seIntercept).toBeCloseTo(0.4764, 4);
    expect(fit.slope).toBeCloseTo(2.1597, 4);
    expect(fit.seSlope).toBeCloseTo(0.1355, 4);
    expect(fit.covariance).toBeCloseTo(-0.0577, 4);
    expect(fit.chiSquared).toBeCloseTo(2.743, 3);
  });

  it('gives the further digits computed with mpmath by the same equations', () => {
    expectRelative(fit.intercept, 0.5788221221495, 1e-11);
    expectRelative(fit.slope, 2.1596565673993, 1e-12);
    expectRelative(fit.seIntercept, 0.476420629622, 1e-11);
    expectRelative(fit.seSlope, 0.135547927468, 1e-11);
    expectRelative(fit.covariance, -0.0577169390985, 1e-11);
    expectRelative(fit.chiSquared, 2.742676789731, 1e-11);
  });
});

describe('Pearson’s data (1901) with York’s weights (1966)', () => {
  const x = [0.0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4];
  const y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5];
  const wx = [1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1];
  const wy = [1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500];
  const u = (weights: readonly number[]) => weights.map((w) => 1 / Math.sqrt(w));
  const fit = sound(yorkFit(x, y, u(wx), u(wy)));

  it('gives the published line', () => {
    expectRelative(fit.intercept, 5.479910224, 1e-9);
    expectRelative(fit.slope, -0.480533407, 1e-8);
    expectRelative(fit.seIntercept, 0.294970735, 1e-8);
    expectRelative(fit.seSlope, 0.057985009, 1e-8);
    expectRelative(fit.chiSquared / fit.dof, 1.483294149, 1e-9);
  });

  it('gives the further digits computed with mpmath at 40 digits', () => {
    expectRelative(fit.intercept, 5.4799102240329, 1e-12);
    expectRelative(fit.slope, -0.4805334074462, 1e-12);
    expectRelative(fit.seIntercept, 0.294970735493, 1e-11);
    expectRelative(fit.seSlope, 0.0579850090008, 1e-11);
    expectRelative(fit.covariance, -0.0164725446581, 1e-10);
    expectRelative(fit.chiSquared, 11.866353194061, 1e-12);
  });

  it('is not the line of equal weights (computed with mpmath)', () => {
    const plain = sound(straightLineFit(x, y));
    expectRelative(plain.slope, -0.53957727498404, 1e-12);
    expectRelative(plain.intercept, 5.761185190439, 1e-12);
    expectRelative(plain.seSlope, 0.0421265483887, 1e-11);
  });
});

describe('a power law with errors on both axes', () => {
  const p = [10, 15, 20, 25, 30, 40, 50, 60];
  const q = p.map((pressure) => (60 / 3600) * pressure ** 0.65);

  it('gives an exact power law back, whatever the errors', () => {
    const fit = sound(powerLawFitBothAxes(p, q, 0.3, 0.005));
    expectRelative(fit.exponent, 0.65, 1e-12);
    expectRelative(fit.flowCoefficient, 60 / 3600, 1e-12);
    expectRelative(fit.flow50, (60 / 3600) * 50 ** 0.65, 1e-12);
    expect(fit.reducedChiSquared).toBeLessThan(1e-15);
  });

  it('leaves out what has no logarithm, has no χ² for two points, and refuses errors of zero', () => {
    const two = sound(powerLawFitBothAxes([10, 40, -3], [0.1, 0.2, 0.1], 0.3, 0.005));
    expectRelative(two.exponent, 0.5, 1e-12);
    expect(two.reducedChiSquared).toBeNaN();
    expect(powerLawFitBothAxes(p, q, 0, 0.005)).toHaveProperty('fault');
    expect(sound(powerLawFitBothAxes([50], [0.1], 0.3, 0.005)).flow50).toBeNaN();
    expect(sound(powerLawFitBothAxes([], [], 0.3, 0.005)).flow50).toBeNaN();
  });
});

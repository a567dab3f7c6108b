import { describe, expect, it } from 'vitest';
import { studentQuantile } from '../../src/engine/index.ts';
import { lineStandardError, powerLawFit, straightLineFit } from '../../src/trade/index.ts';
import { expectRelative, sound } from '../trade/closeness.ts';

const numbers = (text: string) =>
  text
    .trim()
    .split(/[\s,]+/)
    .map(Number);

describe('NIST Statistical Reference Datasets, Norris (straight line, 36 points)', () => {
  const y =
    numbers(`0.1 338.8 118.1 888.0 9.2 228.1 668.5 998.5 449.1 778.9 559.2 0.3 0.1 778.1 668.8 339.3 448.9 10.8
    557.7 228.3 998.0 888.8 119.6 0.3 0.6 557.6 339.3 888.0 998.5 778.9 10.2 117.6 228.9 668.4 449.2 0.2`);
  const x =
    numbers(`0.2 337.4 118.2 884.6 10.1 226.5 666.3 996.3 448.6 777.0 558.2 0.4 0.6 775.5 666.9 338.0 447.5 11.6
    556.0 228.1 995.8 887.6 120.2 0.3 0.3 556.8 339.1 887.2 999.0 779.0 11.1 118.3 229.2 669.1 448.9 0.5`);
  const fit = sound(straightLineFit(x, y));

  it('gives the certified values to 1e-11', () => {
    expect(fit).toMatchObject({ points: 36, dof: 34 });
    expectRelative(fit.intercept, -0.262323073774029, 1e-11, 'B0');
    expectRelative(fit.slope, 1.00211681802045, 1e-11, 'B1');
    expectRelative(fit.seIntercept, 0.232818234301152, 1e-11, 'SD of B0');
    expectRelative(fit.seSlope, 0.000429796848199937, 1e-11, 'SD of B1');
    expectRelative(fit.residualSd, 0.884796396144373, 1e-11, 'residual SD');
    expectRelative(fit.rSquared, 0.999993745883712, 1e-11, 'r2');
    expectRelative(
      fit.residuals.reduce((sum, e) => sum + e * e, 0),
      26.6173985294224,
      1e-11,
      'residual SS',
    );
    expectRelative(fit.slope ** 2 * fit.sumSquaresX, 4255954.13232369, 1e-11, 'regression SS');
    expectRelative((fit.slope / fit.seSlope) ** 2, 5436385.54079785, 1e-11, 'F');
  });

  it('gives the covariance computed with mpmath at 40 digits, and R’s limits', () => {
    expectRelative(fit.covariance, -7.743275363156e-5, 1e-10, 'cov(B0, B1)');
    const t = studentQuantile(0.975, 34);
    expectRelative(fit.intercept - t * fit.seIntercept, -0.735466652102, 1e-11);
    expectRelative(fit.intercept + t * fit.seIntercept, 0.210820504553, 1e-11);
    expectRelative(fit.slope - t * fit.seSlope, 1.001243365736, 1e-11);
    expectRelative(fit.slope + t * fit.seSlope, 1.002990270305, 1e-11);
  });
});

describe('ISO/TS 28037:2010 example 5 (straight line, unknown common uncertainty of y)', () => {
  const fit = sound(straightLineFit([1, 2, 3, 4, 5, 6], [3.014, 5.225, 7.004, 9.061, 11.201, 12.762]));

  it('gives the published line', () => {
    expect(fit.intercept.toFixed(3)).toBe('1.172');
    expect(fit.seIntercept.toFixed(3)).toBe('0.159');
    expect(fit.slope.toFixed(3)).toBe('1.964');
    expect(fit.seSlope.toFixed(3)).toBe('0.041');
    expect(fit.covariance.toFixed(3)).toBe('-0.006');
  });

  it('gives the further digits computed from its data', () => {
    expectRelative(fit.intercept, 1.172, 1e-13);
    expectRelative(fit.seIntercept, 0.158875093196181, 1e-13);
    expectRelative(fit.slope, 1.96357142857143, 1e-13);
    expectRelative(fit.seSlope, 0.0407953578791729, 1e-13);
    expectRelative(fit.covariance, -0.00582491428571429, 1e-13);
    expectRelative(fit.residualSd, 0.170659226028, 1e-11);
    const t = studentQuantile(0.975, 4);
    expectRelative(fit.intercept - t * fit.seIntercept, 0.730892025158, 1e-11);
    expectRelative(fit.intercept + t * fit.seIntercept, 1.61310797484, 1e-11);
    expectRelative(fit.slope - t * fit.seSlope, 1.850305356873, 1e-11);
    expectRelative(fit.slope + t * fit.seSlope, 2.0768375, 1e-9);
    expectRelative(fit.intercept + 3.5 * fit.slope, 8.0445, 1e-13);
    expectRelative(lineStandardError(fit, 3.5), 0.0696713372779, 1e-11);
    expectRelative(Math.hypot(lineStandardError(fit, 3.5), fit.residualSd), 0.184333031947, 1e-11);
  });
});

describe('R package MASS, data set mammals (Weisberg, Applied Linear Regression, 2nd ed., 1985)', () => {
  const body =
    numbers(`3.385,0.48,1.35,465,36.33,27.66,14.83,1.04,4.19,0.425,0.101,0.92,1,0.005,0.06,3.5,2,1.7,2547,
    0.023,187.1,521,0.785,10,3.3,0.2,1.41,529,207,85,0.75,62,6654,3.5,6.8,35,4.05,0.12,0.023,0.01,1.4,250,2.5,55.5,100,
    52.16,10.55,0.55,60,3.6,4.288,0.28,0.075,0.122,0.048,192,3,160,0.9,1.62,0.104,4.235`);
  const brain =
    numbers(`44.5,15.5,8.1,423,119.5,115,98.2,5.5,58,6.4,4,5.7,6.6,0.14,1,10.8,12.3,6.3,4603,0.3,419,655,
    3.5,115,25.6,5,17.5,680,406,325,12.3,1320,5712,3.9,179,56,17,1,0.4,0.25,12.5,490,12.1,175,157,440,179.5,2.4,81,21,
    39.2,1.9,1.2,3,0.33,180,25,169,2.6,11.4,2.5,50.4`);

  it('gives the power law of brain on body mass, its limits and the prediction at 100 kg (computed with a general library)', () => {
    const fit = sound(powerLawFit(body, brain));
    expect(fit).toMatchObject({ points: 62, excluded: 0, dof: 60 });
    expectRelative(Math.log(fit.flowCoefficient), 2.134788676765, 1e-11, 'ln C');
    expectRelative(fit.flowCoefficient, 8.45525952525, 1e-11, 'C');
    expectRelative(fit.seLnCoefficient, 0.096043387987, 1e-10, 'SE of ln C');
    expectRelative(Math.log(fit.coefficientLow), 1.942673296955, 1e-11);
    expectRelative(Math.log(fit.coefficientHigh), 2.326904056574, 1e-11);
    expectRelative(fit.exponent, 0.751685936242, 1e-11, 'n');
    expectRelative(fit.seExponent, 0.028463559838, 1e-10, 'SE of n');
    expectRelative(fit.exponentLow, 0.694750339491, 1e-11);
    expectRelative(fit.exponentHigh, 0.808621532993, 1e-11);
    expectRelative(fit.residualSd, 0.694294731142, 1e-11);
    expectRelative(fit.rSquared, 0.920783716903, 1e-11);
    expectRelative(fit.t, 2.000297822014, 1e-11);

    const line = sound(straightLineFit(body.map(Math.log), brain.map(Math.log)));
    const at = line.intercept + line.slope * Math.log(100);
    const spread = fit.t * lineStandardError(line, Math.log(100));
    expectRelative(Math.exp(at), 269.462797884, 1e-11);
    expectRelative(Math.exp(at - spread), 208.52694224, 1e-11);
    expectRelative(Math.exp(at + spread), 348.205362163, 1e-11);
  });
});

describe('NIST Statistical Reference Datasets, DanWood (power law with certified nonlinear fit)', () => {
  const x = [1.309, 1.471, 1.49, 1.565, 1.611, 1.68];
  const y = [2.138, 3.421, 3.597, 4.34, 4.882, 5.66];
  const fit = sound(powerLawFit(x, y));

  it('gives R’s least squares on logarithms', () => {
    expectRelative(Math.log(fit.flowCoefficient), -0.287754945576, 1e-11);
    expectRelative(fit.flowCoefficient, 0.749945347148, 1e-11);
    expectRelative(fit.seLnCoefficient, 0.017883651379, 1e-10);
    expectRelative(fit.exponent, 3.917205636482, 1e-11);
    expectRelative(fit.seExponent, 0.042198765548, 1e-10);
    expectRelative(fit.residualSd, 0.008227996762, 1e-9);
    expectRelative(fit.rSquared, 0.999536013666, 1e-11);
    const line = sound(straightLineFit(x.map(Math.log), y.map(Math.log)));
    const at = line.intercept + line.slope * Math.log(1.5);
    const spread = fit.t * lineStandardError(line, Math.log(1.5));
    expectRelative(Math.exp(at), 3.67126122586, 1e-11);
    expectRelative(Math.exp(at - spread), 3.63687117873, 1e-11);
    expectRelative(Math.exp(at + spread), 3.70597646332, 1e-11);
  });

  it('is not the certified fit, which minimises residuals of y and not of ln y', () => {
    const certified = { b1: 0.76886226176, b2: 3.8604055871, rss: 4.3173084083e-3 };
    expect(Math.abs(fit.exponent / certified.b2 - 1)).toBeGreaterThan(0.01);
    expect(Math.abs(fit.flowCoefficient / certified.b1 - 1)).toBeGreaterThan(0.02);
    const rss = (c: number, n: number) => x.reduce((sum, v, i) => sum + ((y[i] ?? NaN) - c * v ** n) ** 2, 0);
    expectRelative(rss(certified.b1, certified.b2), certified.rss, 1e-9);
    expect(rss(fit.flowCoefficient, fit.exponent)).toBeGreaterThan(certified.rss);
  });
});

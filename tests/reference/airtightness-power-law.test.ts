import { describe, expect, it } from 'vitest';
import {
  airDensity,
  directionSign,
  envelopeFlowFactor,
  powerLawFit,
  powerLawFlow,
  powerLawFlowHigh,
  powerLawFlowLow,
  type PowerLawFit,
} from '../../src/trade/index.ts';
import { expectRelative, sound } from '../trade/closeness.ts';

const perHour = (flow: number) => flow / 3600;
const line = (fit: PowerLawFit) => [fit.flowCoefficient, fit.exponent] as const;
const scatter = (fit: PowerLawFit) => [fit.seLnCoefficient, fit.seExponent, fit.covariance, fit.dof] as const;

/** Standard error of ln flow, from the limits. */
function seLnFlow(fit: PowerLawFit, pressure: number): number {
  const low = sound(powerLawFlowLow(pressure, ...line(fit), ...scatter(fit)));
  const high = sound(powerLawFlowHigh(pressure, ...line(fit), ...scatter(fit)));
  return Math.log(high / low) / (2 * fit.t);
}

describe('exact power law, Q = 60 p^0.65 m³/h (constructed; no published source)', () => {
  const p = [10, 15, 20, 25, 30, 40, 50, 60];
  const q = [
    268.0101552906, 348.82738219, 420.5530118317, 486.1969790078, 547.3688339544, 659.9184108114,
    762.92483635, 858.9137656098,
  ];

  it('gives back coefficient and exponent, with limits that are numbers', () => {
    for (const flows of [p.map((v) => 60 * v ** 0.65), q]) {
      const fit = sound(powerLawFit(p, flows.map(perHour)));
      expectRelative(fit.flowCoefficient, perHour(60), 1e-12);
      expectRelative(fit.exponent, 0.65, 1e-12);
      expect(fit.residualSd).toBeLessThan(1e-12);
      expectRelative(fit.rSquared, 1, 1e-12);
      for (const value of Object.values(fit)) expect(value).not.toBeNaN();
      expectRelative(fit.flow50Low, fit.flow50, 1e-11);
      expectRelative(fit.flow50High, fit.flow50, 1e-11);
    }
  });
});

describe('a test in both directions with baselines (constructed; no published source, computed with a general library)', () => {
  const densityInside = sound(airDensity(273.15 + 20, 250));
  const densityOutside = sound(airDensity(273.15 + 4, 250));
  const tests = [
    {
      direction: 'depressurise',
      baselines: [-1.8, -2.2],
      house: [-62.4, -55.3, -48.1, -40.8, -33.9, -27.2, -20.3, -14.6],
      flow: [628.0, 577.5, 523.0, 466.0, 409.0, 350.5, 283.0, 221.0],
      induced: [60.4, 53.3, 46.1, 38.8, 31.9, 25.2, 18.3, 12.6],
      expected: {
        lnC: 3.710060236897,
        c: 40.8562675076,
        n: 0.665839174269,
        seN: 0.001103623524,
        seLnC: 0.003861838833,
        sd: 0.001588689688,
        r2: 0.999983516581,
        q50: 552.712737511,
        cEnvelope: 38.6252085311,
        q50Envelope: 522.530471982,
        low: 521.572726096,
        high: 523.489976543,
      },
    },
    {
      direction: 'pressurise',
      baselines: [-2.2, -1.6],
      house: [57.9, 51.2, 43.8, 36.7, 29.6, 23.1, 16.2, 10.4],
      flow: [574.0, 530.0, 478.0, 426.5, 369.5, 314.0, 252.5, 190.5],
      induced: [59.8, 53.1, 45.7, 38.6, 31.5, 25.0, 18.1, 12.3],
      expected: {
        lnC: 3.509276107407,
        c: 33.4240635923,
        n: 0.696019701985,
        seN: 0.00303325815,
        seLnC: 0.010584787515,
        sd: 0.004404067635,
        r2: 0.999886059678,
        q50: 508.833674403,
        cEnvelope: 35.3546954244,
        q50Envelope: 538.22478917,
        low: 535.477208819,
        high: 540.986467597,
      },
    },
  ];

  it.each(tests)('$direction: fan-flow line and envelope flow at 50 Pa', (test) => {
    const baseline = test.baselines.reduce((a, b) => a + b) / 2;
    const sign = sound(directionSign(test.direction));
    const induced = test.house.map((reading) => sign * (reading - baseline));
    induced.forEach((p, i) => {
      expectRelative(p, test.induced[i] ?? NaN, 1e-13);
    });

    const fit = sound(powerLawFit(induced, test.flow.map(perHour)));
    const { expected } = test;
    expectRelative(Math.log(3600 * fit.flowCoefficient), expected.lnC, 1e-11, 'ln C');
    expectRelative(3600 * fit.flowCoefficient, expected.c, 1e-11, 'C');
    expectRelative(fit.exponent, expected.n, 1e-11, 'n');
    expectRelative(fit.seExponent, expected.seN, 1e-9, 'SE of n');
    expectRelative(fit.seLnCoefficient, expected.seLnC, 1e-9, 'SE of ln C');
    expectRelative(fit.residualSd, expected.sd, 1e-9, 'residual SD');
    expectRelative(fit.rSquared, expected.r2, 1e-11, 'r2');
    expectRelative(3600 * fit.flow50, expected.q50, 1e-11, 'Q50');

    const factor = sound(envelopeFlowFactor(test.direction, densityInside, densityOutside));
    expectRelative(3600 * factor * fit.flowCoefficient, expected.cEnvelope, 1e-10, 'envelope C');
    expectRelative(3600 * factor * fit.flow50, expected.q50Envelope, 1e-10, 'envelope Q50');
    expectRelative(3600 * factor * fit.flow50Low, expected.low, 1e-10, 'lower limit');
    expectRelative(3600 * factor * fit.flow50High, expected.high, 1e-10, 'upper limit');
  });

  it('has the densities of both sides', () => {
    expectRelative(densityInside, 1.169416595, 1e-9);
    expectRelative(densityOutside, 1.2369641239, 1e-9);
  });
});

describe('a retest whose fitted lines cross (constructed; no published source, computed with a general library)', () => {
  const p = [15, 20, 25, 30, 35, 40, 50, 60];
  const before = sound(powerLawFit(p, [233.9, 279.0, 325.1, 363.5, 404.2, 441.7, 507.1, 571.5].map(perHour)));
  const after = sound(powerLawFit(p, [243.1, 289.9, 329.0, 363.8, 397.0, 432.9, 492.2, 544.4].map(perHour)));

  it.each([
    [
      'before',
      before,
      3.698209773995,
      40.3749593203,
      0.647333031937,
      508.055903156,
      99.0479331246,
      0.002148232224,
      0.007107511104,
    ],
    [
      'after',
      after,
      3.924806679172,
      50.6432867103,
      0.580618271652,
      490.879517223,
      113.263222796,
      0.002229021918,
      0.007374806994,
    ],
  ] as const)(
    '%s: line, flows at 50 and 4 Pa and their standard errors',
    (_, fit, lnC, c, n, q50, q4, se50, se4) => {
      expectRelative(Math.log(3600 * fit.flowCoefficient), lnC, 1e-11);
      expectRelative(3600 * fit.flowCoefficient, c, 1e-11);
      expectRelative(fit.exponent, n, 1e-11);
      expectRelative(3600 * fit.flow50, q50, 1e-11);
      expectRelative(3600 * sound(powerLawFlow(4, ...line(fit))), q4, 1e-11);
      expectRelative(seLnFlow(fit, 50), se50, 1e-9);
      expectRelative(seLnFlow(fit, 4), se4, 1e-9);
    },
  );

  it('crosses near 30 Pa: less leakage at 50 Pa, more at 4 Pa', () => {
    const crossing =
      (before.flowCoefficient / after.flowCoefficient) ** (1 / (after.exponent - before.exponent));
    expectRelative(crossing, 29.8595083145, 1e-10);
    expectRelative(1 - after.flow50 / before.flow50, 0.0338080629, 1e-8);
    const at4 = (fit: PowerLawFit) => sound(powerLawFlow(4, ...line(fit)));
    expectRelative(at4(after) / at4(before) - 1, 0.1435192964, 1e-8);
  });
});

describe('two points, from the PowerLaw example of the Modelica IBPSA library', () => {
  // 1 Pa and 50 Pa, 0.12/3600 and 1.2/3600; that library rounds the line to 3.33e-5 and 0.59.
  const fit = sound(powerLawFit([1, 50], [perHour(0.12), perHour(1.2)]));

  it('has the published line', () => {
    expect(fit.exponent.toFixed(2)).toBe('0.59');
    expect(fit.flowCoefficient.toExponential(2)).toBe('3.33e-5');
    expectRelative(fit.exponent, 0.588591910067779, 1e-14);
    expectRelative(fit.flowCoefficient, 1 / 30000, 1e-14);
  });

  it('has no scatter, limits or r²: unavailable, neither 0 nor 1', () => {
    const { seLnCoefficient, seExponent, covariance, residualSd, rSquared, t, flow50Low, flow50High } = fit;
    const { coefficientLow, coefficientHigh, exponentLow, exponentHigh } = fit;
    expect(fit.dof).toBe(0);
    for (const value of [
      seLnCoefficient,
      seExponent,
      covariance,
      residualSd,
      rSquared,
      t,
      flow50Low,
      flow50High,
    ]) {
      expect(value).toBeNaN();
    }
    for (const value of [coefficientLow, coefficientHigh, exponentLow, exponentHigh]) expect(value).toBeNaN();
  });
});

describe('flow with the covariance of coefficient and exponent (invented readings, no published source; computed two ways)', () => {
  const fit = sound(
    powerLawFit([15, 20, 25, 30, 40, 50, 60], [410, 492, 566, 640, 771, 889, 1001].map(perHour)),
  );

  it('has the line, its standard errors and their correlation', () => {
    expectRelative(3600 * fit.flowCoefficient, 71.24483, 1e-7);
    expectRelative(fit.exponent, 0.64525236, 1e-8);
    expectRelative(fit.seExponent, 0.00202695, 1e-6);
    expectRelative(fit.seLnCoefficient, 0.00701791, 1e-6);
    expectRelative(fit.covariance / (fit.seLnCoefficient * fit.seExponent), -0.99105, 1e-5);
    expect(fit.dof).toBe(5);
  });

  it.each([
    [4, 174.2746, 0.7406, 1.3174],
    [10, 314.779, 0.7782, 2.653],
    [35, 706.4264, 0.6853, 7.106],
    [50, 889.2375, 1.2021, 9.4162],
  ])(
    'at %d Pa: the flow, its uncertainty, and the larger one without the covariance',
    (p, flow, u, uIndependent) => {
      const fitted = 3600 * sound(powerLawFlow(p, ...line(fit)));
      expectRelative(fitted, flow, 5e-7);
      expect(fitted * seLnFlow(fit, p)).toBeCloseTo(u, 4);
      const independent = sound(
        powerLawFlowHigh(p, ...line(fit), fit.seLnCoefficient, fit.seExponent, 0, fit.dof),
      );
      expect((fitted * Math.log((3600 * independent) / fitted)) / fit.t).toBeCloseTo(uIndependent, 4);
    },
  );

  it('has a pivot where the flow does not correlate with the exponent', () => {
    expectRelative(fit.pivotPressure, 30.91682, 1e-7);
    expectRelative(3600 * fit.pivotFlow, 652.08631, 1e-8);
    // With 40 digits 0.611014995.
    expectRelative(3600 * fit.pivotFlow * fit.seLnPivotFlow, 0.611014995, 1e-8);
    // ln Q0 = ln C + n ln p0, so its covariance with n is cov(ln C, n) + var(n) ln p0.
    const covariance = fit.covariance + fit.seExponent ** 2 * Math.log(fit.pivotPressure);
    expect(Math.abs(covariance)).toBeLessThan(1e-18);
    for (const p of [4, 10, 35, 50]) {
      const fromPivot = Math.hypot(fit.seLnPivotFlow, Math.log(p / fit.pivotPressure) * fit.seExponent);
      expectRelative(seLnFlow(fit, p), fromPivot, 1e-11);
    }
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  airDensity,
  airViscosity,
  directionSign,
  envelopeFlowFactor,
  fanFlow,
  fanReadingStatus,
  pointResidual,
  pointStatus,
  powerLawFit,
  powerLawFlow,
  powerLawFlowHigh,
  powerLawFlowLow,
  tradeFunctions,
} from '../../../src/trade/index.ts';
import { expectRelative, sound } from '../closeness.ts';
import { plain } from '../plain.ts';

describe('fanFlow', () => {
  it('is the calibration’s power law', () => {
    expectRelative(fanFlow(164.6, 52.4, 0.503), 52.4 * 164.6 ** 0.503, 1e-15);
    expectRelative(fanFlow(1, 52.4, 0.503), 52.4, 1e-15);
  });

  it('refuses a fan pressure that is zero, negative or missing, and an empty calibration', () => {
    expect(plain(fanFlow(0, 52.4, 0.5))).toEqual({
      fault: 'The fan pressure is 0 Pa; a flow can be read only above 0 Pa.',
      suggestion: 'Type the fan pressure as a positive number, or leave the reading out.',
    });
    expect(plain(fanFlow(-12.5, 52.4, 0.5))).toMatchObject({
      fault: 'The fan pressure is −12.5 Pa; a flow can be read only above 0 Pa.',
    });
    expect(plain(fanFlow(NaN, 52.4, 0.5))).toMatchObject({ fault: 'The fan pressure is missing.' });
    expect(fanFlow(20, 0, 0.5)).toHaveProperty('fault');
    expect(fanFlow(20, 52.4, -0.5)).toHaveProperty('fault');
    expect(fanFlow(1e300, 52.4, 5)).toHaveProperty('fault');
  });
});

describe('fanReadingStatus', () => {
  it('warns under and over the limits of a range and is silent on and between them', () => {
    expect(plain(fanReadingStatus(22.4, 25, 300))).toBe('22.4 Pa is under this range’s 25 Pa');
    expect(plain(fanReadingStatus(310, 25, 300))).toBe('310 Pa is over this range’s 300 Pa');
    for (const inside of [25, 25 - 1e-12, 100, 300, 300 + 1e-10])
      expect(plain(fanReadingStatus(inside, 25, 300))).toBe('');
    expect(plain(fanReadingStatus(1000, 25, NaN))).toBe('');
  });

  it('refuses limits the wrong way round', () => {
    expect(plain(fanReadingStatus(50, 300, 25))).toMatchObject({
      fault: 'This range’s lowest fan pressure, 300 Pa, is above its highest, 25 Pa.',
    });
  });
});

describe('directionSign', () => {
  it('makes a valid induced pressure positive in both directions, in either spelling', () => {
    const induced = (direction: string, house: number, baseline: number) =>
      sound(directionSign(direction)) * (house - baseline);
    expectRelative(induced('depressurise', -62.4, -2), 60.4, 1e-14);
    expectRelative(induced('pressurise', 57.9, -1.9), 59.8, 1e-14);
    expect(directionSign('depressurize')).toBe(-1);
    expect(directionSign(' Pressurize ')).toBe(1);
  });

  it('asks for a direction where the text is none', () => {
    expect(directionSign('sideways')).toEqual({
      fault: '“sideways” is not a direction of a test.',
      suggestion: 'Write depressurise (air is drawn out) or pressurise (air is blown in).',
    });
    expect(directionSign('')).toMatchObject({ fault: 'The direction of the test is missing.' });
    expect(envelopeFlowFactor('', 1.2, 1.2)).toHaveProperty('fault');
  });
});

describe('pointStatus', () => {
  it('is empty for a point of the fit and gives the reason for any other', () => {
    expect(plain(pointStatus(12.3, 0.05))).toBe('');
    expect(plain(pointStatus(-2.4 + 2, 0.05))).toBe(
      'induced pressure −0.4 Pa is not above zero: check sign, direction and baseline',
    );
    expect(plain(pointStatus(0, 0))).toBe(
      'induced pressure 0 Pa is not above zero: check sign, direction and baseline',
    );
    expect(plain(pointStatus(12.3, 0))).toBe('flow is zero: check the fan reading and its range');
    expect(plain(pointStatus(12.3, -1))).toBe('flow is negative: check the fan reading and its range');
    expect(plain(pointStatus(NaN, 1))).toBe('no induced pressure');
    expect(plain(pointStatus(12.3, NaN))).toBe('no flow');
  });

  it('names exactly the points that the fit leaves out', () => {
    const any = fc.oneof(fc.double(), fc.constantFrom(0, -0, NaN, Infinity, 5));
    fc.assert(
      fc.property(any, any, (p, q) => {
        const fit = powerLawFit([10, 20, p], [0.1, 0.2, q]);
        fc.pre(!('fault' in fit));
        expect(pointStatus(p, q) !== '').toBe((fit as { excluded: number }).excluded === 1);
      }),
    );
  });
});

describe('power law away from the readings', () => {
  it('agrees with the fit at 50 Pa, and has limits that hold between them the flow', () => {
    const fit = sound(
      powerLawFit([15, 20, 25, 30, 40, 50, 60], [0.41, 0.492, 0.566, 0.64, 0.771, 0.889, 1.001]),
    );
    const scatter = [fit.seLnCoefficient, fit.seExponent, fit.covariance, fit.dof] as const;
    const line = [fit.flowCoefficient, fit.exponent] as const;
    expectRelative(powerLawFlow(50, ...line), fit.flow50, 1e-14);
    expectRelative(powerLawFlowLow(50, ...line, ...scatter), fit.flow50Low, 1e-12);
    expectRelative(powerLawFlowHigh(50, ...line, ...scatter), fit.flow50High, 1e-12);
    expectRelative(powerLawFlowLow(1, ...line, ...scatter), fit.coefficientLow, 1e-14);
    expectRelative(powerLawFlowHigh(1, ...line, ...scatter), fit.coefficientHigh, 1e-14);
  });

  it('has no limits where the fit has no scatter', () => {
    expect(powerLawFlowLow(50, 0.1, 0.5, NaN, NaN, NaN, 0)).toBeNaN();
    expect(powerLawFlowHigh(50, 0.1, 0.5, NaN, NaN, NaN, 0)).toBeNaN();
  });

  it('keeps its limits on the line for readings exactly on it', () => {
    const p = [10, 20, 30, 40, 50];
    const fit = sound(
      powerLawFit(
        p,
        p.map((v) => 0.06 * v ** 0.65),
      ),
    );
    for (const at of [4, 10, 25.118, 50, 75]) {
      const flow = sound(powerLawFlow(at, 0.06, 0.65));
      for (const limit of [powerLawFlowLow, powerLawFlowHigh]) {
        const { flowCoefficient, exponent, seLnCoefficient, seExponent, covariance, dof } = fit;
        expectRelative(
          limit(at, flowCoefficient, exponent, seLnCoefficient, seExponent, covariance, dof),
          flow,
          1e-12,
        );
      }
    }
  });

  it('refuses a pressure not above zero and scatter that cannot be one fit’s', () => {
    expect(plain(powerLawFlow(0, 0.1, 0.5))).toMatchObject({
      fault: 'The pressure is 0 Pa; a power law holds only above 0 Pa.',
    });
    expect(powerLawFlowLow(-1, 0.1, 0.5, 0.01, 0.003, -2e-5, 5)).toHaveProperty('fault');
    expect(plain(powerLawFlowLow(50, 0.1, 0.5, 0.01, 0.003, -9e-4, 5))).toMatchObject({
      fault: 'These standard errors and this covariance cannot belong to one fit.',
    });
  });

  it('tells how far a reading lies off the line, and nothing of a reading that is left out', () => {
    expectRelative(pointResidual(25, 0.097, 0.02, 0.5), -0.03, 1e-12);
    expect(pointResidual(-25, 0.1, 0.02, 0.5)).toBeNaN();
    expect(pointResidual(25, 0, 0.02, 0.5)).toBeNaN();
  });
});

describe('air', () => {
  it('refuses a slip of unit in a temperature and an elevation no site has', () => {
    expect(plain(airDensity(273.15 + 68, 0))).toEqual({
      fault: '154.4 °F is no temperature of the air at a test.',
      suggestion: 'Check the unit: 68 degF is 20 degC.',
    });
    expect(plain(airViscosity(20.15))).toMatchObject({
      fault: '−423.4 °F is no temperature of the air at a test.',
    });
    expect(plain(airViscosity(NaN))).toMatchObject({ fault: 'The air temperature is missing.' });
    expect(airDensity(293.15, 20_000)).toHaveProperty('fault');
    expect(airDensity(293.15, NaN)).toHaveProperty('fault');
    expect(envelopeFlowFactor('pressurise', 0, 1.2)).toHaveProperty('fault');
  });
});

describe('every trade function', () => {
  it('answers any numbers with a value or a fault, never an exception or an infinity', () => {
    const number = fc.oneof(fc.double(), fc.constantFrom(0, -0, 1, -1, 50, NaN, Infinity, -Infinity, 293.15));
    for (const { name, parameters, compute } of tradeFunctions) {
      const values = parameters.map((parameter): fc.Arbitrary<unknown> => {
        const one: fc.Arbitrary<unknown> =
          parameter.type.kind === 'text'
            ? fc.oneof(fc.string(), fc.constantFrom('depressurise', 'pressurise'))
            : parameter.type.kind === 'logical'
              ? fc.boolean()
              : number;
        return parameter.column ? fc.array(one, { maxLength: 8 }) : one;
      });
      fc.assert(
        fc.property(fc.tuple(...values), (given) => {
          const result = compute(...(given as never[]));
          expect(['number', 'string', 'object'], name).toContain(typeof result);
          for (const value of typeof result === 'object' ? Object.values(result) : [result]) {
            if (typeof value === 'number') expect(Math.abs(value), name).not.toBe(Infinity);
          }
        }),
        { numRuns: 300 },
      );
    }
  });
});

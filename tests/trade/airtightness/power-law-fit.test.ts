import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { powerLawFit } from '../../../src/trade/index.ts';
import { powerLawFitFunction } from '../../../src/trade/airtightness/power-law-fit.ts';
import { expectRelative, sound } from '../closeness.ts';

const pressures = [60.4, 53.3, 46.1, 38.8, 31.9, 25.2, 18.3, 12.6];
const flows = [0.1744, 0.1604, 0.1453, 0.1294, 0.1136, 0.0974, 0.0786, 0.0614];

/** A test as readings come: any exponent and size, scatter of some percent, at distinct pressures. */
const reading = fc.tuple(
  fc.double({ min: 5, max: 100, noNaN: true }),
  fc.double({ min: -0.05, max: 0.05, noNaN: true }),
);
const test = fc
  .tuple(
    fc.double({ min: 0.001, max: 1, noNaN: true }),
    fc.double({ min: 0.45, max: 1, noNaN: true }),
    fc.array(reading, { minLength: 4, maxLength: 30 }),
  )
  .map(([c, n, readings]) => ({
    p: readings.map(([p]) => p),
    q: readings.map(([p, noise]) => c * p ** n * (1 + noise)),
  }))
  .filter(({ p }) => Math.max(...p) / Math.min(...p) > 1.5);

const anyNumber = fc.oneof(
  fc.double(),
  fc.double({ min: -100, max: 100 }),
  fc.constantFrom(0, -0, NaN, Infinity, -Infinity, 50, 1e-320, 1e308),
);

describe('powerLawFit', () => {
  it('scales the coefficient and leaves the exponent when every flow is scaled', () => {
    fc.assert(
      fc.property(test, fc.double({ min: 1e-3, max: 1e3, noNaN: true }), ({ p, q }, k) => {
        const one = sound(powerLawFit(p, q));
        const other = sound(
          powerLawFit(
            p,
            q.map((flow) => flow * k),
          ),
        );
        expectRelative(other.flowCoefficient, one.flowCoefficient * k, 1e-11);
        expectRelative(other.flow50High, one.flow50High * k, 1e-11);
        expectRelative(other.exponent, one.exponent, 1e-11);
        expect(Math.abs(other.seExponent - one.seExponent)).toBeLessThan(1e-12);
      }),
    );
  });

  it('leaves the exponent when every pressure is scaled, and divides the coefficient by that to the exponent', () => {
    fc.assert(
      fc.property(test, fc.double({ min: 0.01, max: 100, noNaN: true }), ({ p, q }, k) => {
        const one = sound(powerLawFit(p, q));
        const other = sound(
          powerLawFit(
            p.map((pressure) => pressure * k),
            q,
          ),
        );
        expectRelative(other.exponent, one.exponent, 1e-10);
        expectRelative(other.flowCoefficient, one.flowCoefficient * k ** -one.exponent, 1e-10);
        expect(Math.abs(other.residualSd - one.residualSd)).toBeLessThan(1e-12);
        expectRelative(other.pivotFlow, one.pivotFlow, 1e-12);
      }),
    );
  });

  it('does not depend on the order of the readings', () => {
    fc.assert(
      fc.property(test, fc.infiniteStream(fc.nat()), ({ p, q }, keys) => {
        const order = p.map((_, i) => ({ i, key: Number(keys.next().value) })).sort((a, b) => a.key - b.key);
        const one = sound(powerLawFit(p, q));
        const other = sound(
          powerLawFit(
            order.map(({ i }) => p[i] ?? NaN),
            order.map(({ i }) => q[i] ?? NaN),
          ),
        );
        for (const field of ['flowCoefficient', 'exponent', 'flow50', 'flow50Low', 'flow50High'] as const) {
          expectRelative(other[field], one[field], 1e-12, field);
        }
        expect(Math.abs(other.rSquared - one.rSquared)).toBeLessThan(1e-12);
      }),
    );
  });

  it('never throws, and gives a fault or finite values with limits the right way round', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(anyNumber, anyNumber), { maxLength: 12 }), (points) => {
        const fit = powerLawFit(
          points.map((p) => p[0]),
          points.map((p) => p[1]),
        );
        if (points.length === 0) return;
        if ('fault' in fit) {
          expect(fit.fault.length).toBeGreaterThan(10);
          return;
        }
        expect(fit.points + fit.excluded).toBe(points.length);
        expect(Number.isFinite(fit.flowCoefficient) && Number.isFinite(fit.exponent)).toBe(true);
        for (const value of Object.values(fit)) expect(Math.abs(value as number)).not.toBe(Infinity);
        expect(fit.coefficientLow > fit.coefficientHigh).toBe(false);
        expect(fit.exponentLow > fit.exponentHigh).toBe(false);
        expect(fit.flow50Low > fit.flow50High).toBe(false);
      }),
      { numRuns: 500 },
    );
  });

  it('knows nothing and complains of nothing before the first reading', () => {
    const { points, excluded, ...rest } = sound(powerLawFit([], []));
    expect({ points, excluded }).toEqual({ points: 0, excluded: 0 });
    for (const value of Object.values(rest)) expect(value).toBeNaN();
  });

  it('leaves out readings with pressure or flow not above zero, as if they had not been typed', () => {
    const clean = sound(powerLawFit(pressures, flows));
    const fit = sound(powerLawFit([...pressures, -3, 0, 40, 45, NaN], [...flows, 0.1, 0.1, 0, -0.1, 0.1]));
    expect(fit).toEqual({ ...clean, excluded: 5 });
    expect(clean.excluded).toBe(0);
  });

  it('gives two readings a line and no limits', () => {
    const fit = powerLawFitFunction.compute([10, 40], [0.1, 0.2]);
    expect(fit).toMatchObject({ points: 2, excluded: 0, dof: 0 });
    const record = fit as Record<string, number>;
    expectRelative(record.exponent, 0.5, 1e-14);
    const known = [
      'flow_coefficient',
      'exponent',
      'points',
      'excluded',
      'dof',
      'pivot_pressure',
      'pivot_flow',
      'sum_squares',
      'flow50',
    ];
    for (const [field, value] of Object.entries(record)) {
      expect(Number.isNaN(value), field).toBe(!known.includes(field));
    }
  });

  it('says what to do when no line can be drawn', () => {
    expect(powerLawFit([50], [0.2])).toEqual({
      fault: 'Only one reading can be used.',
      suggestion: 'A line needs two readings at different house pressures; three or more give limits.',
    });
    expect(powerLawFit([50, -2, 0], [0.2, 0.1, 0.1])).toMatchObject({
      fault: 'Only one reading can be used; left out because pressure or flow is not above zero: 2 readings.',
    });
    expect(powerLawFit([-2], [0.1])).toMatchObject({
      fault: 'No reading can be used; left out because pressure or flow is not above zero: one reading.',
    });
    expect(powerLawFit([50.3 - 0.3, 50, 49.8 + 0.2], [0.2, 0.21, 0.19])).toEqual({
      fault: 'All readings have the same induced pressure, so there is no slope to fit.',
      suggestion: 'Take readings at different house pressures, for instance every 5 to 10 Pa.',
    });
    expect(powerLawFit([50, 40, 30], [0.2, 0.15])).toMatchObject({
      fault: 'There are 3 pressures and 2 flows.',
    });
    expect(powerLawFit([50, 50.001], [1e-9, 1e9])).toMatchObject({
      fault: 'The fitted line is too steep to be a power law.',
    });
  });
});

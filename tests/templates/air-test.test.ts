import { beforeEach, describe, expect, test } from 'vitest';
import { expectRelative } from '../trade/closeness.ts';
import { Open } from './open.ts';

let air: Open;
beforeEach(() => {
  air = new Open('air-test.json');
});

const HEADING = 'house pressure (Pa),measured flow (m3/h)';

function readings(points: readonly (readonly [number | string, number | string])[]): string {
  return [HEADING, ...points.map(([p, q]) => `${p},${q}`)].join('\n');
}

function pairs(p: readonly number[], q: readonly number[]): [number, number][] {
  return p.map((pressure, i) => [pressure, q[i] ?? NaN]);
}

// Q = 60 m³/h · (p / 1 Pa)^0.65, thirteen digits: an exact power law, so the fit has to give 60 and 0.65 back.
const EXACT = pairs(
  [10, 15, 20, 25, 30, 40, 50, 60],
  [
    268.0101552906, 348.82738219, 420.5530118317, 486.1969790078, 547.3688339544, 659.9184108114,
    762.92483635, 858.9137656098,
  ],
);

// A constructed test in both directions: 20 °C indoors, 4 °C outdoors, 250 m, 600 m³, 480 m², 220 m². Expected values
// by ordinary least squares of ln flow on ln pressure, computed with NumPy and statsmodels.
const DIRECTIONS = [
  {
    test: 'depressurised',
    direction: 'depressurise',
    before: '-1.8 Pa',
    after: '-2.2 Pa',
    points: pairs(
      [-62.4, -55.3, -48.1, -40.8, -33.9, -27.2, -20.3, -14.6],
      [628, 577.5, 523, 466, 409, 350.5, 283, 221],
    ),
    induced: [60.4, 53.3, 46.1, 38.8, 31.9, 25.2, 18.3, 12.6],
    fan: { coefficient: 40.8562675076, flow50: 552.712737511 },
    exponent: 0.665839174269,
    seExponent: 0.001103623524,
    seLnCoefficient: 0.003861838833,
    rSquared: 0.999983516581,
    envelope: { coefficient: 38.6252085311, flow50: 522.530471982, low: 521.572726096, high: 523.489976543 },
  },
  {
    test: 'pressurised',
    direction: 'pressurise',
    before: '-2.2 Pa',
    after: '-1.6 Pa',
    points: pairs(
      [57.9, 51.2, 43.8, 36.7, 29.6, 23.1, 16.2, 10.4],
      [574, 530, 478, 426.5, 369.5, 314, 252.5, 190.5],
    ),
    induced: [59.8, 53.1, 45.7, 38.6, 31.5, 25, 18.1, 12.3],
    fan: { coefficient: 33.4240635923, flow50: 508.833674403 },
    exponent: 0.696019701985,
    seExponent: 0.00303325815,
    seLnCoefficient: 0.010584787515,
    rSquared: 0.999886059678,
    envelope: { coefficient: 35.3546954244, flow50: 538.22478917, low: 535.477208819, high: 540.986467597 },
  },
] as const;

describe('an exact power law', () => {
  beforeEach(() => {
    air.import('readings', readings(EXACT));
    air.type('building_volume', '500 m3');
  });

  test('comes back, with limits that are numbers', () => {
    expectRelative(air.number('flow_coefficient', 'm3/h'), 60, 1e-11);
    expectRelative(air.number('pressure_exponent', ''), 0.65, 1e-11);
    expectRelative(air.number('r_squared', ''), 1, 1e-12);
    expectRelative(air.number('q50', 'm3/h'), 762.92483635, 1e-11);
    expectRelative(air.number('q50_low', 'm3/h'), 762.92483635, 1e-10);
    expectRelative(air.number('q50_high', 'm3/h'), 762.92483635, 1e-10);
    expectRelative(air.number('ach50', '1/h'), 762.92483635 / 500, 1e-11);
  });

  test('same conditions on both sides, no baseline: no correction', () => {
    expectRelative(air.at('tests.flow_factor', 'first', ''), 1, 1e-14);
    expect(air.at('tests.baseline', 'first', 'Pa')).toBe(0);
  });

  test('imported rows belong to the test shown', () => {
    expect(air.rowsOf('first')).toHaveLength(8);
  });

  test('the sign of the house pressures may be that of the direction or none', () => {
    air.import('readings', readings(EXACT.map(([p, q]) => [-p, q])));
    expectRelative(air.number('flow_coefficient', 'm3/h'), 60, 1e-11);
  });

  test('through the calibration of a fan instead of flows', () => {
    // 10 m³/h · (p / 1 Pa)^0.5, so p = (flow / 10)².
    air.import(
      'fan_ranges',
      'range,coefficient (m3/h),exponent,lowest fan pressure (Pa),highest fan pressure (Pa)\nA,10,0.5,20,300\nB,100,0.5,20,300',
    );
    const fan = EXACT.map(([p, q], i) => [p, (q / (i < 2 ? 10 : 100)) ** 2, i < 2 ? 'A' : 'B'].join());
    air.import('readings', ['house pressure (Pa),fan pressure (Pa),range', ...fan].join('\n'));
    expectRelative(air.number('flow_coefficient', 'm3/h'), 60, 1e-10);
    expectRelative(air.number('pressure_exponent', ''), 0.65, 1e-10);
    const checks = EXACT.map((_, row) => air.textAt('readings.fan_check', row));
    expect(checks[0]).toBe('718.294 Pa is over this range’s 300 Pa');
    expect(checks[2]).toBe('17.6865 Pa is under this range’s 20 Pa');
    expect(checks.slice(3)).toEqual(['', '', '', '', '']);
  });
});

describe.each(DIRECTIONS)('$test, with baselines and temperatures', (set) => {
  function conditions(indoor: string, outdoor: string): void {
    air.enter('tests', 'first', 'direction', set.direction);
    air.enter('tests', 'first', 'baseline_before', set.before);
    air.enter('tests', 'first', 'baseline_after', set.after);
    air.enter('tests', 'first', 'indoor_temperature', indoor);
    air.enter('tests', 'first', 'outdoor_temperature', outdoor);
    air.type('site_elevation', '250 m');
    air.import('readings', readings(set.points));
  }

  test('on the flow at the fan', () => {
    conditions('20 degC', '20 degC');
    set.induced.forEach((p, row) => {
      expectRelative(air.at('readings.induced_pressure', row, 'Pa'), p, 1e-13);
    });
    expectRelative(air.number('flow_coefficient', 'm3/h'), set.fan.coefficient, 1e-11);
    expectRelative(air.number('pressure_exponent', ''), set.exponent, 1e-11);
    expectRelative(air.number('q50', 'm3/h'), set.fan.flow50, 1e-11);
    expectRelative(air.number('r_squared', ''), set.rSquared, 1e-11);
    expectRelative(air.number('shown_fit.se_exponent', ''), set.seExponent, 1e-9);
    expectRelative(air.number('shown_fit.se_ln_coefficient', ''), set.seLnCoefficient, 1e-9);
    expect(air.textAt('tests.check', 'first')).toBe('');
  });

  test('on the flow through the envelope', () => {
    conditions('20 degC', '4 degC');
    air.type('building_volume', '600 m3');
    air.type('envelope_area', '480 m2');
    air.type('floor_area', '220 m2');
    expectRelative(air.at('tests.density_indoors', 'first', 'kg/m3'), 1.169416595, 1e-10);
    expectRelative(air.at('tests.density_outdoors', 'first', 'kg/m3'), 1.2369641239, 1e-10);
    expectRelative(air.number('flow_coefficient', 'm3/h'), set.envelope.coefficient, 1e-10);
    expectRelative(air.number('q50', 'm3/h'), set.envelope.flow50, 1e-10);
    expectRelative(air.number('q50_low', 'm3/h'), set.envelope.low, 1e-10);
    expectRelative(air.number('q50_high', 'm3/h'), set.envelope.high, 1e-10);
    expectRelative(air.number('ach50', '1/h'), set.envelope.flow50 / 600, 1e-10);
    expectRelative(air.number('permeability50', 'm3/(h m2)'), set.envelope.flow50 / 480, 1e-10);
    expectRelative(air.number('flow_per_floor50', 'm3/(h m2)'), set.envelope.flow50 / 220, 1e-10);
  });
});

describe('points that cannot be used, and too few of them', () => {
  test('zero and negative pressures and flows are left out, each with its reason beside it', () => {
    air.import(
      'readings',
      readings([...EXACT, [0, 100], [-12, 100], [35, 0], [35, -5], ['', 300], [35, '']]),
    );
    expectRelative(air.number('pressure_exponent', ''), 0.65, 1e-11);
    expect(air.at('tests.points', 'first', '')).toBe(8);
    const reasons = Array.from({ length: 14 }, (_, row) => air.textAt('readings.reason', row));
    expect(reasons.slice(0, 8)).toEqual(Array.from({ length: 8 }, () => ''));
    expect(reasons.slice(8, 12)).toEqual([
      'induced pressure 0 Pa is not above zero: check sign, direction and baseline',
      'induced pressure −12 Pa is not above zero: check sign, direction and baseline',
      'flow is zero: check the fan reading and its range',
      'flow is negative: check the fan reading and its range',
    ]);
    expect(air.workbook.faults()).toEqual([]);
  });

  test('two points: a line, and no interval', () => {
    air.import('readings', readings(EXACT.slice(0, 2)));
    expectRelative(air.number('pressure_exponent', ''), 0.65, 1e-10);
    expectRelative(air.number('q50', 'm3/h'), 762.92483635, 1e-10);
    for (const name of ['q50_low', 'q50_high', 'ach50_low'])
      expect(air.state(name).state, name).toBe('blank');
    expect(air.workbook.faults()).toEqual([]);
  });

  test('one point: a fault that says what is missing, where the fit is; the rest waits for it', () => {
    air.import('readings', readings(EXACT.slice(0, 1)));
    expect(air.stateAt('tests.fit', 'first')).toMatchObject({
      state: 'fault',
      fault: 'Only one reading can be used.',
    });
    expect(air.state('q50').state).toBe('waiting');
    expect(air.state('ach50').state).not.toBe('value');
  });

  test('equal pressures: a fault, not an infinite exponent', () => {
    air.import(
      'readings',
      readings([
        [50, 700],
        [50, 710],
        [50, 705],
      ]),
    );
    expect(air.stateAt('tests.fit', 'first')).toMatchObject({
      state: 'fault',
      fault: 'All readings have the same induced pressure, so there is no slope to fit.',
    });
    expect(air.state('pressure_exponent').state).toBe('waiting');
  });

  test('no readings yet: nothing is wrong, and nothing is shown as zero', () => {
    for (const name of ['flow_coefficient', 'pressure_exponent', 'q50', 'ach50', 'margin_ach50'])
      expect(air.state(name).state, name).toBe('blank');
    expect(air.workbook.faults()).toEqual([]);
  });
});

describe('against a target', () => {
  beforeEach(() => {
    air.import('readings', readings(EXACT));
    air.type('building_volume', '500 m3');
  });

  test.each([
    ['2', 'met'],
    ['1', 'not met'],
  ])('target %s: %s', (target, verdict) => {
    air.type('target_ach50', target);
    expectRelative(air.number('margin_ach50', '1/h'), Number(target) - 762.92483635 / 500, 1e-9);
    expect(air.text('verdict_ach50')).toBe(verdict);
  });
});

test('two fits whose lines do not cross say so, and not that something is not typed', () => {
  const crossing = new Open('juniper-hollow.json').workbook.state('retest_crossing');
  expect(crossing).toMatchObject({ state: 'blank', reason: 'they do not cross within reach of a test' });
});

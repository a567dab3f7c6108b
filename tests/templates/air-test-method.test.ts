import { beforeEach, describe, expect, test } from 'vitest';
import { expectRelative } from '../trade/closeness.ts';
import { Open } from './open.ts';

let air: Open;
beforeEach(() => {
  air = new Open('air-test.json');
});

const HEADING = 'house pressure (Pa),measured flow (cfm)';
function readings(points: readonly (readonly [number | string, number | string])[]): void {
  air.import('readings', [HEADING, ...points.map((point) => point.join())].join('\n'));
}
const law = (p: number, q50 = 500) => q50 * (Math.abs(p) / 50) ** 0.65;
const points = (...pressures: number[]) => readings(pressures.map((p) => [p, law(p)]));
const outcome = (requirement: string) => air.textAt('method_checks.outcome', requirement);

describe('the checklist of the method', () => {
  test('before the first reading: unknown, neither pass nor fail', () => {
    for (const requirement of ['lowest pressure', 'highest pressure', 'largest step of pressure', 'wind'])
      expect(outcome(requirement), requirement).toBe('unknown');
    expect(outcome('r²')).toBe('not asked');
    expect(air.workbook.faults()).toEqual([]);
  });

  test('each requirement by its limit, and its memory marked', () => {
    points(-60, -50, -40, -30, -15);
    expect(outcome('points')).toBe('pass');
    expect(outcome('lowest pressure')).toBe('pass');
    expect(outcome('highest pressure')).toBe('pass');
    expect(outcome('largest step of pressure')).toBe('fail');
    expect(outcome('exponent')).toBe('pass');
    expect(outcome('directions')).toBe('fail');
    expect(outcome('baselines read')).toBe('fail');
    expect(air.textAt('method_checks.said', 'largest step of pressure')).toBe(
      'fail (limit from memory: check)',
    );
    expect(air.textAt('method_checks.said', 'highest pressure')).toBe('pass');
    expect(air.text('method_verdict')).toBe(
      'directions, largest step of pressure, baselines read, preparation left',
    );
  });

  test('another method has other limits; a limit typed over takes effect', () => {
    points(-60, -50, -40, -30, -15);
    air.type('test_method', 'ISO 9972');
    expect(outcome('directions')).toBe('pass');
    expect(outcome('r²')).toBe('pass');
    const limit = air.rowWhere('method_limits', { method: 'ISO 9972', requirement: 'r²' });
    air.enter('method_limits', limit, 'at_least', '1.5');
    expect(outcome('r²')).toBe('fail');
  });

  test('temperature difference 25 K × height 9 m = 225: fails 200 (ASTM E779), passes 250 (ISO 9972); both from memory', () => {
    air.enter('tests', 'first', 'indoor_temperature', '20 degC');
    air.enter('tests', 'first', 'outdoor_temperature', '-5 degC');
    air.type('test_height', '9 m');
    expectRelative(air.number('stack_product', 'm K'), 225, 1e-12);
    expect(outcome('temperature difference × height')).toBe('fail');
    air.type('test_method', 'ISO 9972');
    expect(outcome('temperature difference × height')).toBe('pass');
  });

  test('baseline 4.99 Pa: lowest test pressure about 25 Pa, and 25 to 60 in steps of 5 comply (note on ISO 9972 in Denmark, AIVC)', () => {
    air.type('test_method', 'ISO 9972');
    air.enter('tests', 'first', 'baseline_before', '4.99 Pa');
    air.enter('tests', 'first', 'baseline_after', '4.99 Pa');
    expectRelative(air.number('plan_lowest', 'Pa'), 24.95, 1e-12);
    points(...[25, 30, 35, 40, 45, 50, 55, 60].map((p) => p + 4.99));
    expect(outcome('baseline over lowest pressure')).toBe('pass');
    expect(outcome('size of the baseline')).toBe('pass');
    points(...[20, 30, 35, 40, 45, 50, 55, 60].map((p) => p + 4.99));
    expect(outcome('baseline over lowest pressure')).toBe('fail');
  });

  test('without a baseline, or without a reading, nothing passes for want of it', () => {
    air.type('test_method', 'ISO 9972');
    expect(outcome('fan pressures out of range')).toBe('unknown');
    expect(outcome('size of the baseline')).toBe('unknown');
    points(-60, -50, -40, -30, -20);
    expect(outcome('fan pressures out of range')).toBe('pass');
    expect(outcome('baseline over lowest pressure')).toBe('unknown');
    air.enter('tests', 'first', 'baseline_before', '0 Pa');
    expect(outcome('size of the baseline')).toBe('pass');
    expect(outcome('baseline over lowest pressure')).toBe('pass');
  });

  test('what can be known before starting is told apart', () => {
    expect(air.text('start_verdict')).toContain('preparation left');
    expect(air.text('start_unknown')).toContain('wind');
    air.enter('tests', 'first', 'wind_speed', '9 mph');
    expect(air.text('start_verdict')).toContain('wind');
  });
});

describe('typing point by point', () => {
  test('the next point, the live fit after three, enough points', () => {
    expect(air.text('point_hint')).toBe('Start at about −60 Pa on the house gauge; 0 of at least 5 points.');
    points(-60);
    expect(air.text('point_hint')).toBe('Next at about −50 Pa on the house gauge; 1 of at least 5 points.');
    expect(air.text('point_alarm')).toBe('four points are needed to tell');
    points(-60, -50, -40);
    expectRelative(air.number('q50', 'cfm'), 500, 1e-10);
    expect(air.state('q50_low').state).toBe('value');
    points(-60, -50, -40, -30, -20, -10);
    expect(air.text('point_hint')).toBe('Enough points: 6, from 10 to 60 Pa.');
    expect(air.text('point_alarm')).toBe('none');
  });

  test('a point far off is named at once, with what would change; leaving it out is typed, and is recorded', () => {
    const noise = [1.004, 0.997, 1.002, 1.12, 0.998, 1.003, 0.999];
    readings([-60, -52, -44, -36, -28, -20, -12].map((p, i) => [p, law(p) * (noise[i] ?? 1)]));
    expect(air.text('point_alarm')).toContain('the point at 36 Pa looks off (studentised residual');
    expect(air.textAt('readings.point_check', 3)).toContain('without it the flow at 50 Pa would be');
    const exponent = air.at('readings.without.exponent', 3, '');
    const change = air.at('readings.without.flow50_change', 3, '');
    const before = air.number('q50', 'cfm');
    expect(air.number('shown_points', '')).toBe(7);
    air.enter('readings', 3, 'left_out', 'gust');
    expect(air.number('shown_points', '')).toBe(6);
    expect(air.number('shown_left_out', '')).toBe(1);
    expect(air.text('left_out_reasons')).toBe('gust');
    expectRelative(air.number('pressure_exponent', ''), exponent, 1e-10);
    expectRelative(air.number('q50', 'cfm'), before * (1 + change), 1e-10);
    expect(air.text('point_alarm')).toBe('none');
  });
});

describe('what cannot be right', () => {
  test('a fan pressure that gives no flow is no point yet, and its row says what to type', () => {
    const fan = (...pressures: number[]) =>
      air.import(
        'readings',
        ['house pressure (Pa),fan pressure (Pa)', ...pressures.map((p) => `${p},${-p}`)].join('\n'),
      );
    fan(-60, -50, -40, -30, -20);
    expect(air.textAt('readings.flow_check', 0)).toBe(
      'no flow: type the fan’s ranges on “Fan”, or the flow itself',
    );
    expect(air.text('point_hint')).toBe('Start at about −60 Pa on the house gauge; 0 of at least 5 points.');
    expect(air.text('point_alarm')).toBe('four points are needed to tell');
    air.import('fan_ranges', 'range\nopen');
    expect(air.textAt('readings.flow_check', 0)).toBe('no flow: choose a range, or type the flow');
    air.enter('readings', 0, 'fan_range', 'open');
    expect(air.textAt('readings.flow_check', 0)).toContain('lacks its calibration');
    air.enter('fan_ranges', 0, 'coefficient', '50 cfm');
    air.enter('fan_ranges', 0, 'exponent', '0.5');
    expect(air.textAt('readings.flow_check', 0)).toBe('');
    air.enter('readings', 1, 'measured_flow', '300 cfm');
    expect(air.textAt('readings.flow_check', 1)).toBe('');
    expect(air.text('point_hint')).toContain('2 of at least 5 points');
  });

  test('a missing baseline counts as none, and the checklist says so', () => {
    points(-60, -50, -40, -30, -20);
    expect(air.at('tests.baseline', 'first', 'Pa')).toBe(0);
    expect(outcome('baselines read')).toBe('fail');
  });

  test('one point, then equal pressures: a fault where the fit is; the checklist still knows the rest', () => {
    points(-50);
    expect(air.stateAt('tests.fit', 'first')).toMatchObject({ fault: 'Only one reading can be used.' });
    expect(outcome('points')).toBe('fail');
    expect(outcome('highest pressure')).toBe('pass');
    expect(air.workbook.faults()).toHaveLength(1);
    points(-50, -50, -50);
    expect(air.stateAt('tests.fit', 'first').state).toBe('fault');
    expect(air.workbook.faults()).toHaveLength(1);
  });

  test('two points: a line, no interval, no fault anywhere', () => {
    points(-50, -25);
    expectRelative(air.number('q50', 'cfm'), 500, 1e-10);
    expect(air.state('q50_low').state).toBe('blank');
    expect(air.workbook.faults()).toEqual([]);
  });

  test('negative flows are left out, each with its reason, and counted', () => {
    readings([-60, -50, -40, -30].map((p, i) => [p, i === 1 ? -400 : law(p)]));
    expect(air.textAt('readings.reason', 1)).toBe('flow is negative: check the fan reading and its range');
    expect(air.number('shown_left_out', '')).toBe(1);
    expectRelative(air.number('q50', 'cfm'), 500, 1e-10);
  });

  test('a fan pressure outside its range is flagged at its row and in the checklist, and still used', () => {
    air.import(
      'fan_ranges',
      'range,coefficient (cfm),exponent,lowest fan pressure (Pa),highest fan pressure (Pa)\nA,50,0.5,25,300',
    );
    air.import(
      'readings',
      'house pressure (Pa),fan pressure (Pa),range\n-60,120,A\n-50,95,A\n-40,71,A\n-30,49,A\n-12,15,A',
    );
    expect(air.textAt('readings.fan_check', 4)).toBe('15 Pa is under this range’s 25 Pa');
    expect(outcome('fan pressures out of range')).toBe('fail');
    expect(air.number('shown_points', '')).toBe(5);
  });

  test('mixed units in one table: each value is read in its own unit', () => {
    readings([
      [-60, `${law(60)}`],
      ['-0.2 inH2O', `${law(0.2 * 249.08891) * 1.69901079552} m3/h`],
      [-40, `${law(40) * 0.4719474432} L/s`],
      ['-0.03 kPa', `${law(30)}`],
    ]);
    expectRelative(air.number('q50', 'cfm'), 500, 1e-6);
    expectRelative(air.number('pressure_exponent', ''), 0.65, 1e-5);
  });

  test('a value of another kind is told at its row, and nothing is lost', () => {
    points(-60, -50, -40);
    air.enter('readings', 2, 'measured_flow', '500 Pa');
    expect(air.stateAt('readings.measured_flow', 2)).toMatchObject({
      state: 'fault',
      fault: "'500 Pa' is a pressure; this entry is a volume flow",
    });
    expect(air.workbook.faults()).toHaveLength(1);
    air.enter('readings', 2, 'measured_flow', String(law(40)));
    expectRelative(air.number('q50', 'cfm'), 500, 1e-10);
  });

  test('500 points: fitted, none looks off', () => {
    readings(
      Array.from({ length: 500 }, (_, i) => [
        -(10 + i / 10),
        law(10 + i / 10) * (1 + 0.003 * Math.sin(i * 7)),
      ]),
    );
    expect(air.number('shown_points', '')).toBe(500);
    expectRelative(air.number('q50', 'cfm'), 500, 1e-3);
    expect(air.text('point_alarm')).toBe('none');
  });
});

describe('targets', () => {
  beforeEach(() => {
    points(-60, -50, -40, -30, -20);
    air.type('building_volume', '20000 ft3');
    air.type('envelope_area', '5000 ft2');
    air.type('floor_area', '2000 ft2');
  });

  test('an “at most” target is met on equality, before any uncertainty', () => {
    air.type('target_ach50', '1.5');
    expectRelative(air.at('targets.allowed_q50', 0, 'cfm'), 500, 1e-12);
    expect(Math.abs(air.at('targets.spare_flow', 0, 'cfm'))).toBeLessThan(1e-6);
  });

  test('in any metric: each is the same flow at 50 Pa', () => {
    const ela = (500 * 54.9567423) / 1000;
    const eqla = (500 * 0.66579144) / (5000 * 0.09290304);
    const rows: readonly (readonly [string, number])[] = [
      ['air changes an hour at 50 Pa', 1.5],
      ['cfm/ft2 of envelope at 50 Pa', 0.1],
      ['cfm/ft2 of envelope at 75 Pa', 0.1 * 1.3015453904],
      ['m3/(h m2) of envelope at 50 Pa', 1.8288],
      ['m3/(h m2) of envelope at 4 Pa', 1.8288 * 0.1936459826],
      ['L/(s m2) of envelope at 50 Pa', 0.508],
      ['cfm/ft2 of floor at 50 Pa', 0.25],
      ['m3/(h m2) of floor at 50 Pa', 4.572],
      ['cfm at 50 Pa', 500],
      ['m3/h at 50 Pa', 849.50539776],
      ['in2 of leakage area at 4 Pa', ela],
      ['cm2 of leakage area at 4 Pa', ela * 6.4516],
      ['cm2/m2 of envelope at 10 Pa', eqla],
    ];
    air.import(
      'targets',
      ['target,measured in,limit', ...rows.map(([metric, limit], i) => `t${i},${metric},${limit}`)].join(
        '\n',
      ),
    );
    rows.forEach(([metric], row) => {
      expectRelative(air.at('targets.allowed_q50', row, 'cfm'), 500, 1e-7, metric);
    });
  });

  test('margin in flow, percent and area, with interval and chance; targets that disagree are said so', () => {
    air.import(
      'targets',
      'target,measured in,limit,source\ncode,air changes an hour at 50 Pa,3,code\nprogramme,cfm/ft2 of envelope at 50 Pa,0.06,contract',
    );
    expectRelative(air.at('targets.spare_flow', 'code', 'cfm'), 500, 1e-9);
    expectRelative(air.at('targets.spare_part', 'code', ''), 0.5, 1e-9);
    expectRelative(air.at('targets.spare_area', 'code', 'in2'), 500 / 7.599278, 1e-6);
    expectRelative(air.at('targets.spare_flow', 'programme', 'cfm'), -200, 1e-9);
    expect(air.at('targets.spare_low', 'code', 'cfm')).toBeLessThan(500);
    expect(air.at('targets.spare_high', 'code', 'cfm')).toBeGreaterThan(500);
    expect(air.at('targets.chance_met', 'code', '')).toBeGreaterThan(0.999);
    expect(air.at('targets.chance_met', 'programme', '')).toBeLessThan(0.001);
    expect(air.text('targets_say')).toBe('the targets disagree: one is met, another is not');
    expect(air.text('targets_not_met')).toBe('programme');
    expectRelative(air.number('allowed_flow50', 'cfm'), 300, 1e-9);
  });

  test('one large hole is asked about when much has to go, or the exponent is that of a hole', () => {
    expect(air.text('large_hole')).toBe('');
    air.type('target_ach50', '1.4');
    expect(air.text('large_hole')).toBe('nothing points to one');
    air.type('large_hole_area', '2 in2');
    expect(air.text('large_hole')).toContain('as large as a hatch');
    readings([-60, -50, -40, -30, -20].map((p) => [p, 500 * (Math.abs(p) / 50) ** 0.51]));
    expect(air.text('large_hole')).toContain('plain hole');
  });
});

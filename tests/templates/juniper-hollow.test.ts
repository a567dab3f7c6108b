import { beforeEach, describe, expect, test } from 'vitest';
import { normalProbability } from '../../src/engine/index.ts';
import { expectRelative } from '../trade/closeness.ts';
import expected from './juniper-hollow-expected.json' with { type: 'json' };
import { Open } from './open.ts';

// Expected values: NumPy and SciPy on the same invented data, 10 significant digits. Densities, flow factor and fit by
// the formulas that tests/reference holds against published sources.
const TOLERANCE = 2e-9;
const tests = Object.entries(expected.tests);

let house: Open;
beforeEach(() => {
  house = new Open('juniper-hollow.json');
});

test('sizes at the air barrier', () => {
  const { geometry } = expected;
  for (const [name, unit, value] of [
    ['floor_area', 'ft2', geometry.conditioned_floor_area_ft2],
    ['building_volume', 'ft3', geometry.conditioned_volume_ft3],
    ['envelope_area', 'ft2', geometry.envelope_area_ft2],
    ['slab_area', 'ft2', geometry.slab_area_ft2],
    ['flat_ceiling_area', 'ft2', geometry.flat_ceiling_area_ft2],
    ['vault_roof_area', 'ft2', geometry.vault_roof_area_ft2],
    ['wall_area', 'ft2', geometry.wall_area_gross_ft2],
  ] as const)
    expectRelative(house.number(name, unit), value, TOLERANCE, name);
  expect(house.number('building_volume', 'ft3')).toBeCloseTo(25732.4167, 4);
  expect(house.number('envelope_area', 'ft2')).toBeCloseTo(6100.0584, 4);
});

describe.each(tests)('%s', (name, results) => {
  test('its row in the table of tests', () => {
    for (const [column, unit, value] of [
      ['points', '', results.N],
      ['baseline', 'Pa', results.mean_baseline_pa],
      ['density_indoors', 'kg/m3', results.density_in],
      ['density_outdoors', 'kg/m3', results.density_out],
      ['flow_factor', '', results.flow_factor],
      ['flow_coefficient', 'cfm', results.C_envelope],
      ['pressure_exponent', '', results.n],
      ['r_squared', '', results.r2],
      ['fit.exponent_low', '', results.n_low],
      ['fit.exponent_high', '', results.n_high],
      ['q50', 'cfm', results.q50_envelope_cfm],
      ['q50_low', 'cfm', results.q50_envelope_low],
      ['q50_high', 'cfm', results.q50_envelope_high],
      ['ach50', '1/h', results.ach50_corrected],
    ] as const)
      expectRelative(house.at(`tests.${column}`, name, unit), value, TOLERANCE, column);
    expect(house.textAt('tests.check', name)).toBe('');
  });

  test('its readings', () => {
    const rows = house.rowsOf(name);
    expect(rows).toHaveLength(results.N);
    rows.forEach((row, i) => {
      const induced = results.induced_pressure_pa[i] ?? NaN;
      expectRelative(house.at('readings.induced_pressure', row, 'Pa'), induced, 1e-12, `reading ${i + 1}`);
      const flow = results.fan_flow_cfm[i] ?? NaN;
      expectRelative(house.at('readings.flow', row, 'cfm'), flow, 1e-9, `reading ${i + 1}`);
      expect(house.textAt('readings.reason', row)).toBe('');
    });
    const flagged = rows.flatMap((row, i) => (house.textAt('readings.fan_check', row) === '' ? [] : [i + 1]));
    expect(flagged).toEqual(results.readings_outside_fan_limits);
  });

  test('its results when it is shown, and its verdicts', () => {
    house.type('shown_test', name);
    for (const [cell, unit, value] of [
      ['flow_coefficient', 'cfm', results.C_envelope],
      ['pressure_exponent', '', results.n],
      ['r_squared', '', results.r2],
      ['q50', 'cfm', results.q50_envelope_cfm],
      ['q50_low', 'cfm', results.q50_envelope_low],
      ['q50_high', 'cfm', results.q50_envelope_high],
      ['ach50', '1/h', results.ach50_corrected],
      ['ach50_low', '1/h', results.ach50_corrected_low],
      ['ach50_high', '1/h', results.ach50_corrected_high],
      ['permeability50', 'cfm/ft2', results.per_envelope_corrected],
    ] as const)
      expectRelative(house.number(cell, unit), value, TOLERANCE, cell);
    for (const [kind, unit, verdict] of [
      ['ach50', '1/h', results.verdict_ach50],
      ['permeability50', 'cfm/ft2', results.verdict_per_envelope],
    ] as const) {
      const margin = house.number(`margin_${kind}`, unit);
      expectRelative(margin, house.number(`target_${kind}`, unit) - house.number(kind, unit), 1e-9, kind);
      expect(margin >= 0 ? 'pass' : 'fail', kind).toBe(verdict);
      // The chance that the margin is truly above zero; a verdict only where that is 19 in 20, either way.
      const state = house.state(`margin_${kind}`);
      const half = state.state === 'value' ? (state.plusMinus ?? NaN) : NaN;
      const chance = house.number(`chance_${kind}`, '');
      const z = (state.state === 'value' ? Number(state.value) : NaN) / half;
      expect(Math.abs(chance - normalProbability(z))).toBeLessThan(0.02);
      expect(house.text(`verdict_${kind}`)).toBe(
        chance >= 0.95 ? 'met' : chance <= 0.05 ? 'not met' : 'too close to call',
      );
    }
  });

  test('raw flow, the density correction left out', () => {
    for (const column of ['indoor_temperature', 'outdoor_temperature'])
      house.enter('tests', name, column, '68');
    house.type('shown_test', name);
    expectRelative(house.number('q50', 'cfm'), results.q50_fan_cfm, TOLERANCE);
    expectRelative(house.number('ach50', '1/h'), results.ach50_raw, TOLERANCE);
    expectRelative(house.number('permeability50', 'cfm/ft2'), results.per_envelope_raw, TOLERANCE);
    expect(house.number('margin_permeability50', 'cfm/ft2') >= 0 ? 'pass' : 'fail').toBe(
      results.verdict_per_envelope_if_uncorrected,
    );
  });
});

describe('at standard air, density and viscosity', () => {
  test.each([
    ['membrane up', 0.9940939552, 74.19982709, 811.3830067, 1.891893056],
    ['before board, first', 0.99449952, 48.28045393, 576.9100261, 1.345174921],
    ['sealed, depressurised', 0.9936402765, 35.02223662, 438.5606946, 1.022587269],
    ['sealed, pressurised', 0.9866277498, 33.70472837, 443.0347932, 1.033019476],
    ['practice', 0.9952635866, 51.42083137, 574.2529143, 1.338979362],
  ] as const)('%s', (name, factor, coefficient, flow, changes) => {
    const found = house.at('tests.e779_factor', name, '');
    expectRelative(found, factor, TOLERANCE);
    expectRelative(house.at('tests.flow_coefficient', name, 'cfm') * found, coefficient, TOLERANCE);
    expectRelative(house.at('tests.q50', name, 'cfm') * found, flow, TOLERANCE);
    expectRelative(house.at('tests.ach50', name, '1/h') * found, changes, TOLERANCE);
    // And as the worksheet says it, once the method asks for standard air.
    house.type('shown_test', name);
    house.type('test_method', 'ASTM E779');
    house.type('flow_conditions', 'standard air');
    expectRelative(house.number('standard_coefficient', 'cfm'), coefficient, TOLERANCE);
    expectRelative(house.number('q50', 'cfm'), flow, TOLERANCE);
    expectRelative(house.number('ach50', '1/h'), changes, TOLERANCE);
  });
});

test('after sealing: the mean of both directions meets the first target and misses the second', () => {
  const mean = expected.sealed_mean;
  for (const [name, unit, value] of [
    ['sealed_q50', 'cfm', mean.q50_envelope_cfm],
    ['sealed_ach50', '1/h', mean.ach50_corrected],
    ['sealed_permeability50', 'cfm/ft2', mean.per_envelope_corrected],
    ['sealed_spread', '%', mean.spread_percent],
    ['spare_first_target', 'cfm', mean.margin_ach50_cfm],
    ['spare_second_target', 'cfm', mean.margin_per_envelope_cfm],
  ] as const)
    // The two flows to spare are small differences of large numbers.
    expectRelative(house.number(name, unit), value, 5e-8, name);
  expect(house.number('sealed_q50', 'cfm')).toBeCloseTo(445.2036, 4);
  expect(house.number('sealed_ach50', '1/h')).toBeCloseTo(1.03808, 5);
  expect(house.number('sealed_permeability50', 'cfm/ft2')).toBeCloseTo(0.072983, 6);
  expect(house.number('spare_first_target', 'cfm')).toBeCloseTo(69.44, 2);
  expect(house.number('spare_second_target', 'cfm')).toBeCloseTo(-18.2, 2);
});

describe('traps', () => {
  const slip = expected.practice_slip;

  test('a typing slip: r² says nothing, the point far off the line says it', () => {
    const rows = house.rowsOf('practice');
    const slipped = rows[slip.row - 1] ?? NaN;
    expect(house.at('readings.fan_pressure', slipped, 'Pa')).toBe(slip.typed_fan_pressure_pa);
    expect(house.at('tests.r_squared', 'practice', '')).toBeGreaterThan(0.99);
    const off = rows.map((row) => Math.abs(house.at('readings.off_line', row, '%')));
    const rest = off.filter((_, i) => i !== slip.row - 1);
    expect(off[slip.row - 1]).toBeGreaterThan(5);
    expect(off[slip.row - 1]).toBeGreaterThan(2 * Math.max(...rest));
  });

  test('the slip put right, and the slip left out with its reason beside it', () => {
    const slipped = house.rowsOf('practice')[slip.row - 1] ?? NaN;
    const check = (results: Record<string, number>) => {
      for (const [column, unit, field] of [
        ['points', '', 'N'],
        ['flow_coefficient', 'cfm', 'C_envelope'],
        ['pressure_exponent', '', 'n'],
        ['q50', 'cfm', 'q50_envelope_cfm'],
        ['q50_low', 'cfm', 'q50_envelope_low'],
        ['q50_high', 'cfm', 'q50_envelope_high'],
        ['ach50', '1/h', 'ach50_corrected'],
      ] as const)
        expectRelative(
          house.at(`tests.${column}`, 'practice', unit),
          results[field] ?? NaN,
          TOLERANCE,
          column,
        );
    };
    house.enter('readings', slipped, 'left_out', 'digits changed places');
    check(expected.practice_without_the_slip);
    expect(house.textAt('readings.reason', slipped)).toBe('digits changed places');
    house.enter('readings', slipped, 'left_out', '');
    house.enter('readings', slipped, 'fan_pressure', String(slip.true_fan_pressure_pa));
    check(expected.practice_with_the_true_reading);
  });

  test('a fan reading outside its limits is flagged, and still used', () => {
    const ninth = house.rowsOf('before board, first')[8] ?? NaN;
    expect(house.textAt('readings.fan_check', ninth)).toBe('22.4 Pa is under this range’s 25 Pa');
    expect(house.textAt('readings.reason', ninth)).toBe('');
    expect(house.at('tests.points', 'before board, first', '')).toBe(9);
  });

  test('a reading on the other side of the baseline is left out with its reason', () => {
    const [first = NaN] = house.rowsOf('membrane up');
    house.enter('readings', first, 'house_pressure', '63.6');
    expect(house.textAt('readings.reason', first)).toBe(
      'induced pressure −65.2 Pa is not above zero: check sign, direction and baseline',
    );
    expect(house.at('tests.points', 'membrane up', '')).toBe(8);
  });

  test('pressures and direction of different signs are asked about', () => {
    house.enter('tests', 'membrane up', 'direction', 'pressurise');
    expect(house.textAt('tests.check', 'membrane up')).toContain('different signs');
  });
});

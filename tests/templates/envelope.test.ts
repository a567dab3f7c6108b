/** Heat and moisture of the Juniper Hollow envelope, held against values computed outside with NumPy and SciPy. */
import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { newJob, readWorkbook, Workbook } from '../../src/workbook/index.ts';
import { Open, templateText } from './open.ts';

interface Expected {
  readonly heat: Readonly<Record<string, number>> & {
    readonly ua_by_surface: Readonly<Record<string, number>>;
  };
  readonly moisture: Readonly<Record<string, number>> & {
    readonly membrane_dry: Readonly<Record<string, number>>;
    readonly membrane_humid: Readonly<Record<string, number>>;
  };
}
const { heat, moisture } = JSON.parse(
  readFileSync(new URL('./juniper-hollow-house.json', import.meta.url), 'utf8'),
) as Expected;

let house: Open;
beforeEach(() => {
  house = new Open('juniper-hollow.json');
});

function expectClose(found: number, wanted: number | undefined, tolerance = 1e-9): void {
  expect(Math.abs(found / (wanted ?? NaN) - 1)).toBeLessThan(tolerance);
}
const SHEATHING_INNER_FACE = 7;

describe('heat', () => {
  test('the wall’s R and U, and the conductance of every surface', () => {
    expectClose(house.at('assemblies.r_total', 'double_wall', 'h ft2 degF/Btu'), heat.wall_r_total);
    expectClose(house.at('assemblies.u_factor', 'double_wall', 'Btu/(h ft2 degF)'), heat.wall_u);
    for (const [surface, ua] of Object.entries(heat.ua_by_surface))
      expectClose(house.at('envelope_surfaces.ua', surface, 'Btu/(h degF)'), ua);
    expectClose(house.number('ua_total', 'Btu/(h degF)'), heat.ua_total);
  });

  test('design heat loss by way and in all, and the year through the envelope', () => {
    expectClose(house.number('conduction_design', 'Btu/h'), heat.conduction_design_btu_h);
    expectClose(house.number('leakage_design', 'Btu/h'), heat.leakage_design_btu_h);
    expectClose(house.number('ventilation_design', 'Btu/h'), heat.ventilation_design_btu_h);
    expectClose(house.number('total_design', 'Btu/h'), heat.total_design_btu_h);
    expectClose(house.number('conduction_year', 'Btu'), heat.conduction_year_btu);
    expect(house.number('degree_days_difference', 'degF day')).toBeCloseTo(0, 6);
  });

  test('recovery takes nothing off leakage, and leakage grows with what the code allows', () => {
    const leakage = house.number('leakage_design', 'Btu/h');
    for (const unit of [0, 1]) house.enter('ventilation_units', unit, 'sensible_recovery', '0');
    expect(house.number('leakage_design', 'Btu/h')).toBe(leakage);
    expect(house.number('ventilation_design', 'Btu/h')).toBeGreaterThan(10_000);
    expectClose(
      house.number('leakage_year_at_code', 'kWh'),
      (house.number('leakage_year', 'kWh') * 3) / house.number('sealed_ach50', '1/h'),
    );
  });

  test('the design difference is a difference of temperatures, not a temperature', () => {
    expect(house.number('design_difference', 'K')).toBeCloseTo(74 / 1.8, 10);
  });

  test('the three methods: isothermal planes are the careful side', () => {
    const by = (method: string) => {
      house.enter('assemblies', 'double_wall', 'method', method);
      return house.at('assemblies.r_total', 'double_wall', 'h ft2 degF/Btu');
    };
    const [planes, paths, mean] = [
      by('isothermal planes'),
      by('parallel paths'),
      by('mean of both (ISO 6946)'),
    ];
    expect(planes).toBeLessThan(paths);
    expectClose(mean, (planes + paths) / 2);
  });
});

describe('moisture in January', () => {
  test('temperatures at sheathing and membrane, dew point, share of R', () => {
    expectClose(house.number('sheathing_temperature', 'degF'), moisture.january_sheathing_temperature_degF);
    expectClose(house.number('indoor_dew_point', 'degF'), moisture.indoor_dew_point_degF);
    expectClose(house.number('membrane_r_share', ''), moisture.r_share_inside_membrane);
    expectClose(house.number('membrane_temperature', 'degF'), moisture.membrane_temperature_january_degF);
    expect(house.text('sheathing_verdict')).toContain('it condenses at this face');
    expectClose(
      house.at('assembly_layers.face_temperature', SHEATHING_INNER_FACE, 'degF'),
      moisture.january_sheathing_temperature_degF,
    );
  });

  test('with the dry membrane nothing condenses: 88.8 % at the sheathing', () => {
    house.type('membrane_taken', 'dry');
    const { membrane_dry: dry } = moisture;
    const at = (column: string, unit: string) =>
      house.at(`assembly_layers.${column}`, SHEATHING_INNER_FACE, unit);
    expectClose(at('face_pressure', 'Pa'), dry.vapour_pressure_at_sheathing_pa);
    expectClose(at('face_saturation', 'Pa'), dry.saturation_pa);
    expectClose(house.number('sheathing_humidity', '%'), dry.relative_humidity_percent);
    expect(house.number('condensate_in_month', 'g/m2')).toBe(0);
  });

  test('with its humid value it would seem to condense: 234 g/m² in the month', () => {
    house.type('membrane_taken', 'humid');
    expectClose(
      house.number('condensate_in_month', 'g/m2'),
      moisture.membrane_humid.condensate_january_g_per_m2,
    );
    expect(house.number('sheathing_humidity', '%')).toBeCloseTo(100, 9);
    expect(house.text('water_verdict')).toContain('holds more than the limit');
    expect(house.number('water_left', 'g/m2')).toBe(0);
  });

  test('by its own humidity it is nearly as tight as dry, and nothing condenses all year', () => {
    const shown = house.number('membrane_sd_shown', 'm');
    expect(shown).toBeGreaterThan(5);
    expect(shown).toBeLessThan(8);
    expect(house.number('water_most', 'g/m2')).toBe(0);
    expect(house.text('water_verdict')).toBe('no condensation by diffusion');
  });

  test('more insulation outside of the sheathing warms it and dries it', () => {
    const before = house.number('sheathing_humidity', '%');
    house.enter('assembly_layers', 9, 'r_clear', '12');
    expect(house.number('sheathing_humidity', '%')).toBeLessThan(before);
    expect(house.number('outside_share', '%')).toBeGreaterThan(20);
  });

  test('a damper house: outdoors colder than the guidance bears is told', () => {
    house.type('indoor_humidity_winter', '45 %');
    expect(house.text('humidity_verdict')).toContain('above the guidance');
  });
});

describe('rules', () => {
  test.each([
    ['0.05 perm', 'I'],
    ['0.1 perm', 'I'],
    ['0.5 perm', 'II'],
    ['1 perm', 'II'],
    ['5 perm', 'III'],
    ['10 perm', 'III'],
    ['50 perm', 'none'],
  ])('%s is class %s (IRC 2021 R702.7, dry cup)', (permeance, retarder) => {
    house.type('inner_permeance', permeance);
    expect(house.text('retarder_class')).toBe(retarder);
  });

  test('class III asks for insulation outside by zone and stud (from memory): zone 6 over 2x6, 11.25', () => {
    house.type('inner_permeance', '5 perm');
    expect(house.number('exterior_insulation_needed', 'h ft2 degF/Btu')).toBeCloseTo(11.25, 10);
    expect(house.number('exterior_share_rule', '')).toBeCloseTo(0.36, 3);
    expect(house.text('retarder_verdict')).toContain('more insulation outside');
    house.type('stud_depth', '2x4');
    house.type('climate_zone', '5');
    expect(house.number('exterior_share_rule', '')).toBeCloseTo(0.278, 3);
    house.enter('assembly_layers', 9, 'r_clear', '5');
    expect(house.text('retarder_verdict')).toContain('with enough insulation');
  });

  test('fRsi: 20 °C and 50 % at −5 °C need 0.70; plain walls pass, only bridges fail', () => {
    house.type('indoor_temperature', '20 degC');
    house.type('indoor_humidity_winter', '50 %');
    house.enter('climate_months', 'Jan', 'mean_temperature', '-5 degC');
    expect(house.number('surface_least', 'degC')).toBeCloseTo(12.6246, 3);
    expect(house.number('frsi_needed', '')).toBeCloseTo(0.704985, 5);
    house.enter('cold_spots', 'slab edge', 'typed_factor', '0.6');
    expect(house.textAt('cold_spots.surface_check', 'slab edge')).toBe('mould can grow');
    expect(house.textAt('cold_spots.surface_check', 'plain wall')).toBe('dry enough');
    expect(house.number('spots_failing', '')).toBe(2);
  });

  test.each([
    [0.4, 0.9],
    [0.2, 0.95],
    [0.15, 0.9625],
  ])('U %d W/(m² K) on a plain surface is fRsi %d', (u, factor) => {
    house.enter('assemblies', 'window', 'typed_u', `${String(u)} W/(m2 K)`);
    expect(house.at('cold_spots.temperature_factor', 'window', '')).toBeCloseTo(factor, 10);
  });

  test('permeance and equivalent air layer: 1 perm is 3.49568 m, 10 perm 0.349568 m', () => {
    for (const [perm, sd] of [
      [1, 3.49568],
      [10, 0.349568],
      [0.1, 34.9568],
    ] as const) {
      house.enter('membrane_curve', 0, 'curve_thickness', `${String(sd)} m`);
      if (sd < 1.55) house.enter('membrane_curve', 1, 'curve_thickness', '0.32 m');
      expectClose(house.at('membrane_curve.curve_permeance', 0, 'perm'), perm, 1e-5);
    }
  });
});

describe('what is typed wrong', () => {
  test('a membrane curve out of order is told under the curve', () => {
    house.enter('membrane_curve', 1, 'curve_humidity', '20');
    expect(house.state('membrane_sd_at_half')).toMatchObject({
      state: 'fault',
      fault: expect.stringContaining('Point 2 of the membrane curve is out of order') as string,
    });
  });

  test('a layer without R, and two layers of one number, are told in their row', () => {
    house.enter('assembly_layers', 5, 'r_clear', '');
    expect(house.textAt('assembly_layers.layer_check', 5)).toContain('type R');
    house.enter('assembly_layers', 5, 'r_clear', '13');
    house.enter('assembly_layers', 5, 'layer_number', '7');
    expect(house.textAt('assembly_layers.layer_check', 5)).toBe('two layers have this number');
  });

  test('a framing share above 100 % is told in its assembly', () => {
    house.enter('assembly_layers', 5, 'framing_share', '160');
    expect(house.stateAt('assemblies.limits', 'double_wall')).toMatchObject({
      state: 'fault',
      fault: expect.stringContaining('share of framing') as string,
    });
  });
});

test('a room’s height reaches volume, air changes, heat and ventilation credit at once', () => {
  const names = ['building_volume', 'ach50', 'total_design', 'infiltration_rate', 'ua_total'];
  const before = names.map((name) => house.state(name));
  house.enter('rooms', 'living', 'height', `9' 6"`);
  names.forEach((name, i) => {
    const [was, now] = [before[i], house.state(name)];
    if (was?.state !== 'value' || now.state !== 'value') throw new Error(name);
    expect(now.value, name).not.toBe(was.value);
  });
});

test('in a job with nothing typed neither humidity, condensate nor a difference of degree days is said to be nought', () => {
  const opened = readWorkbook(templateText('juniper-hollow.json'));
  if ('code' in opened) throw new Error(opened.found);
  const job = newJob(opened.document, { id: 'juniper-hollow', title: 'The next job' });
  const workbook = new Workbook(job, new FunctionLibrary(tradeFunctions));
  for (const name of [
    'sheathing_humidity',
    'condensate_in_month',
    'humidity_advised',
    'degree_days_difference',
  ])
    expect([name, workbook.state(name).state]).not.toEqual([name, 'value']);
});

/** Units, filters, sound, moisture and balance against printed and computed cases, in the demo as a person would type them. */
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { expectRelative } from '../trade/closeness.ts';
import { Open } from '../templates/open.ts';

describe('units, filters and sound', () => {
  let house: Open;
  beforeEach(() => {
    house = new Open('juniper-hollow.json');
  });

  test('a 20 × 20 in filter at 400 cfm: 2.78 ft2, 143.9 ft/min; face velocity is not duct velocity', () => {
    house.enter('filters', 0, 'filter_width', '20');
    house.enter('filters', 0, 'filter_height', '20');
    house.enter('filters', 0, 'filter_flow', '400');
    expect(house.at('filters.face_area', 0, 'ft2')).toBeCloseTo(2.78, 2);
    expect(house.at('filters.face_velocity', 0, 'ft/min')).toBeCloseTo(144, 0);
  });

  test('filter pressure lies between linear and square in the velocity, on either side of its rating', () => {
    for (const flow of ['60', '200']) {
      house.enter('filters', 0, 'filter_flow', flow);
      const ratio = house.at('filters.face_velocity', 0, 'ft/min') / 150;
      const ends = [0.1 * ratio, 0.1 * ratio ** 2].sort((a, b) => a - b);
      expect(house.at('filters.pressure_low', 0, 'inH2O')).toBeCloseTo(ends[0]!, 9);
      expect(house.at('filters.pressure_high', 0, 'inH2O')).toBeCloseTo(ends[1]!, 9);
    }
  });

  /** 40 + 10 log2(sone), computed. */
  test.each([
    [0.3, 22.63],
    [0.5, 30],
    [1, 40],
    [1.5, 45.85],
    [2, 50],
    [3, 55.85],
  ])('%f sone is %f phon', (sones, phon) => {
    house.enter('fans_heard', 0, 'sones', String(sones));
    expect(house.at('fans_heard.loudness_level', 0, '')).toBeCloseTo(phon, 2);
  });

  test('continuous fans to 1.0 sone, on demand to 3.0, remote ones exempt beyond 4 ft of duct (ASHRAE 62.2 by a US national laboratory)', () => {
    const verdict = () => house.textAt('fans_heard.sound_verdict', 2);
    house.enter('fans_heard', 2, 'sones', '3');
    expect(verdict()).toBe('met');
    house.enter('fans_heard', 2, 'sones', '3.1');
    expect(verdict()).toBe('too loud');
    house.enter('fans_heard', 2, 'duct_to_grille', '5');
    expect(verdict()).toBe('exempt, remote');
    house.enter('fans_heard', 2, 'duct_to_grille', '0');
    house.enter('fans_heard', 2, 'duty', 'continuous');
    house.enter('fans_heard', 2, 'sones', '1');
    expect(verdict()).toBe('met');
  });

  test('supply temperature by the apparent effectiveness: 92 %, 32 °F outside, 70 °F inside, about 67 °F (read second-hand); recovery is for heat', () => {
    house.enter('ventilation_units', 'unit S', 'apparent_effectiveness', '92');
    house.type('design_outdoor_temperature', '32 degF');
    house.type('indoor_temperature', '70 degF');
    expect(house.at('ventilation_units.supply_temperature', 'unit S', 'degF')).toBeCloseTo(66.96, 9);
    const heat = house.at('ventilation_units.unrecovered_heat', 'unit S', 'Btu/h');
    house.enter('ventilation_units', 'unit S', 'apparent_effectiveness', '60');
    expect(house.at('ventilation_units.unrecovered_heat', 'unit S', 'Btu/h')).toBe(heat);
  });

  test('a published case: 40,000 cfm, 90 and 75 °F, 73 % lost: 473,040 Btu/h; 1.08 takes a difference', () => {
    house.enter('ventilation_units', 'unit S', 'measured_supply', '40000');
    house.enter('ventilation_units', 'unit S', 'sensible_recovery', '27');
    house.type('indoor_temperature', '90 degF');
    house.type('design_outdoor_temperature', '75 degF');
    expect(house.at('ventilation_units.unrecovered_heat', 'unit S', 'Btu/h')).toBeCloseTo(473_040, 3);
  });

  test('at 5,000 ft 1.08 is 0.8986: the air is thinner', () => {
    house.type('site_elevation', '5000 ft');
    expect(1.08 * house.number('altitude_pressure_ratio', '')).toBeCloseTo(0.8986, 4);
  });
});

describe('moisture and frost, equal flows at sea level (computed with psychrolib)', () => {
  let house: Open;
  beforeEach(() => {
    house = new Open('juniper-hollow.json');
    house.type('site_elevation', '0 ft');
  });

  test.each([
    [-10, 80, 21, 40, 80, 0, 14.8, 12.35, 57.253, -3.8, 0.00616842, 0.00274324, 'frost'],
    [-10, 80, 21, 40, 80, 50, 14.8, 35.818, 71.4053, -3.8, 0.00372365, 0.00274324, 'frost'],
    [-20, 80, 21, 35, 75, 55, 10.75, 40.088, 70.284, -9.75, 0.00270492, 0.00163537, 'frost'],
    [0, 80, 20, 50, 85, 60, 17, 46.354, 76.2653, 3, 0.00471407, 0.00468796, 'condenses'],
  ] as const)(
    '%i °C %i %% outside, %i °C %i %% inside, recovery %i and %i %%',
    (
      out,
      outHumidity,
      inside,
      insideHumidity,
      heat,
      moisture,
      supply,
      humidity,
      total,
      leaves,
      ratio,
      most,
      verdict,
    ) => {
      house.type('design_outdoor_temperature', `${out} degC`);
      house.type('outdoor_humidity_design', `${outHumidity} %`);
      house.type('indoor_temperature', `${inside} degC`);
      house.type('indoor_humidity_winter', `${insideHumidity} %`);
      for (const column of ['sensible_recovery', 'apparent_effectiveness'])
        house.enter('ventilation_units', 'unit S', column, String(heat));
      house.enter('ventilation_units', 'unit S', 'moisture_recovery', String(moisture));
      const unit = (column: string, symbol: string) =>
        house.at(`ventilation_units.${column}`, 'unit S', symbol);
      expect(unit('supply_temperature', 'degC')).toBeCloseTo(supply, 9);
      expectRelative(unit('supply_humidity', '%'), humidity, 2e-4);
      expectRelative(unit('total_recovery', '%'), total, 2e-4);
      expect(unit('exhaust_temperature', 'degC')).toBeCloseTo(leaves, 9);
      expectRelative(unit('exhaust_humidity_ratio', ''), ratio, 2e-5);
      expectRelative(unit('exhaust_saturation', ''), most, 2e-5);
      expect(house.textAt('ventilation_units.frost_verdict', 'unit S')).toBe(verdict);
    },
  );

  test('a summer day: 32 °C 60 % outside, 24 °C 50 % inside: the exhaust is dry', () => {
    house.type('design_outdoor_temperature', '32 degC');
    house.type('outdoor_humidity_design', '60 %');
    house.type('indoor_temperature', '24 degC');
    house.type('indoor_humidity_winter', '50 %');
    house.enter('ventilation_units', 'unit S', 'sensible_recovery', '70');
    house.enter('ventilation_units', 'unit S', 'moisture_recovery', '55');
    expect(house.at('ventilation_units.exhaust_temperature', 'unit S', 'degC')).toBeCloseTo(29.6, 9);
    expect(house.textAt('ventilation_units.frost_verdict', 'unit S')).toBe('dry');
    expectRelative(house.at('ventilation_units.total_recovery', 'unit S', '%'), 59.1533, 2e-4);
  });

  test.each([
    [170, 21.636],
    [85, 34.827],
    [250, 17.396],
    [125, 26.395],
  ])(
    '10 kg a day carried out by %i m3/h, what moisture recovery gives back taken off: %f %%',
    (flow, humidity) => {
      house.type('design_outdoor_temperature', '-10 degC');
      house.type('outdoor_humidity_design', '80 %');
      house.type('indoor_temperature', '21 degC');
      house.type('moisture_produced', '10 kg');
      house.type('moisture_flow', `${flow} m3/h`);
      expectRelative(house.number('balanced_humidity', '%'), humidity, 2e-4);
    },
  );
});

/** A constructed house of two units, computed apart: 3,000 ft2, 4 bedrooms, 260 cfm at 50 Pa. */
describe('commissioning verdicts', () => {
  let house: Open;
  beforeAll(() => {
    house = new Open('juniper-hollow.json');
    house.type('ventilation_rule', 'ASHRAE 62.2-2019 and 2022');
    house.type('floor_area', '3000 ft2');
    house.type('credit_q50', '260 cfm');
    house.type('credit_height', '20 ft');
    house.type('wind_shield_factor', '0.58');
    for (const [unit, supply, exhaust] of [
      ['unit S', '57', '62'],
      ['unit N', '60', '70'],
    ] as const) {
      house.enter('ventilation_units', unit, 'measured_supply', supply);
      house.enter('ventilation_units', unit, 'measured_exhaust', exhaust);
    }
  });

  test('57 against 62 balances: 5 is inside 5.7; 60 against 70 does not: 10 is over 6', () => {
    expect(house.textAt('ventilation_units.balance_verdict', 'unit S')).toBe('balanced');
    expect(house.textAt('ventilation_units.balance_verdict', 'unit N')).toBe('out of balance');
  });

  test('the house, 117 against 132, is out of balance though its supply meets the rule', () => {
    expect(house.text('house_balance_verdict')).toBe('out of balance');
    expect(house.number('required_fan_rate', 'cfm')).toBeCloseTo(116.2981, 3);
    expect(house.text('rate_verdict')).toBe('met');
    expect(house.text('commission_verdict')).toBe('held');
  });

  test('the band is 10 % or 5 cfm, whichever is greater; a difference equal to it passes', () => {
    house.enter('ventilation_units', 'unit S', 'measured_supply', '40');
    house.enter('ventilation_units', 'unit S', 'measured_exhaust', '45');
    expect(house.textAt('ventilation_units.balance_verdict', 'unit S')).toBe('balanced');
    house.enter('ventilation_units', 'unit S', 'measured_exhaust', '45.1');
    expect(house.textAt('ventilation_units.balance_verdict', 'unit S')).toBe('out of balance');
  });

  test('heat of leakage and ventilation apart: recovery acts on the ventilation only', () => {
    house.enter('ventilation_units', 'unit S', 'measured_supply', '60');
    house.enter('ventilation_units', 'unit N', 'measured_supply', '65');
    house.type('indoor_temperature', '70 degF');
    house.type('design_outdoor_temperature', '-5 degF');
    for (const unit of ['unit S', 'unit N'])
      house.enter('ventilation_units', unit, 'sensible_recovery', '80');
    expect(house.number('ventilation_heat_without_recovery', 'Btu/h')).toBeCloseTo(10_125, 6);
    expect(house.number('ventilation_heat_design', 'Btu/h')).toBeCloseTo(2_025, 6);
    const leakage = house.number('infiltration_rate', 'cfm');
    for (const unit of ['unit S', 'unit N']) house.enter('ventilation_units', unit, 'sensible_recovery', '0');
    expect(house.number('infiltration_rate', 'cfm')).toBe(leakage);
  });
});

/** Required rates against printed tables and worked examples, in the template as a person would type them. */
import { beforeEach, describe, expect, test } from 'vitest';
import { expectRelative } from '../trade/closeness.ts';
import { Open } from '../templates/open.ts';

let house: Open;
beforeEach(() => {
  house = new Open('house-envelope-ventilation.json');
});

function sized(rule: string, area: number, bedrooms: number): void {
  house.type('ventilation_rule', rule);
  house.type('floor_area', `${area} ft2`);
  house.type('bedroom_count', String(bedrooms));
}

/** ASHRAE 62.2-2013 table 4.1a, as quoted by the appendix of a model mechanical code: cfm for 1 to 5 bedrooms. */
const TABLE_41A = [
  [500, 30, 38, 45, 53, 60],
  [1000, 45, 53, 60, 68, 75],
  [1500, 60, 68, 75, 83, 90],
  [2000, 75, 83, 90, 98, 105],
  [2500, 90, 98, 105, 113, 120],
  [3000, 105, 113, 120, 128, 135],
  [3500, 120, 128, 135, 143, 150],
  [4000, 135, 143, 150, 158, 165],
  [4500, 150, 158, 165, 173, 180],
  [5000, 165, 173, 180, 188, 195],
] as const;

describe('ASHRAE 62.2-2013 table 4.1a, 50 cells', () => {
  test.each(TABLE_41A)('up to %i ft2', (upper, ...cells) => {
    cells.forEach((cell, i) => {
      sized('ASHRAE 62.2-2013, new house', upper, i + 1);
      // The printed cell is the equation at the upper end of its band, halves rounded up.
      expect(Math.floor(house.number('equation_rate', 'cfm') + 0.5 + 1e-9)).toBe(cell);
      house.type('floor_area', `${upper - 200} ft2`);
      expect(house.number('printed_rate', 'cfm')).toBeCloseTo(cell, 9);
    });
  });

  test('ends at 5,000 ft2 and 5 bedrooms: beyond it says nothing', () => {
    for (const [area, bedrooms] of [
      [5200, 3],
      [2000, 6],
      [5200, 6],
    ] as const) {
      sized('ASHRAE 62.2-2013, table 4.1a', area, bedrooms);
      expect(house.state('printed_rate').state, `${area}, ${bedrooms}`).toBe('blank');
      expect(house.state('total_rate').state).toBe('blank');
    }
  });
});

/** IRC table M1505.4.3(1), cfm, continuous; bedrooms 0-1, 2-3, 4-5, 6-7, over 7. */
const M1505 = [
  [1500, 30, 45, 60, 75, 90],
  [3000, 45, 60, 75, 90, 105],
  [4500, 60, 75, 90, 105, 120],
  [6000, 75, 90, 105, 120, 135],
  [7500, 90, 105, 120, 135, 150],
  [9000, 105, 120, 135, 150, 165],
] as const;

describe('IRC table M1505.4.3(1), 30 cells', () => {
  test.each(M1505)('up to %i ft2', (upper, ...cells) => {
    cells.forEach((cell, column) => {
      for (const bedrooms of [2 * column, 2 * column + 1]) {
        sized('IRC M1505, table', upper - 1, bedrooms);
        expect(house.number('printed_rate', 'cfm')).toBeCloseTo(cell, 9);
      }
      // Bounded cells: the equation at the upper area with the larger count of bedrooms.
      if (column > 3 || upper > 7500) return;
      sized('IRC M1505, equation', upper, 2 * column + 1);
      expect(house.number('equation_rate', 'cfm')).toBeCloseTo(cell, 9);
    });
  });

  test('an area of exactly 1,500 ft2, which stands in no printed row, counts with the lower band', () => {
    sized('IRC M1505, table', 1500, 3);
    expect(house.number('printed_rate', 'cfm')).toBeCloseTo(45, 9);
    house.type('floor_area', '1501 ft2');
    expect(house.number('printed_rate', 'cfm')).toBeCloseTo(60, 9);
  });
});

test('table and equation differ: 2,400 ft2, 3 bedrooms is 60 by the IRC table, 54 by its equation, 37.8 after the reduction', () => {
  sized('IRC M1505, table', 2400, 3);
  expect(house.number('printed_rate', 'cfm')).toBeCloseTo(60, 9);
  house.type('ventilation_rule', 'IRC M1505, equation');
  expect(house.number('equation_rate', 'cfm')).toBeCloseTo(54, 9);
  expect(house.number('total_rate', 'cfm')).toBeCloseTo(37.8, 9);
  // The 30 % needs both: balanced, and ducted to each room.
  house.type('system_distribution', 'not to each');
  expect(house.number('total_rate', 'cfm')).toBeCloseTo(54, 9);
});

test('the edition decides: 0.01 until 2010 and in the IRC, 0.03 from 2013 on', () => {
  sized('ASHRAE 62.2-2010', 2400, 3);
  expect(house.number('total_rate', 'cfm')).toBeCloseTo(54, 9);
  house.type('ventilation_rule', 'ASHRAE 62.2-2016');
  expect(house.number('total_rate', 'cfm')).toBeCloseTo(102, 9);
});

test('inch-pound and SI constants of 62.2 are no conversions of each other', () => {
  sized('ASHRAE 62.2-2013 on, SI constants', 2400, 3);
  const si = house.number('total_rate', 'L/s');
  // 0.15 × 222.967 + 3.5 × 4
  expectRelative(si, 0.15 * 2400 * 0.09290304 + 14, 1e-12);
  house.type('ventilation_rule', 'ASHRAE 62.2-2016');
  const us = house.number('total_rate', 'L/s');
  expect(us / si).toBeGreaterThan(1.01);
  expect(us / si).toBeLessThan(1.02);
});

test('a published example: 2,400 ft2, 3 bedrooms, 102 cfm; a credit of 30 leaves 72; half the time 144 (read second-hand)', () => {
  sized('ASHRAE 62.2-2016', 2400, 3);
  house.type('infiltration_rate', '30 cfm');
  house.type('exterior_share', '100 %');
  expect(house.number('required_fan_rate', 'cfm')).toBeCloseTo(72, 9);
  house.type('run_share', '50 %');
  house.type('cycle_time', '2 h');
  expect(house.number('on_rate', 'cfm')).toBeCloseTo(144, 9);
});

describe('England, Approved Document F 2021 (read second-hand)', () => {
  test.each([
    [1, 19],
    [2, 25],
    [3, 31],
    [4, 37],
    [5, 43],
    [6, 49],
    [0, 13],
  ])('%i bedrooms, small floor: %i L/s', (bedrooms, rate) => {
    sized('England, Part F 2021', 300, bedrooms);
    expect(house.number('total_rate', 'L/s')).toBeCloseTo(rate, 9);
  });

  test('a large floor goes by its area: 278.709 m2 is 83.61 L/s, 177.17 cfm', () => {
    sized('England, Part F 2021', 3000, 4);
    expect(house.number('total_rate', 'L/s')).toBeCloseTo(83.61, 2);
    expect(house.number('total_rate', 'cfm')).toBeCloseTo(177.17, 2);
  });
});

test('England 2010: 13, 17, 21, 25, 29 L/s (read second-hand)', () => {
  [13, 17, 21, 25, 29].forEach((rate, i) => {
    sized('England, Part F 2010', 300, i + 1);
    expect(house.number('total_rate', 'L/s')).toBeCloseTo(rate, 9);
  });
});

test('Ireland, TGD F 2019, example 3 as corrected: 4 people, 21 L/s; and the floor’s 0.3 L/s m2 from memory', () => {
  sized('Ireland, TGD F 2019', 300, 3);
  expect(house.number('total_rate', 'L/s')).toBeCloseTo(21, 9);
  house.type('floor_area', '3000 ft2');
  expect(house.number('total_rate', 'L/s')).toBeCloseTo(83.61, 2);
});

describe('what is from memory says so on the sheet', () => {
  test.each([
    'Washington State, by system',
    'EN 16798-1, category II',
    'Canada, NBC 9.32.3.3 principal fan, low end',
  ])('%s', (rule) => {
    house.type('ventilation_rule', rule);
    expect(house.text('rule_standing')).toBe('from memory, check');
  });

  test('and Ireland’s rate for the floor area, in its source', () => {
    house.type('ventilation_rule', 'Ireland, TGD F 2019');
    expect(house.text('rule_source')).toMatch(/from memory, check/);
  });
});

describe('intermittent running: IRC table M1505.4.3(2)', () => {
  test.each([
    [25, 4],
    [33, 3],
    [50, 2],
    [66, 1.5],
    // Printed factors are rounded: 1.3, not 1.333.
    [75, 1.3],
    [100, 1],
    // Between rows on straight lines: 2 − 0.5 × 8/16.
    [58, 1.75],
  ])('%i %% of the time: factor %f', (share, factor) => {
    house.type('ventilation_rule', 'IRC M1505, table');
    house.type('run_share', `${share} %`);
    expect(house.number('on_factor', '')).toBeCloseTo(factor, 9);
  });

  test('nothing below 25 % (from memory)', () => {
    house.type('ventilation_rule', 'IRC M1505, table');
    house.type('run_share', '24 %');
    expect(house.state('on_factor').state).toBe('fault');
  });

  test('62.2 goes by the time share, and asks for the effectiveness beyond three hours', () => {
    house.type('ventilation_rule', 'ASHRAE 62.2-2016');
    house.type('run_share', '75 %');
    expect(house.number('on_factor', '')).toBeCloseTo(4 / 3, 9);
    expect(house.text('running_check')).toMatch(/over 3 hours/);
    house.type('cycle_time', '3 h');
    expect(house.text('running_check')).toBe('');
    house.type('cycle_time', '25 h');
    expect(house.text('running_check')).toMatch(/24 hours at most/);
  });

  test('turnover 12.8 Q T / A, in cfm, hours and square feet', () => {
    house.type('required_fan_rate', '60 cfm');
    house.type('floor_area', '2000 ft2');
    house.type('cycle_time', '4 h');
    expect(house.number('turnover', '')).toBeCloseTo((12.8 * 60 * 4) / 2000, 9);
  });
});

describe('leakage credit', () => {
  /** Constructed cases, computed apart; the weather factors are inputs, not looked up. */
  const cases = [
    ['ASHRAE 62.2-2019 and 2022', 2400, 3, 1000, 16.4, 0.56, 38.4241, 63.5759, 0.376707, 87.5254],
    ['ASHRAE 62.2-2019 and 2022', 3000, 4, 260, 20, 0.58, 11.2019, 116.2981, 0.087858, 126.5158],
  ] as const;
  test.each(cases)(
    '%s, %i ft2',
    (rule, area, bedrooms, q50, height, wsf, qinf, balanced, phi, unbalanced) => {
      sized(rule, area, bedrooms);
      house.type('credit_q50', `${q50} cfm`);
      house.type('credit_height', `${height} ft`);
      house.type('wind_shield_factor', String(wsf));
      expect(house.number('infiltration_rate', 'cfm')).toBeCloseTo(qinf, 3);
      expect(house.number('required_fan_rate', 'cfm')).toBeCloseTo(balanced, 3);
      house.type('system_balance', 'not balanced');
      // The reduction for unbalanced fans is from memory, and the sheet says so.
      expect(house.number('unbalanced_factor', '')).toBeCloseTo(phi, 5);
      expect(house.number('required_fan_rate', 'cfm')).toBeCloseTo(unbalanced, 3);
      expect(house.text('rule_source')).toMatch(/from memory/);
      // No earlier edition has it.
      house.type('ventilation_rule', 'ASHRAE 62.2-2016');
      expect(house.number('required_fan_rate', 'cfm')).toBeCloseTo(balanced, 3);
    },
  );

  test('at most two thirds of the rate in a new house, 2013 (read second-hand)', () => {
    sized('ASHRAE 62.2-2013, new house', 1500, 3);
    house.type('credit_q50', '4000 cfm');
    house.type('credit_height', '8.2 ft');
    house.type('wind_shield_factor', '0.60');
    expect(house.number('infiltration_rate', 'cfm')).toBeCloseTo(124.8, 9);
    expect(house.number('leakage_credit', 'cfm')).toBeCloseTo(50, 9);
    expect(house.number('required_fan_rate', 'cfm')).toBeCloseTo(25, 9);
  });

  test('shared walls: three quarters outside, 73.1819 cfm', () => {
    sized('ASHRAE 62.2-2016', 2400, 3);
    house.type('credit_q50', '1000 cfm');
    house.type('credit_height', '16.4 ft');
    house.type('wind_shield_factor', '0.56');
    house.type('exterior_share', '75 %');
    expect(house.number('required_fan_rate', 'cfm')).toBeCloseTo(73.1819, 3);
    house.type('ventilation_rule', 'ASHRAE 62.2-2013, new house');
    expect(house.number('required_fan_rate', 'cfm')).toBeCloseTo(63.5759, 3);
  });

  /** US national laboratory page on the infiltration credit: printed factors against storeys of 8.2 ft. */
  test.each([
    [1, 1],
    [1.5, 1.18],
    [2, 1.32],
    [2.5, 1.44],
    [3, 1.55],
  ])('height factor of %f storeys: %f', (storeys, factor) => {
    house.type('credit_height', `${storeys * 8.2} ft`);
    expect(Math.abs(house.number('height_factor', '') - factor)).toBeLessThan(0.006);
  });

  test('short form and normalised leakage agree within 0.6 % at exponent 0.65: 38.42 and 38.63 cfm', () => {
    sized('ASHRAE 62.2-2016', 2400, 3);
    house.type('credit_q50', '1000 cfm');
    house.type('credit_height', '16.4 ft');
    house.type('wind_shield_factor', '0.56');
    house.type('credit_exponent', '0.65');
    house.type('leakage_air_density', '1.204 kg/m3');
    expect(house.number('leakage_area', 'ft2')).toBeCloseTo(0.381628, 5);
    expect(house.number('normalised_leakage', '')).toBeCloseTo(0.209817, 5);
    expect(house.number('infiltration_rate_long', 'cfm')).toBeCloseTo(38.6294, 3);
    expectRelative(
      house.number('infiltration_rate_long', 'cfm'),
      house.number('infiltration_rate', 'cfm'),
      0.006,
    );
  });
});

describe('local exhaust', () => {
  test('a 12 × 14 × 9 ft kitchen: 5 air changes are 126 cfm; 35 cfm passes the IRC and fails 62.2, until a 100 cfm hood', () => {
    for (const [column, text] of [
      ['length', '14 ft'],
      ['width', '12 ft'],
      ['height', '9 ft'],
    ] as const)
      house.enter('rooms', 'kitchen', column, text);
    house.enter('ventilation_rooms', 'kitchen', 'design_flow', '35');
    house.type('exhaust_rule', 'ASHRAE 62.2');
    expect(house.at('ventilation_rooms.local_continuous', 'kitchen', 'cfm')).toBeCloseTo(126, 9);
    expect(house.textAt('ventilation_rooms.local_verdict', 'kitchen')).toBe('needs a hood or fan');
    expect(house.text('rooms_failing_exhaust')).toContain('kitchen');
    house.enter('ventilation_rooms', 'kitchen', 'separate_fan', '90');
    expect(house.textAt('ventilation_rooms.local_verdict', 'kitchen')).toBe('hood or fan too small');
    house.enter('ventilation_rooms', 'kitchen', 'separate_fan', '100');
    expect(house.textAt('ventilation_rooms.local_verdict', 'kitchen')).toBe('met on demand');
    house.enter('ventilation_rooms', 'kitchen', 'separate_fan', '');
    house.type('exhaust_rule', 'IRC M1505');
    expect(house.textAt('ventilation_rooms.local_verdict', 'kitchen')).toBe('met, continuous');
  });
});

describe('fan power', () => {
  test.each([
    ['Washington R403.6.1, recovery units: 1.2 cfm/W', 0.8333],
    ['Ireland 2019, balanced: 1.2 W/(L/s)', 1.2 / 2.11888],
    ['California 2022, multifamily: 1.0 W/cfm', 1],
    // 0.45 Wh/m3, from memory: 0.7646 W/cfm.
    ['high performance: 0.45 Wh/m3', 0.7646],
  ])('%s', (rule, limit) => {
    house.type('fan_power_rule', rule);
    expect(house.number('fan_power_limit', 'W/cfm')).toBeCloseTo(limit, 4);
  });

  test('the one from memory says so', () => {
    house.type('fan_power_rule', 'high performance: 0.45 Wh/m3');
    expect(house.text('fan_power_standing')).toBe('from memory, check');
  });
});

import { describe, expect, test } from 'vitest';
import {
  describeDimension,
  dimension,
  DIMENSIONLESS,
  fromSI,
  isUnitSymbol,
  parseUnit,
  scanUnit,
  toSI,
} from '../../../src/engine/quantity/index.ts';
import { unit } from './read.ts';

function problem(text: string): string {
  const result = parseUnit(text);
  if (!('problem' in result)) throw new Error(`${text} was read as ${result.symbol}`);
  return `${result.problem}${result.suggestion === undefined ? '' : `; ${result.suggestion}`}`;
}

describe('spellings of one unit', () => {
  test.each([
    [
      'm3/h',
      'm³/h',
      [
        'm^3/h',
        'm³/h',
        'm**3/h'.replace('**', '^'),
        'cubic m/h',
        'm3 / h',
        'm3 per h',
        'cu m per hour',
        'm·m·m/h',
      ],
    ],
    ['ft2', 'ft²', ['ft^2', 'ft²', 'sq ft', 'sqft', 'sf', 'square feet', 'ft*ft', 'ft·ft']],
    ['Btu/(h ft2 degF)', 'Btu/(h·ft²·°F)', ['Btu/h/ft2/degF', 'Btu/(h*ft^2*°F)', 'BTU/(hr·ft²·°F)', 'U_IP']],
    ['1/h', '1/h', ['h^-1', 'h⁻¹', 'ACH', '1 / hour']],
    ['W/(m2 K)', 'W/(m²·K)', ['W m^-2 K^-1', 'W·m⁻²·K⁻¹', 'W/(m^2 degC)', 'U_SI']],
    ['board_foot', 'bd ft', ['board foot', 'board feet', 'bdft', 'bd ft']],
    ['lf', 'lf', ['lineal ft', 'lineal foot', 'linear feet']],
    ['cfm', 'cfm', ['CFM', 'ft3/min', 'cu ft per min']],
    ['$/ft2', '$/ft²', ['$ / sq ft', 'usd/ft2', 'dollars per sq ft']],
    ['um', 'µm', ['µm', 'μm']],
    ['ohm', 'Ω', ['Ω', 'V/A']],
    ['', '', ['1', ' ', ' 1 ']],
    ['m^(1/2)', 'm^0.5', ['m^0.5']],
  ])('%s is shown as %s', (text, symbol, others) => {
    expect(unit(text).symbol).toBe(symbol);
    expect(unit(text).text).toBe(text);
    for (const other of others) {
      expect(unit(other).dimension).toBe(unit(text).dimension);
      expect(unit(other).factor / unit(text).factor).toBeCloseTo(1, 14);
    }
  });

  test('a unit is read once', () => {
    expect(parseUnit('kg/(m2 s)')).toBe(parseUnit(' kg/(m2 s) '));
  });
});

describe('temperatures', () => {
  test('alone, °C and °F are readings with an offset; K and the differences have none', () => {
    expect(toSI(68, unit('degF'))).toBeCloseTo(293.15, 10);
    expect(toSI(-40, unit('°F'))).toBeCloseTo(toSI(-40, unit('°C')), 10);
    expect(fromSI(273.15, unit('degC'))).toBe(0);
    for (const text of ['degC', 'degF', '°C', '°F', 'celsius', '(degC)'])
      expect(unit(text).reading).toBe(true);
    for (const text of ['K', 'degR', 'Cdeg', 'Fdeg', 'Δ°C', 'Δ°F']) {
      expect(unit(text).reading).toBe(false);
      expect(unit(text).offset).toBe(0);
    }
    expect(['K', 'degR', 'Cdeg', 'Fdeg', 'degC', 'degF'].map((text) => unit(text).symbol)).toEqual([
      'K',
      '°R',
      'Δ°C',
      'Δ°F',
      '°C',
      '°F',
    ]);
  });

  test('in a product they are differences', () => {
    expect(unit('W/degF').factor).toBeCloseTo(9 / 5, 14);
    expect(unit('degF h')).toMatchObject({ reading: false, offset: 0, factor: 2000 });
    expect(unit('degC^2').reading).toBe(false);
  });
});

describe('plain numbers', () => {
  test('angles, percent and counts are plain numbers of a size', () => {
    expect(unit('rad')).toMatchObject({ dimension: DIMENSIONLESS, factor: 1 });
    expect(unit('deg').factor).toBe(Math.PI / 180);
    expect(unit('%')).toMatchObject({ dimension: DIMENSIONLESS, factor: 0.01, symbol: '%' });
    expect(unit('m/m').dimension).toBe(DIMENSIONLESS);
  });
});

describe('what is refused, and what is said', () => {
  test.each([
    ['cfmm', "unknown unit 'cfmm'; did you mean cfm?"],
    ['pa', "unknown unit 'pa'; did you mean Pa?"],
    ['Kg/m3', "unknown unit 'Kg'; did you mean kg?"],
    ['m3/hur', "unknown unit 'hur'; did you mean hr?"],
    ['cfm50', "unknown unit 'cfm50'; did you mean cfm? That it is at 50 Pa belongs in the name or the note"],
    ['mdegC', "unknown unit 'mdegC'; did you mean degC?"],
    ['xyzzy', "unknown unit 'xyzzy'; a unit is written as ft, in, m2, L/s, Pa or 1/h"],
    ['furlongz', "unknown unit 'furlongz'; a unit is written as ft, in, m2, L/s, Pa or 1/h"],
    [
      'W/m2 K',
      "'W/m2 K' can be read in two ways after the division; put what is divided by in parentheses, for instance W/(m2 K)",
    ],
    [
      'W/m2·K',
      "'W/m2·K' can be read in two ways after the division; put what is divided by in parentheses, for instance W/(m2 K)",
    ],
    ['byte', "'byte' is a unit of information, which this workbook does not calculate with"],
    ['MB/s', "'MB' is a unit of information, which this workbook does not calculate with"],
    ['b', "'b' is a unit of information, which this workbook does not calculate with"],
    ['3', "'3' is not a unit; a unit is written as ft, in, m2, L/s, Pa or 1/h"],
    ['m3/', "'/' is not part of a unit; did you mean m3?"],
    ['m3 (net)', "'(net)' is not part of a unit; for instance m³"],
    ['__proto__', "'__proto__' is not a unit; a unit is written as ft, in, m2, L/s, Pa or 1/h"],
    ['constructor', "unknown unit 'constructor'; a unit is written as ft, in, m2, L/s, Pa or 1/h"],
    ['toString', "unknown unit 'toString'; a unit is written as ft, in, m2, L/s, Pa or 1/h"],
    [`m${'*m'.repeat(150)}`, 'this unit is too long to read'],
  ])('%s', (text, message) => {
    expect(problem(text)).toBe(message);
  });

  test('the place of the mistake is told', () => {
    expect(parseUnit('kg/(m2 hur)')).toMatchObject({ at: 7 });
    expect(parseUnit('W/m2 K')).toMatchObject({ at: 5 });
  });

  test('an imaginary power and prefixed readings are no units', () => {
    for (const word of ['VAR', 'kVAR', 'kdegC', 'mcelsius', 'MB', 'kbit', 'hasOwnProperty']) {
      expect(isUnitSymbol(word)).toBe(false);
    }
  });
});

describe('names of cells beside units', () => {
  test('short names with a digit stay free, except powers of lengths', () => {
    for (const name of ['h2', 'A1', 'q50', 'ach50', 'n50', 'T2', 't3', 'V2', 'ft5', 'm1', 'kg2', 'min2']) {
      expect(isUnitSymbol(name)).toBe(false);
    }
    for (const name of ['m2', 'ft3', 'in4', 'mm2', 's2', 'cfm', 'perm', 'ACH', '%', '$']) {
      expect(isUnitSymbol(name)).toBe(true);
    }
    expect(isUnitSymbol('m3/h')).toBe(false);
  });

  test('the names of the air test are no units', () => {
    const names = [
      'readings test house_pressure fan_pressure fan_range measured_flow induced_pressure flow tests stage',
      'direction date indoor_temperature outdoor_temperature baseline_before baseline_after fan_ranges shown_test',
      'building_volume envelope_area floor_area target_ach50 flow_coefficient pressure_exponent r_squared q50',
      'ach50 permeability50 margin_ach50 indoor outdoor exponent coefficient width height length area volume',
    ].flatMap((line) => line.split(' '));
    expect(names.filter((name) => isUnitSymbol(name))).toEqual([]);
  });
});

describe('a unit in the middle of a formula', () => {
  function scanned(text: string, at: number): string {
    const found = scanUnit(text, at);
    return found === undefined ? 'none' : `${text.slice(at, found.end)}|${text.slice(found.end)}`;
  }

  test.each([
    ['20 m3 / building_volume', 2, ' m3| / building_volume'],
    ['20 m3/h * 2', 2, ' m3/h| * 2'],
    ['3 ft * 3', 1, ' ft| * 3'],
    ['3 ft * m', 1, ' ft * m|'],
    ['(5 Pa)', 2, ' Pa|)'],
    ['5 Pa^n', 1, ' Pa|^n'],
    ['5 Pa^0.65', 1, ' Pa^0.65|'],
    ['5 ft^2 + 1', 1, ' ft^2| + 1'],
    ['0.6 1/h', 3, ' 1/h|'],
    ['0.6/h', 3, '/h|'],
    ['0.6 / h', 3, ' / h|'],
    ['10/min(a, b)', 2, 'none'],
    ['3 ft / min (a, b)', 1, ' ft| / min (a, b)'],
    ['3 ft / h.flow', 1, ' ft| / h.flow'],
    ['8 ft 3 in', 1, ' ft| 3 in'],
    ['2 kg and x', 1, ' kg| and x'],
    ['2 in', 1, ' in|'],
    ['5 x', 1, 'none'],
    ['5 - 3', 1, 'none'],
    ['5', 1, 'none'],
    ['5 Btu/(h ft2 degF) * a', 1, ' Btu/(h ft2 degF)| * a'],
    ['5 W/(m2 x)', 1, ' W|/(m2 x)'],
    ['5 %*x', 1, ' %|*x'],
    ['5 m ? a : b', 1, ' m| ? a : b'],
    ['5 m/s^2)', 1, ' m/s^2|)'],
    ['5 sq ft, 2', 1, ' sq ft|, 2'],
  ])('%s', (text, at, expected) => {
    expect(scanned(text, at)).toBe(expected);
  });

  test('where a product after a division may be meant in two ways, it is not read on and this is told', () => {
    expect(scanUnit('5 W/m K', 1)).toMatchObject({ end: 5, ambiguous: true });
    expect(scanUnit('5 W/m*K', 1)).toMatchObject({ end: 7 });
    expect(scanUnit('5 W/m*K', 1)?.ambiguous).toBeUndefined();
  });

  test('a deep or long text ends in a refusal, not in a crash', () => {
    expect(scanUnit(`5 ${'('.repeat(5000)}m`, 1)).toBeUndefined();
    expect(describeDimension(unit('((m))').dimension)).toBe('length');
    expect(scanUnit(`5 m${' m'.repeat(5000)}`, 1)?.unit.dimension).toBe(dimension({ length: 24 }));
  });
});

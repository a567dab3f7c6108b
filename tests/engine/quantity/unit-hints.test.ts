/** Units as people write them on sheets and in files: each is read, or the answer says what to write. */
import { describe, expect, test } from 'vitest';
import {
  Engine,
  FunctionLibrary,
  isUnitSymbol,
  parseUnit,
  renderDiagnostic,
} from '../../../src/engine/index.ts';
import { entry, refusal, unit } from './read.ts';

/** Written, and the same in the plain spelling. */
const READ: readonly (readonly [same: string, ...written: string[]])[] = [
  ['L/s', 'lps', 'LPS', 'l/s', 'L / sec'],
  ['m3/h', 'cmh', 'CMH', 'm3/hr', 'm³/h', 'm^3/hour'],
  ['ft2', 'sqft', 'sf', 'SF', 'sq ft', 'SQ FT', 'sq. ft.', 'sq.ft.', 'Sq. Ft.', 'square feet'],
  ['ft3', 'cuft', 'cu ft', 'cu. ft.', 'cu.ft.'],
  ['ft', 'lf', 'LF', 'lin ft', 'lin. ft.', 'lineal feet', 'ft.'],
  ['in', 'in.'],
  ['board_foot', 'bf', 'BF', 'bd ft', 'bd. ft.', 'board feet', 'fbm'],
  ['1/h', 'ach', 'ACH', '/h', '1/hr'],
  ['inH2O', 'in wc', 'in WC', 'in w.c.', 'in. w.c.', 'in. wc', 'in wg', 'in H2O', 'in. H2O', 'iwc', 'inWC'],
  ['inHg', 'in Hg', 'in. Hg'],
  ['Pa', 'pascal', 'pascals'],
  ['degF', '°F', 'ºF', '˚F', '℉', 'deg F', 'deg. F', 'degrees F', 'degrees Fahrenheit', 'fahrenheit'],
  ['degC', '°C', 'ºC', '˚C', 'deg C', 'degrees C', 'celsius'],
  ['refrigeration_ton', 'ton refrigeration', 'refrigeration ton'],
  ['perm*in', 'perm in', 'perm_in'],
];

describe('spellings that are read', () => {
  test.each(READ)('%s', (same, ...written) => {
    for (const text of written)
      expect(unit(text), text).toMatchObject({
        dimension: unit(same).dimension,
        factor: unit(same).factor,
        offset: unit(same).offset,
      });
  });
});

const GENERAL = 'a unit is written as ft, in, m2, L/s, Pa or 1/h';
const COUNTED = 'what is counted is a plain number: leave the unit empty, or write each';
const AT_50 = 'That it is at 50 Pa belongs in the name or the note';

/** The whole of what is said about each word. */
const SAID: readonly (readonly [written: string, said: string])[] = [
  ['m3h', "unknown unit 'm3h'; did you mean m3/h?"],
  ['x', "unknown unit 'x'; one value goes in: a hole of 4 in by 6 in is 24 in2"],
  ['ls', "unknown unit 'ls'; did you mean L/s?"],
  ['lpm', "unknown unit 'lpm'; did you mean L/min?"],
  ['cfpm', "unknown unit 'cfpm'; did you mean cfm?"],
  ['kcfm', "unknown unit 'kcfm'; did you mean cfm? 1 kcfm is 1000 cfm"],
  ['SCFM', "unknown unit 'SCFM'; did you mean cfm? Of which air it is belongs in the name or the note"],
  ['CFM50', `unknown unit 'CFM50'; did you mean cfm? ${AT_50}`],
  ['cfm50/ft2', `unknown unit 'cfm50'; did you mean cfm? ${AT_50}`],
  ['ACH50', `unknown unit 'ACH50'; did you mean ACH? ${AT_50}`],
  ['n50', `unknown unit 'n50'; did you mean ACH? ${AT_50}`],
  ['m3h50', `unknown unit 'm3h50'; did you mean m3/h? ${AT_50}`],
  ['cfm25', "unknown unit 'cfm25'; did you mean cfm? That it is at 25 Pa belongs in the name or the note"],
  ['acph', "unknown unit 'acph'; did you mean ACH?"],
  ['ac/h', "unknown unit 'ac'; did you mean ACH? It stands for air changes per hour; an acre is written out"],
  ['per hour', "unknown unit 'per'; did you mean 1/h? That is per hour"],
  ['rpm', "unknown unit 'rpm'; did you mean 1/min?"],
  ['SQFT', "unknown unit 'SQFT'; did you mean sqft?"],
  ['sqm', "unknown unit 'sqm'; did you mean m2?"],
  ['squares', "unknown unit 'squares'; did you mean ft2? A square of roofing is 100 ft2"],
  ['SY', "unknown unit 'SY'; did you mean yd2?"],
  ['CF', "unknown unit 'CF'; did you mean ft3?"],
  ['CY', "unknown unit 'CY'; did you mean yd3?"],
  ['cum', "unknown unit 'cum'; did you mean m3?"],
  ['LFT', "unknown unit 'LFT'; did you mean lf?"],
  ['lm', "unknown unit 'lm'; did you mean m?"],
  ['mils', "unknown unit 'mils'; did you mean mil?"],
  ['MBF', "unknown unit 'MBF'; did you mean board_foot? 1 MBF is 1000 of them"],
  ['BD FT', "unknown unit 'BD'; did you mean board_foot?"],
  ['Feet', "unknown unit 'Feet'; did you mean feet?"],
  ['"', `'"' is not a unit; did you mean in?`],
  ["'", "''' is not a unit; did you mean ft?"],
  ['WC', "unknown unit 'WC'; did you mean inH2O?"],
  ['inh2o', "unknown unit 'inh2o'; did you mean inH2O?"],
  ['Pascal', "unknown unit 'Pascal'; did you mean pascal?"],
  ['kpa', "unknown unit 'kpa'; did you mean kPa?"],
  ['kw', "unknown unit 'kw'; did you mean kW?"],
  ['KWH', "unknown unit 'KWH'; did you mean kWh?"],
  ['btuh', "unknown unit 'btuh'; did you mean Btu/h?"],
  ['MBH', "unknown unit 'MBH'; did you mean Btu/h? 1 MBH is 1000 Btu/h"],
  [
    'MMBtu',
    "unknown unit 'MMBtu'; did you mean Btu? Write the number out: M is read as a thousand and as a million",
  ],
  ['degreesF', "unknown unit 'degreesF'; did you mean degF?"],
  ['HDD', "unknown unit 'HDD'; did you mean degF day? Or degC day"],
  ['R', "unknown unit 'R'; did you mean R_IP? That is h·ft²·°F/Btu; R_SI is m²·K/W"],
  ['U-value', "unknown unit 'U'; did you mean U_IP? That is Btu/(h·ft²·°F); U_SI is W/(m²·K)"],
  ['pct', "unknown unit 'pct'; did you mean %?"],
  ['rh', "unknown unit 'rh'; did you mean %? Relative humidity is a percentage"],
  ['€/m2', "'€/m2' is not a unit; did you mean $? Money has one unit in a workbook, whatever the currency"],
  ['cents', "unknown unit 'cents'; did you mean $? 1 cent is 0.01 $"],
  ['pcs', `unknown unit 'pcs'; ${COUNTED}`],
  ['Sheets', `unknown unit 'Sheets'; ${COUNTED}`],
  ['qty', `unknown unit 'qty'; ${COUNTED}`],
  ['Btu/h-ft2-F', "'-ft2-F' is not part of a unit; did you mean Btu/(h ft2 degF)?"],
  ['hr-ft2-F/Btu', "'-ft2-F/Btu' is not part of a unit; did you mean hr ft2 degF/Btu?"],
  ['W/m2K', "'/m2K' is not part of a unit; did you mean W/(m2 K)?"],
  ['W/(m2.K)', "'/(m2.K)' is not part of a unit; did you mean W/(m2 K)?"],
  [
    'Btu/hr·ft²·F',
    "'Btu/hr·ft²·F' can be read in two ways after the division; put what is divided by in parentheses, for instance Btu/(hr ft² degF)",
  ],
  ['perm-in', "'-in' is not part of a unit; did you mean perm in?"],
  ['cfm @ 50 Pa', "'@ 50 Pa' is not part of a unit; for instance cfm"],
  ['lux', `unknown unit 'lux'; ${GENERAL}`],
];

describe('spellings that are answered', () => {
  test.each(SAID)('%s', (written, said) => {
    const found = parseUnit(written);
    expect('problem' in found ? `${found.problem}; ${found.suggestion ?? ''}` : '').toBe(said);
  });

  test('whatever is proposed can be written', () => {
    for (const [, said] of SAID)
      for (const [, proposed = ''] of said.matchAll(/(?:did you mean|for instance) ([^?]+?)(?:\?|$)/gu))
        expect('problem' in parseUnit(proposed), proposed).toBe(false);
  });

  test('words that are answered stay free as names of cells', () => {
    for (const name of ['ac', 'sq', 'square', 'per', 'cf', 'd', 'R', 'U', 'count', 'sheets', 'n50', 'rpm'])
      expect(isUnitSymbol(name), name).toBe(false);
  });
});

describe('in an entry', () => {
  test.each([
    ['12 lpm', 'L/s', "unknown unit 'lpm'; did you mean L/min?"],
    ['431 CFM50', 'Pa', `unknown unit 'CFM50'; did you mean cfm? ${AT_50}`],
    [
      '2 exponent',
      '',
      `unknown unit 'exponent'; ${GENERAL}; a product as 2 * exponent; a remark goes into the note`,
    ],
    // In SI these letters are other units; the place tells what was meant.
    ['2 H', 'h', "'2 H' is an inductance; this entry is a time; type 2 h"],
    ['45 RH', '%', "'45 RH' is an inductance; this entry is a plain number; type 45 %"],
    ['50 PA', 'Pa', "'50 PA' is a current; this entry is a pressure; type 50 Pa"],
    [
      '0.05 Btu/(h ft2 F)',
      'Btu/(h ft2 degF)',
      "'0.05 Btu/(h ft2 F)' is of dimension length²·mass²/(time⁷·current²); this entry is a heat transmittance; type 0.05 Btu/(h ft2 degF)",
    ],
    ['68 F', undefined, "'68 F' may be degrees or farads; type 68 degF, or 68 farad"],
    ['20 C', undefined, "'20 C' may be degrees or coulombs; type 20 degC, or 20 coulomb"],
  ])('%s in %s', (text, place, said) => {
    expect(refusal(text, place)).toBe(said);
  });
});

test('in the place of a temperature F and C are degrees', () => {
  expect(entry('68 F', 'degF').si).toBeCloseTo(293.15, 10);
  expect(entry('20C', 'degF').si).toBeCloseTo(293.15, 10);
  expect(entry('68 ± 1 F', 'degC')).toMatchObject({ plusMinus: 5 / 9 });
  expect(entry('-4 F', 'degF').si).toBeCloseTo(253.15, 10);
  expect(entry('9 F', 'Fdeg').si).toBe(5);
  expect(entry('5 C', 'K').si).toBe(5);
  // Where they are what is asked for, they are the farad and the coulomb.
  expect(entry('2 F', 'farad').si).toBe(2);
});

describe('in a formula', () => {
  const engine = new Engine(new FunctionLibrary([]));
  engine.defineCell({ name: 'flow', type: 'number', text: '431 cfm', unit: 'cfm' });
  engine.recalculate();

  test.each(['flow + 12 lpm', 'flow + 2 kcfm', 'flow * 2 sheets', 'flow + 12 area', '12 exponent + flow'])(
    '%s',
    (formula) => {
      const found = engine.check(formula);
      expect(found === undefined ? 'no message' : renderDiagnostic(formula, found)).toMatchSnapshot();
    },
  );

  test('the unit beside a formula', () => {
    engine.defineCell({ name: 'swing', type: 'number', text: '68 degF - 30 degF' });
    engine.recalculate();
    const place = { unit: 'Btu/(h F)' };
    expect(engine.check('20 W/K * 1', { unit: 'Btu/(h degF)' })).toBeUndefined();
    expect(engine.check('20 W/K * 1', place)?.suggestion).toBe('did you mean the unit Btu/(h degF)?');
    expect(engine.check('68 degF + swing', { unit: 'F' })?.suggestion).toBe('did you mean the unit degF?');
    expect(engine.check('swing * 2', { unit: 'F' })?.suggestion).toBe('did you mean the unit Fdeg?');
  });
});

test('a volume typed where a flow is wanted is asked back as a flow, and elsewhere as the volume', () => {
  for (const text of ['18 cf', '18 cubic_feet']) {
    expect(refusal(text, 'cfm'), text).toContain('did you mean cfm?');
    expect(refusal(text, 'Pa'), text).toContain('did you mean ft3?');
  }
  expect(refusal('30 cbm', 'm3/h')).toContain('did you mean m3/h?');
  expect(refusal('30 ltr', 'L/s')).toContain('did you mean L/s?');
  // What needs a word more is no flow by itself.
  expect(refusal('2 ccf', 'cfm')).toContain('1 ccf is 100 ft3');
});

import { describe, expect, test } from 'vitest';
import { BUILTINS, FunctionLibrary, UNIT_ROWS } from '../../../src/engine/index.ts';
import { allFunctions } from '../../../src/face/reference/function-help.ts';
import { answers } from '../../../src/face/reference/search.ts';
import { unitGroups } from '../../../src/face/reference/unit-help.ts';
import { exampleArguments } from '../../../src/face/worksheet/signature.ts';
import { tradeFunctions } from '../../../src/trade/index.ts';
import { Workbook } from '../../../src/workbook/index.ts';
import { expectRelative } from '../../trade/closeness.ts';

const library = new FunctionLibrary(tradeFunctions);
const functions = allFunctions(library);

test('the list holds every function once, each under a topic', () => {
  expect(functions).toHaveLength(BUILTINS.size + tradeFunctions.length);
  expect(new Set(functions.map(({ name }) => name)).size).toBe(functions.length);
  expect(functions.filter(({ topic }) => topic === 'Other')).toEqual([]);
});

test('a function is found by its words, however they are written and in whatever order', () => {
  const found = (search: string) =>
    functions.filter((each) => answers(search, [each.name, each.summary])).map(({ name }) => name);
  expect(found('dew point')).toContain('dew_point');
  expect(found('dew_point')).toContain('dew_point');
  expect(found('Flow  fan')).toContain('fan_flow');
  expect(found('wainscot')).toEqual([]);
  expect(found('')).toHaveLength(functions.length);
});

test('a function says what it takes and gives, with units, and its example with the result worked out', () => {
  expect(functions.find(({ name }) => name === 'fan_flow')).toMatchObject({
    topic: 'Airtightness',
    signature: 'fan_flow(fan_pressure, coefficient, exponent)',
    parameters: [{ kind: 'in Pa' }, { kind: 'in m3/s' }, { kind: 'a plain number' }],
    gives: [{ name: '', kind: 'in m3/s' }],
    example: {
      formula: 'fan_flow(100 Pa, 0.025 m3/s, 0.5)',
      // 0.025 · 100^0.5, by hand.
      results: [{ name: '', text: '0.25 m³/s' }],
    },
  });
  const fit = functions.find(({ name }) => name === 'power_law_fit');
  expect(fit?.example).not.toHaveProperty('formula');
  expect(fit?.example?.given[0]?.text).toMatch(/^15 Pa, 20 Pa, /u);
  expect(fit?.example?.results.map(({ name }) => name)).toContain('exponent');
});

describe('an example of the language’s own functions', () => {
  const own = functions.filter(({ name }) => BUILTINS.has(name));
  const resultOf = (name: string) => own.find((each) => each.name === name)?.example?.results[0]?.text;

  test.each(own)('$name uses it and has a result', ({ name, example }) => {
    expect(example?.formula).toContain(`${name}(`);
    expect(example?.results[0]?.text).toMatch(/\d|yes/u);
  });

  test('says what its names stand for', () => {
    expect(own.find(({ name }) => name === 'where')?.example?.names).toEqual([
      { name: 'rooms.floor', text: '1, 1, 2' },
      { name: 'rooms.area', text: '280, 160, 200 ft2' },
    ]);
  });

  // By hand; Φ(0.05 / 0.03) = Φ(1.6667) = 0.9522 from tables of the normal distribution.
  test.each([
    ['abs', /^3 ft$/u],
    ['sqrt', /^12 ft$/u],
    ['where', /^440 ft²$/u],
    ['lookup', /^160 ft²$/u],
    ['mean', /^213\.3\d* ft²$/u],
    ['count', /^3$/u],
    ['otherwise', /^2 ft$/u],
    ['is_blank', /^yes$/u],
    ['uncertainty', /^0\.03$/u],
    ['chance', /^0\.952/u],
    ['nominal', /^1\.05$/u],
    ['absolute', /^293\.15 K$/u],
  ])('%s gives what is worked out by hand', (name, wanted) => {
    expect(resultOf(name)).toMatch(wanted);
  });
});

describe('an example that can be typed', () => {
  const typed = tradeFunctions.flatMap((definition) => {
    const between = exampleArguments(definition);
    return between === undefined ? [] : [{ definition, formula: `${definition.name}(${between})` }];
  });

  test('there are many', () => {
    expect(typed.length).toBeGreaterThan(20);
  });

  test.each(typed)('$formula gives in a cell what the definition says', ({ definition, formula }) => {
    const cell = {
      kind: 'cell',
      id: 'c',
      name: 'shown_result',
      label: '',
      type: 'text',
      unit: '',
      note: '',
    } as const;
    const section = { id: 's', title: '', note: '', items: [{ ...cell, text: `=${formula}` }] };
    const sheet = { id: 'w', title: '', note: '', sections: [section] };
    const workbook = new Workbook({ title: '', units: 'si', sheets: [sheet] }, library);
    const { result } = definition.example;
    const check = (name: string, expected: unknown) => {
      const state = workbook.state(name);
      if (typeof expected === 'number' && Number.isNaN(expected)) return;
      if (state.state !== 'value') throw new Error(JSON.stringify(state));
      if (typeof expected === 'number') expectRelative(state.value, expected, 1e-9, name);
      else expect(state.value).toBe(expected);
    };
    if (typeof result !== 'object') check('shown_result', result);
    else for (const [field, value] of Object.entries(result)) check(`shown_result.${field}`, value);
  });
});

describe('units', () => {
  const groups = unitGroups();
  const all = groups.flatMap(({ units }) => units);

  test('all of the table are listed, once, with source and size', () => {
    for (const { symbols } of UNIT_ROWS)
      expect(
        all.filter(({ name }) => name === symbols[0]),
        symbols[0],
      ).toHaveLength(1);
    for (const { name, size, source } of all) {
      expect(name, size).not.toBe('');
      expect(size, name).toMatch(/\d/u);
      expect(size, name).not.toMatch(/NaN|undefined/u);
      expect(source.length, name).toBeGreaterThan(3);
    }
  });

  test('stand by what they measure, one of each in SI', () => {
    const length = groups.find(({ measures }) => measures === 'length');
    // Exact by the international yard and pound agreement of 1959.
    expect(length?.units.find(({ name }) => name === 'ft')).toMatchObject({ size: '0.3048 m' });
    const pressure = groups.find(({ measures }) => measures.startsWith('pressure'));
    // NIST SP 811 (2008), appendix B.8: conventional inch of water, 2.490 889 E+02 Pa.
    expect(pressure?.units.find(({ name }) => name === 'inH2O')?.size).toBe('249.08891 Pa');
    expect(all.find(({ name }) => name === 'degF')?.size).toMatch(
      /^its degree is 0.555555556 K; zero is 255\.37/u,
    );
  });
});

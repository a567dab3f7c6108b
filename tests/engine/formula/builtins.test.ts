/** Every builtin by example, and what it does with a blank, and with a fault (rules V1, V2, A4, F2, S1). */
import { describe, expect, test } from 'vitest';
import {
  BUILTINS,
  defineFunction,
  Engine,
  FunctionLibrary,
  type CellState,
} from '../../../src/engine/index.ts';

const LIBRARY = new FunctionLibrary([
  defineFunction({
    name: 'none',
    summary: 'an unavailable number',
    source: 'made for this test',
    limits: 'none',
    parameters: [{ name: 'number', type: { kind: 'quantity', unit: '' }, summary: 'any' }],
    result: { kind: 'quantity', unit: '' },
    example: { arguments: [1], result: NaN },
    compute: () => NaN,
  }),
]);

/** `own`: the formula of one more column. */
function book(own = 'n'): Engine {
  const engine = new Engine(LIBRARY);
  engine.defineTable({
    name: 't',
    rows: 5,
    columns: [
      { name: 'k', type: 'text', entries: ['a', 'b', 'c', 'd', 'd'] },
      { name: 'x', type: 'number', unit: 'm', entries: ['3', '1', '', '4', '2'] },
      { name: 'n', type: 'number', entries: ['1', '2', '3', '', ''] },
      { name: 'bad', type: 'number', formula: '1 / (n - 2)', entries: [] },
      { name: 'temperature', type: 'number', unit: 'degC', entries: ['10', '20', '', '', ''] },
      { name: 'unread', type: 'number', entries: [] },
      { name: 'twice', type: 'number', formula: '2 * unread', entries: [] },
      { name: 'place', type: 'number', entries: ['1', '2', '3', '4', '5'] },
      { name: 'of_place', type: 'number', formula: 'lookup(t.x, t.place, place)', entries: [] },
      { name: 'own', type: 'number', formula: own, entries: [] },
    ],
  });
  engine.defineTable({ name: 'empty', rows: 0, columns: [{ name: 'x', type: 'number', entries: [] }] });
  const cell = (name: string, text: string, unit = ''): void => {
    engine.defineCell({ name, type: 'number', text, unit });
  };
  cell('blank', '');
  cell('faulty', '1 / 0');
  cell('two', '2 ± 0.5');
  cell('three', '3 ± 1.2');
  cell('indoor', '20', 'degC');
  return engine;
}

function evaluate(text: string): CellState {
  const engine = book();
  engine.defineCell({ name: 'y', type: 'number', text: `= ${text}` });
  engine.recalculate();
  return engine.read('y');
}

const reasonIn = (state: CellState) => (state.state === 'blank' ? state.reason : state.state);

/** What a builtin gives: SI. Angles in radians; logarithms and roots by hand. */
const EXAMPLES: Readonly<Record<string, readonly (readonly [string, number | boolean | string])[]>> = {
  abs: [
    ['abs(-3 ft)', 0.9144],
    ['abs(0)', 0],
  ],
  sqrt: [['sqrt(9 m2)', 3]],
  exp: [['exp(1)', Math.E]],
  log: [['log(exp(2))', 2]],
  log10: [['log10(1000)', 3]],
  sin: [
    ['sin(30 deg)', 0.5],
    ['sin(pi / 2)', 1],
  ],
  cos: [['cos(60 deg)', 0.5]],
  tan: [['tan(45 deg)', 1]],
  asin: [['asin(1)', Math.PI / 2]],
  acos: [['acos(-1)', Math.PI]],
  atan: [['atan(1)', Math.PI / 4]],
  floor: [
    ['floor(-2.5)', -3],
    ['floor(7 ft, 2 ft)', 1.8288],
  ],
  ceil: [
    ['ceil(2.1)', 3],
    ['ceil(7 ft, 2 ft)', 2.4384],
  ],
  round: [
    ['round(2.5)', 3],
    ['round(-2.5)', -3],
    ['round(7.2 m, 0.5 m)', 7],
  ],
  min: [
    ['min(3 m, 2 m, 4 m)', 2],
    ['min(t.x)', 1],
  ],
  max: [
    ['max(3, 7)', 7],
    ['max(t.x)', 4],
  ],
  sum: [
    ['sum(t.x)', 10],
    ['sum(t.x * t.n)', 5],
    ['sum(empty.x)', 0],
  ],
  full_sum: [
    ['full_sum(where(t.n, t.k != "d"))', 6],
    ['full_sum(where(t.x, t.n > 1 and t.n < 3))', 1],
  ],
  mean: [
    ['mean(t.x)', 2.5],
    ['absolute(mean(t.temperature))', 288.15],
  ],
  count: [
    ['count(t.x)', 4],
    ['count(t.k)', 5],
    ['count(empty.x)', 0],
  ],
  where: [
    ['sum(where(t.x, t.n > 1))', 1],
    ['count(where(t.k, t.k == "d"))', 2],
    ['sum(where(t.x, t.n > 99))', 0],
  ],
  lookup: [
    ['lookup(t.x, t.k, "b")', 1],
    ['lookup(t.n, t.x, 3 m)', 1],
  ],
  is_blank: [
    ['is_blank(blank)', true],
    ['is_blank(two)', false],
    ['is_blank(none(1))', true],
  ],
  otherwise: [
    ['otherwise(blank, 7)', 7],
    ['otherwise(two, 7)', 2],
    ['otherwise(blank, blank + 1) == 1 or true', true],
  ],
  nominal: [['nominal(two)', 2]],
  uncertainty: [
    ['uncertainty(two)', 0.5],
    ['uncertainty(indoor)', 0],
  ],
  chance: [
    // The difference 1 ± 1.3 is not below zero with probability Φ(1/1.3): normal tables, Φ(0.7692) = 0.7791.
    ['round(chance(two <= three), 0.0001)', 0.7791],
    ['chance(indoor > 10 degC)', 1],
    ['chance(indoor < 10 degC)', 0],
  ],
  absolute: [['absolute(indoor)', 293.15]],
};

describe('V: every builtin has an example that is run', () => {
  test('and none is left out', () => {
    expect(Object.keys(EXAMPLES).sort()).toEqual([...BUILTINS.keys()].sort());
  });
  test.each(Object.values(EXAMPLES).flat())('%s', (text, expected) => {
    const state = evaluate(text);
    expect(state).toMatchObject({ state: 'value' });
    const value = state.state === 'value' ? state.value : undefined;
    if (typeof expected === 'number') expect(value).toBeCloseTo(expected, 12);
    else expect(value).toBe(expected);
  });
});

describe('V1: a blank makes the result blank', () => {
  test.each(
    [...BUILTINS]
      .filter(([, b]) => ['plain', 'keeps', 'root', 'round', 'extreme', 'nominal'].includes(b.kind))
      .map(([name]) => name),
  )('%s', (name) => {
    const most = name === 'min' || name === 'max' ? 'blank, 2' : 'blank';
    expect(evaluate(`${name}(${most})`)).toMatchObject({ state: 'blank' });
    expect(evaluate(`${name}(${most.replace('blank', 'faulty')})`)).toEqual({
      state: 'waiting',
      for: 'faulty',
    });
  });

  test.each([
    ['blank + 1', 'blank'],
    ['blank * 0', 'blank'],
    ['-blank', 'blank'],
    ['blank ^ 0', 'blank'],
    ['blank == blank', 'blank'],
    ['blank > 1 ? 1 : 2', 'blank'],
    ['true ? blank : faulty', 'blank'],
    ['true ? two : faulty', 'value'],
    ['false and faulty > 1', 'value'],
    ['true or blank > 1', 'value'],
    ['true and blank > 1', 'blank'],
    ['blank > 1 and faulty > 1', 'waiting'],
    ['not (blank > 1)', 'blank'],
    ['is_blank(faulty)', 'waiting'],
    ['otherwise(faulty, 2)', 'waiting'],
    ['otherwise(two, faulty)', 'value'],
    ['otherwise(blank, faulty)', 'waiting'],
    ['otherwise(blank, blank)', 'blank'],
    ['nominal(faulty)', 'waiting'],
    ['uncertainty(blank)', 'blank'],
    ['uncertainty(faulty)', 'waiting'],
    ['chance(blank < two)', 'blank'],
    ['chance(two < faulty)', 'waiting'],
    ['lookup(t.x, t.k, "c")', 'blank'],
    ['lookup(t.x, t.n, blank)', 'blank'],
    ['lookup(t.x, t.n, faulty)', 'waiting'],
    ['none(1) + 1', 'blank'],
  ])('%s is %s', (text, state) => {
    expect(evaluate(text)).toMatchObject({ state });
  });
});

describe('V2: no rows', () => {
  test.each(['min', 'max', 'mean'])('%s of none is blank, with the reason', (name) => {
    expect(evaluate(`${name}(empty.x)`)).toMatchObject({ state: 'blank', reason: 'no row for it yet' });
    expect(evaluate(`${name}(where(t.x, t.n > 99))`)).toMatchObject({
      state: 'blank',
      reason: 'no row for it yet',
    });
  });

  test.each(['min', 'max', 'mean'])('%s says where there are rows, and all are blank', (name) => {
    const reasonOf = (text: string) => reasonIn(evaluate(text));
    expect(reasonOf(`${name}(t.unread)`)).toBe('every row of t.unread is blank yet: type it there');
    expect(reasonOf(`${name}(t.twice)`)).toBe('every row of t.twice is blank yet');
    expect(reasonOf(`${name}(where(t.unread, t.n > 1))`)).toBe('every row for it of t.unread is blank yet');
    expect(reasonOf(`${name}(where(t.twice + 1, t.n > 1))`)).toBe('every row for it is blank yet');
    expect(reasonOf(`${name}(where(t.unread, t.n > 99))`)).toBe('no row for it yet');
  });
});

describe('A4: full_sum waits for every row', () => {
  test.each([
    ['full_sum(empty.x)', 'no row for it yet'],
    ['full_sum(where(t.x, t.n > 99))', 'no row for it yet'],
    ['full_sum(t.x)', 't.x has nothing in row 3 yet: type it there'],
    ['full_sum(where(t.x, t.n > 1))', 't.x has nothing in row 3 yet'],
    ['full_sum(where(t.n, t.k == "d"))', 't.n has nothing in row 4 yet'],
    ['full_sum(t.x * t.n)', 'row 3 of t gives nothing for it yet'],
    ['full_sum(t.of_place)', 't.x is empty in row 3: type it there'],
  ])('%s: %s', (text, reason) => {
    expect(evaluate(text)).toMatchObject({ state: 'blank', reason });
  });

  test('a row is left out where its condition is not known', () => {
    expect(evaluate('full_sum(where(t.n, t.n < 3))')).toMatchObject({ state: 'value', value: 3 });
  });

  test.each([
    ['full_sum(where(t.x, t.k == k))', ['3', '1', 't.x has nothing in row 3 yet: type it there', '6', '6']],
    [
      'full_sum(where(t.n, t.n > n))',
      ['5', '3', 'no row for it yet', 'no row for it yet', 'no row for it yet'],
    ],
    [
      'mean(where(t.x, t.k == k))',
      ['3', '1', 'every row for it of t.x is blank yet: type it there', '3', '3'],
    ],
  ])('row by row: %s', (formula, wanted) => {
    const engine = book(formula);
    engine.recalculate();
    const shown = [0, 1, 2, 3, 4].map((row) => {
      const state = engine.readRow('t', 'own', row);
      return state.state === 'value' ? String(state.value) : reasonIn(state);
    });
    expect(shown).toEqual(wanted);
  });

  test('once the last row is typed it is the sum, and its ± is that of the rows', () => {
    const engine = new Engine(LIBRARY);
    const define = (third: string) => {
      engine.defineTable({
        name: 'r',
        rows: 3,
        columns: [{ name: 'x', type: 'number', unit: 'm', entries: ['1 ± 0.3', '2 ± 0.4', third] }],
      });
      engine.recalculate();
    };
    engine.defineCell({ name: 'all', type: 'number', text: 'full_sum(r.x)', unit: 'm' });
    engine.defineCell({ name: 'spread', type: 'number', text: 'uncertainty(all)', unit: 'm' });
    define('');
    expect(engine.read('all')).toMatchObject({ state: 'blank' });
    expect(engine.read('spread')).toMatchObject({ state: 'blank' });
    define('4');
    expect(engine.read('all')).toMatchObject({ state: 'value', value: 7 });
    expect(engine.read('spread')).toMatchObject({ state: 'value', value: 0.5 });
    define('');
    expect(engine.read('all')).toMatchObject({ state: 'blank' });
  });
});

describe('A1: a column function waits for its faulty row', () => {
  test.each(['sum', 'full_sum', 'mean', 'min', 'max', 'count'])('%s', (name) => {
    expect(evaluate(`${name}(t.bad)`)).toEqual({ state: 'waiting', for: 't.bad, row 2' });
  });
  test('unless the row is left out', () => {
    expect(evaluate('sum(where(t.bad, t.n != 2))')).toMatchObject({ state: 'value', value: 0 });
  });
});

describe('A3: a key stands in exactly one row', () => {
  test.each([
    ['lookup(t.x, t.k, "z")', 'no row of t has "z" as k'],
    ['lookup(t.x, t.k, "d")', '"d" stands in two rows of t as k'],
  ])('%s', (text, fault) => {
    expect(evaluate(text)).toMatchObject({ state: 'fault', fault });
  });
});

describe('S1: a fault names what went wrong, and where in the text', () => {
  test.each([
    ['1 / (two - 2)', 'division by zero in 1 / (two - 2)'],
    ['two + sqrt(-two)', 'the square root of a negative number in sqrt(-two)'],
    ['log(two - 2)', 'the logarithm of a number that is not above zero in log(two - 2)'],
    ['log10(-two)', 'the logarithm of a number that is not above zero in log10(-two)'],
    ['(-two) ^ 0.5', 'a negative number raised to a fractional power in (-two) ^ 0.5'],
    ['(two - 2) ^ -1', 'zero raised to a negative power in (two - 2) ^ -1'],
    ['asin(two)', 'no angle has this sine in asin(two)'],
    ['acos(-two)', 'no angle has this cosine in acos(-two)'],
    ['round(three, two - 2)', 'rounding to a step of zero in round(three, two - 2)'],
    ['floor(three, two - 2)', 'rounding to a step of zero in floor(three, two - 2)'],
    ['ceil(three, two - 2)', 'rounding to a step of zero in ceil(three, two - 2)'],
    ['exp(1000 * two)', 'the result of exp(1000 * two) is too large to hold'],
    ['10 ^ (200 * two)', 'the result of 10 ^ (200 * two) is too large to hold'],
  ])('%s', (text, fault) => {
    const state = evaluate(text);
    expect(state).toMatchObject({ state: 'fault', fault });
    if (state.state !== 'fault') throw new Error('not a fault');
    expect(state.suggestion?.length).toBeGreaterThan(5);
    const part = fault.replace(/^.* (?:in|of) (.*?)(?: is too large to hold)?$/, '$1');
    expect(`= ${text}`.slice(state.span?.start, state.span?.end)).toContain(part);
  });
});

test('V1: a lookup of an empty place says which one, and where to type', () => {
  expect(evaluate('lookup(t.x, t.k, "c")')).toEqual({
    state: 'blank',
    type: expect.anything() as unknown,
    reason: 't.x is empty in row 3: type it there',
  });
});

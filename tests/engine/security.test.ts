/**
 * Rules C1 and L1: a formula from a stranger reaches nothing but cells, columns, fields and the listed functions, and
 * costs no more than its limits allow. The attempts are those that mathjs's own documentation warns of
 * (expressions/security.md: constructors, import, createUnit, reviver, evaluate, parse, simplify, derivative, resolve),
 * and the words to which every JavaScript object answers.
 */
import { describe, expect, test } from 'vitest';
import {
  defineFunction,
  Engine,
  FunctionLibrary,
  isDiagnostic,
  type CellState,
} from '../../src/engine/index.ts';
import { parse } from '../../src/engine/formula/parse.ts';

const OBJECT_WORDS = Object.getOwnPropertyNames(Object.prototype);

const parts = defineFunction({
  name: 'parts_of',
  summary: 'a record of two',
  source: 'made for this test',
  limits: 'none',
  parameters: [{ name: 'x', type: { kind: 'quantity', unit: '' }, summary: 'a number' }],
  result: {
    kind: 'record',
    fields: {
      half: { type: { kind: 'quantity', unit: '' }, summary: 'half' },
      double: { type: { kind: 'quantity', unit: '' }, summary: 'double' },
    },
  },
  example: { arguments: [2], result: { half: 1, double: 4 } },
  compute: (x: number) => ({ half: x / 2, double: 2 * x }),
});

function house(): Engine {
  const engine = new Engine(new FunctionLibrary([parts]));
  engine.defineCell({ name: 'x', type: 'number', text: '2' });
  engine.defineCell({ name: 'trade', type: 'text', text: 'taper' });
  engine.defineCell({ name: 'both', type: 'number', text: '= parts_of(x)' });
  engine.defineTable({
    name: 'rows',
    rows: 1,
    columns: [{ name: 'n', type: 'number', entries: ['1'] }],
  });
  engine.recalculate();
  return engine;
}

function valueOf(state: CellState): unknown {
  return state.state === 'value' ? state.value : state;
}

describe('C1: what a formula may not reach', () => {
  test.each([
    // Constructors of functions, by way of a member.
    ['f = [].map.constructor', 'assignment'],
    ['[].map.constructor("return process")()', 'matrix'],
    ['cos.constructor("return process")()', 'method'],
    ['sqrt.constructor', 'unknown-name'],
    ['sqrt(x).constructor', 'kind'],
    ['x.constructor', 'no-field'],
    ['x.constructor.constructor("return 1")()', 'method'],
    ['x["constructor"]', 'matrix'],
    ['both.constructor', 'unknown-field'],
    ['both.__proto__', 'unknown-field'],
    ['parts_of(x).toString', 'unknown-field'],
    ['parts_of.compute(1)', 'method'],
    ['"a".constructor("return 1")()', 'dot'],
    ['(x).constructor', 'dot'],
    ['rows.constructor', 'unknown-column'],
    ['rows.n.constructor', 'column-alone'],
    ['{"constructor": 1}.a', 'object'],
    ['{}.constructor', 'object'],
    // Functions that add to, or evaluate in, the language.
    ['import({pi: 3})', 'object'],
    ['import("fs")', 'unknown-function'],
    ['createUnit("knot")', 'unknown-function'],
    ['createUnit("cfm", "2 m")', 'unknown-function'],
    ['reviver("a", x)', 'unknown-function'],
    ['evaluate("x = 1")', 'unknown-function'],
    ['eval("1")', 'unknown-function'],
    ['parse("1 + 1")', 'unknown-function'],
    ['parse("1 + 1").compile().evaluate()', 'no-operator'],
    ['compile("1")', 'unknown-function'],
    ['simplify("x + x")', 'unknown-function'],
    ['derivative("x ^ 2", "x")', 'unknown-function'],
    ['resolve("x")', 'unknown-function'],
    ['rationalize("x")', 'unknown-function'],
    ['config({number: "BigNumber"})', 'object'],
    ['chain(x)', 'unknown-function'],
    ['typed("x")', 'unknown-function'],
    ['unit("1 m")', 'unknown-function'],
    ['help(sin)', 'unknown-function'],
    ['print("$x", x)', 'unknown-function'],
    ['Function("return 1")', 'unknown-function'],
    // Definitions of its own.
    ['f(x) = x', 'function-definition'],
    ['x = 3', 'assignment'],
    ['x => x', 'function-definition'],
    ['x; x', 'block'],
    // Large answers to short questions.
    ['1:100000000', 'range'],
    ['zeros(10000, 10000)', 'unknown-function'],
    ['factorial(1e9)', 'unknown-function'],
    ['170!', 'factorial'],
    // The world around it.
    ['globalThis', 'unknown-name'],
    ['this', 'unknown-name'],
    ['process.exit(1)', 'method'],
    ['window.alert(1)', 'method'],
    ['new Date()', 'no-operator'],
    ['`a`', 'quote'],
    ['${x}', 'reference'],
    ['</script>', 'missing-value'],
    // Letters that are not what they look like.
    ['\u202ex', 'character'],
    ['x\u200b + 1', 'character'],
    ['х', 'character'],
  ])('%s is refused as %s', (formula, code) => {
    const found = house().check(formula);
    expect(found?.code).toBe(code);
    expect(found?.message).not.toMatch(/undefined|\[object|function \w+\(/);
  });

  test.each(OBJECT_WORDS)('%s is a name like any other, known or unknown', (word) => {
    const engine = house();
    expect(engine.check(word)?.code).toBe('unknown-name');
    expect(engine.check(`${word}(x)`)?.code).toBe('unknown-function');
    expect(engine.check(`x.${word}`)?.code).toBe('no-field');
    expect(engine.check(`both.${word}`)?.code).toBe('unknown-field');
    expect(engine.check(`rows.${word}`)?.code).toBe('unknown-column');
    expect(engine.read(word)).toMatchObject({ state: 'invalid' });
    expect(engine.readRow('rows', word, 0)).toMatchObject({ state: 'invalid' });
    expect(engine.readRow(word, 'n', 0)).toMatchObject({ state: 'invalid' });
    expect(engine.budget(word)).toBeUndefined();
    expect(engine.typeOf(word)).toBeUndefined();
    expect(engine.precedents(word)).toEqual([]);
  });

  test.each(OBJECT_WORDS)('%s as a cell, a table, a column, a text, a choice and a key works', (word) => {
    const engine = house();
    engine.defineTable({
      name: `${word}s`,
      rows: 2,
      columns: [
        { name: word, type: 'text', entries: [word, 'other'] },
        { name: 'n', type: 'number', entries: ['3', '4'] },
      ],
    });
    engine.defineCell({ name: word, type: 'number', text: '5' });
    engine.defineCell({ name: 'key', type: 'choice', text: word, choices: ['other', word] });
    engine.defineCell({ name: 'found', type: 'number', text: `lookup(${word}s.n, ${word}s.${word}, key)` });
    engine.defineCell({ name: 'twice', type: 'number', text: `${word} * 2` });
    engine.defineCell({ name: 'same', type: 'number', text: `key == "${word}"` });
    engine.recalculate();
    expect(valueOf(engine.read('found'))).toBe(3);
    expect(valueOf(engine.read('twice'))).toBe(10);
    expect(valueOf(engine.read('same'))).toBe(true);
    expect(valueOf(engine.readRow(`${word}s`, word, 0))).toBe(word);
    engine.removeTable(`${word}s`);
    engine.removeCell(word);
    engine.recalculate();
    expect(engine.read('found').state).not.toBe('value');
    expect(engine.read('twice').state).not.toBe('value');
    expect(Object.keys(Object.prototype)).toEqual([]);
  });

  test('what a function means cannot be changed at run time', () => {
    expect(Object.isFrozen(parts)).toBe(true);
    expect(() => new FunctionLibrary([parts, parts])).toThrow('declared twice');
  });
});

describe('L1: what a formula may cost', () => {
  const code = (text: string): string => {
    const e = parse(text);
    return isDiagnostic(e) ? e.code : 'read';
  };
  const nested = (open: string, inner: string, close: string, n: number): string =>
    open.repeat(n) + inner + close.repeat(n);

  test('10,000 characters are read, one more is refused', () => {
    expect(code('1'.padEnd(10_000))).toBe('read');
    expect(code('1'.padEnd(10_001))).toBe('too-long');
  });

  test('5,000 parts are read, one more is refused', () => {
    // 2,499 signs, 2,499 numbers, the call and what comes last.
    const list = (last: string): string => `max(${'-1,'.repeat(2499)}${last})`;
    expect(code(list('1'))).toBe('read');
    expect(code(list('-1'))).toBe('too-big');
  });

  test('500 operators in a row are read, one more is refused', () => {
    const sum = (n: number): string => Array.from({ length: n + 1 }, () => '1').join('+');
    expect(code(sum(500))).toBe('read');
    expect(code(sum(501))).toBe('too-long-chain');
    expect(code(`1 + (${sum(500)})`)).toBe('too-long-chain');
  });

  test.each([
    ['brackets', '(', ')'],
    ['signs', '-', ''],
    ['not', 'not ', ''],
    ['calls', 'sqrt(', ')'],
    ['powers', '2^', ''],
    ['conditions', '1>0?', ':0'],
    ['second halves', '1>0?1:', ''],
  ])('%s nested 5,000 deep are refused, with a place inside the text', (_, open, close) => {
    const deep = Math.floor(9_999 / (open.length + close.length));
    const text = nested(open, '1', close, Math.min(5000, deep));
    const found = parse(text);
    if (!isDiagnostic(found)) expect.fail('it was read');
    expect(found.code).toBe('too-deep');
    expect(found.span.end).toBeLessThanOrEqual(text.length);
    expect(code(nested(open, '1', close, 60))).toBe('read');
  });

  test('a formula at the limit of parts and depth is checked, run and run backwards', () => {
    const engine = new Engine(new FunctionLibrary([]));
    engine.defineCell({ name: 'x', type: 'number', text: '2 ± 0.1' });
    engine.defineCell({
      name: 'wide',
      type: 'number',
      text: Array(8)
        .fill(`(${Array(300).fill('x').join('+')})`)
        .join('+'),
    });
    engine.defineCell({ name: 'deep', type: 'number', text: nested('sqrt(', 'x * x', ')', 150) });
    engine.recalculate();
    expect(engine.read('wide')).toMatchObject({ value: 4800, plusMinus: expect.closeTo(240, 9) as unknown });
    expect(valueOf(engine.read('deep'))).toBeCloseTo(1, 12);
  });

  test.each(['9^9^9^9', '(9^9^9)^(9^9^9)', 'exp(1e9)', '1e308 * 10', '10 ^ 400 - 10 ^ 400'])(
    '%s is a fault that says so, not a number',
    (formula) => {
      const engine = house();
      engine.defineCell({ name: 'big', type: 'number', text: `= ${formula} * x` });
      engine.defineCell({ name: 'reader', type: 'number', text: 'big + 1' });
      engine.recalculate();
      expect(engine.read('big')).toMatchObject({
        state: 'fault',
        fault: expect.stringContaining('too large to hold') as unknown,
      });
      expect(engine.read('reader')).toEqual({ state: 'waiting', for: 'big' });
    },
  );
});

describe('large workbooks', { timeout: 120_000 }, () => {
  const COUNT = 100_000;

  test('a chain of 100,000 cells is worked out, with its ±, and follows an edit', () => {
    const engine = new Engine(new FunctionLibrary([]));
    // From the end to the beginning: no order helps.
    for (let i = COUNT - 1; i > 0; i--)
      engine.defineCell({ name: `c${i}`, type: 'number', text: `c${i - 1} + 1` });
    engine.defineCell({ name: 'c0', type: 'number', text: '5 ± 0.5' });
    engine.recalculate();
    const last = `c${COUNT - 1}`;
    expect(engine.read(last)).toMatchObject({ value: COUNT + 4, plusMinus: 0.5 });
    engine.defineCell({ name: 'c0', type: 'number', text: '7 ± 0.25' });
    engine.recalculate();
    expect(engine.read(last)).toMatchObject({ value: COUNT + 6, plusMinus: 0.25 });
    // R3: closed to a circle, it is told, and opened again it runs.
    engine.defineCell({ name: 'c0', type: 'number', text: `${last} + 1` });
    engine.recalculate();
    expect(engine.read(last)).toMatchObject({ state: 'invalid', diagnostic: { code: 'loop' } });
    engine.defineCell({ name: 'c0', type: 'number', text: '1' });
    engine.recalculate();
    expect(valueOf(engine.read(last))).toBe(COUNT);
  });

  test('a cell read by 100,000 others wakes each once', () => {
    const engine = new Engine(new FunctionLibrary([]));
    engine.defineCell({ name: 'x', type: 'number', text: '1 ± 0.1' });
    for (let i = 0; i < COUNT; i++)
      engine.defineCell({ name: `f${i}`, type: 'number', text: `x * ${i} + x` });
    engine.recalculate();
    engine.defineCell({ name: 'x', type: 'number', text: '2 ± 0.1' });
    expect(engine.recalculate().names.size).toBe(COUNT + 1);
    expect(engine.read(`f${COUNT - 1}`)).toMatchObject({
      value: 2 * COUNT,
      plusMinus: expect.closeTo(COUNT / 10, 6) as unknown,
    });
  });

  test('a bomb of 1,000 doublings is 1,000 steps, not 2 to the 1,000th', () => {
    const engine = new Engine(new FunctionLibrary([]));
    engine.defineCell({ name: 'd0', type: 'number', text: '1 ± 0.001' });
    for (let i = 1; i <= 1000; i++)
      engine.defineCell({ name: `d${i}`, type: 'number', text: `d${i - 1} + d${i - 1}` });
    engine.recalculate();
    expect(engine.read('d1000')).toMatchObject({
      value: 2 ** 1000,
      plusMinus: expect.closeTo(0.001 * 2 ** 1000, -280) as unknown,
    });
    expect(engine.budget('d1000')?.lines).toHaveLength(1);
  });
});

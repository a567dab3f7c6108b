/** Rules R1 and R2 where a wide edit comes again and again, so that it goes along a route. */
import { afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { defineFunction, Engine, FunctionLibrary, type CellState } from '../../../src/engine/index.ts';
import { routesAtHand } from '../../../src/engine/calculation/route-code.ts';
import { chanceFrom, pick, type Chance } from './random-formula.ts';
import { halve, watched } from './watched.ts';

const WIDE = 600;

const LIBRARY = new FunctionLibrary([
  halve,
  defineFunction({
    name: 'parts',
    summary: 'a number in two parts',
    source: 'made for this test',
    limits: 'none',
    parameters: [{ name: 'x', type: { kind: 'quantity', unit: '' }, summary: 'a number' }],
    result: {
      kind: 'record',
      fields: {
        whole: { type: { kind: 'quantity', unit: '' }, summary: 'whole part' },
        rest: { type: { kind: 'quantity', unit: '' }, summary: 'the rest' },
      },
    },
    example: { arguments: [2.5], result: { whole: 2, rest: 0.5 } },
    compute: (x: number) => ({ whole: Math.floor(x), rest: x - Math.floor(x) }),
  }),
]);

/** Formulas of all kinds over the source, two inputs, a table, and what was made before; many with faults at times. */
const KINDS: readonly ((x: string, y: string) => string)[] = [
  (x, y) => `${x} + ${y} / 3`,
  (x, y) => `(${x} - ${y}) / 2`,
  (x, y) => `${x} * 0.4 + ${y} * 0.6`,
  (x) => `sqrt(abs(${x}) + 1)`,
  (x) => `sqrt(${x})`,
  (x, y) => `${x} / (${y} - source)`,
  (x, y) => `${x} > ${y} ? ${x} - ${y} : ${y} / (source - 2)`,
  (x, y) => `otherwise(${x}, ${y})`,
  (x) => `is_blank(${x}) ? 1 : 2`,
  (x) => `min(max(${x}, -50), 50)`,
  (x, y) => `${x} ^ 2 / (abs(${y}) + 1)`,
  (x) => `exp(-abs(${x}) / 9) + log(abs(${x}) + 1)`,
  (x) => `round(${x}, 0.25) + floor(${x} / 7)`,
  (x, y) => `not (${x} == ${y}) and ${x} < 9 ? 1 : 0`,
  (x) => `halve(${x})`,
  (x) => `parts(${x}).rest`,
  (x) => `record.whole + ${x} / 5`,
  (x) => `sum(rows.twice) / 9 + ${x} / 4`,
  (x) => `lookup(rows.size, rows.key, "b") - ${x} / 2`,
  (x) => `word == "much" ? ${x} : ${x} / 2`,
];

type Texts = ReadonlyMap<string, string>;

function book(chance: Chance): Texts {
  const texts = new Map<string, string>();
  const names = ['source', 'other', 'none'];
  for (let k = 0; k < WIDE; k++) {
    const x = chance() < 0.5 ? 'source' : pick(chance, names);
    texts.set(`c${k}`, `= ${pick(chance, KINDS)(x, pick(chance, names))}`);
    names.push(`c${k}`);
  }
  return texts;
}

function engineOf(texts: Texts, source: string, size: string): Engine {
  const engine = new Engine(LIBRARY);
  const cell = (name: string, text: string): void => engine.defineCell({ name, type: 'number', text });
  cell('source', source);
  cell('other', '4.5');
  cell('none', '');
  cell('record', '= parts(source)');
  engine.defineCell({ name: 'word', type: 'text', text: '= source > 5 ? "much" : "little"' });
  engine.defineTable({
    name: 'rows',
    rows: 4,
    columns: [
      { name: 'key', type: 'text', entries: ['a', 'b', 'c', 'd'] },
      { name: 'size', type: 'number', entries: ['1', size, '', '4'] },
      { name: 'twice', type: 'number', formula: 'otherwise(size, 1) * source', entries: [] },
    ],
  });
  for (const [name, text] of texts) cell(name, text);
  engine.recalculate();
  return engine;
}

function states(engine: Engine, texts: Texts): Map<string, CellState> {
  const read = new Map<string, CellState>();
  for (const name of ['record.whole', 'word', ...texts.keys()]) read.set(name, engine.read(name));
  for (let row = 0; row < 4; row++) read.set(`rows.twice ${row}`, engine.readRow('rows', 'twice', row));
  return read;
}

const SOURCES = [
  '3',
  '4',
  '5',
  '6',
  '7',
  '2',
  '0',
  '-1',
  '8',
  '',
  '2',
  '2',
  '1e200',
  '3 ± 0.1',
  '9',
  'many',
  '5',
];

beforeAll(routesAtHand);
afterEach(() => vi.restoreAllMocks());

describe('R1 and R2 along routes', () => {
  test.each([1, 2, 3, 4, 5])('the edited engine equals one built fresh, seed %i', (seed) => {
    const made = vi.spyOn(WebAssembly, 'Module');
    const chance = chanceFrom(seed);
    const texts = new Map(book(chance));
    let size = '2';
    const engine = engineOf(texts, '1', size);
    let before = states(engine, texts);
    const follow = (source: string): void => {
      engine.defineCell({ name: 'source', type: 'number', text: source });
      const changes = engine.recalculate();
      const after = states(engine, texts);
      expect(after).toEqual(states(engineOf(texts, source, size), texts));
      const unsaid = [...after].filter(([name, state]) => {
        const known = changes.names.has(name.split(/[ .]/)[0]!) || changes.names.has(name.split(' ')[0]!);
        return !known && JSON.stringify(before.get(name)) !== JSON.stringify(state);
      });
      expect(unsaid).toEqual([]);
      before = after;
    };
    for (const source of SOURCES) follow(source);
    expect(made.mock.calls.length, 'a route was made').toBeGreaterThan(0);
    // Another edit between, and then another order.
    size = '7';
    engine.setEntry('rows', 'size', 1, size);
    engine.recalculate();
    before = states(engine, texts);
    for (const source of SOURCES.slice(0, 8)) follow(source);
    texts.set('c9', '= source * 3 - 1');
    engine.defineCell({ name: 'c9', type: 'number', text: '= source * 3 - 1' });
    engine.recalculate();
    before = states(engine, texts);
    for (const source of SOURCES) follow(source);
  });

  test('the same values come without machine code, where a page may not make it', () => {
    const texts = book(chanceFrom(7));
    const refused = vi.spyOn(WebAssembly, 'Module').mockImplementation(function () {
      throw new WebAssembly.CompileError('refused by the policy of the page');
    });
    const engine = engineOf(texts, '1', '2');
    for (const source of SOURCES) {
      engine.defineCell({ name: 'source', type: 'number', text: source });
      engine.recalculate();
      expect(states(engine, texts)).toEqual(states(engineOf(texts, source, '2'), texts));
    }
    expect(refused).toHaveBeenCalled();
  });

  test('a circle of cells on the way is gone around', () => {
    const engine = new Engine(LIBRARY);
    const cell = (name: string, text: string): void => engine.defineCell({ name, type: 'number', text });
    cell('source', '1');
    for (let k = 0; k < WIDE; k++) cell(`c${k}`, `= ${k === 0 ? 'source * 2' : `c${k - 1} + source`}`);
    cell('round', '= trip + c9');
    cell('trip', '= round - source');
    engine.recalculate();
    for (let k = 2; k < 12; k++) {
      cell('source', String(k));
      engine.recalculate();
      expect(engine.read(`c${WIDE - 1}`)).toMatchObject({ value: k * (WIDE + 1) });
      expect(engine.read('round')).toMatchObject({ state: 'invalid' });
    }
  });

  test('what costs more and stands last is worked out too', () => {
    const engine = new Engine(LIBRARY);
    const cell = (name: string, text: string): void => engine.defineCell({ name, type: 'number', text });
    cell('source', '1');
    for (let k = 0; k < WIDE; k++) cell(`c${k}`, `= ${k === 0 ? 'source * 2' : `c${k - 1} + source`}`);
    cell('half', `= halve(c${WIDE - 1})`);
    cell('halves', `= parts(half)`);
    engine.recalculate();
    for (let k = 2; k < 12; k++) {
      cell('source', String(k));
      engine.recalculate();
      expect(engine.read('half')).toMatchObject({ value: (k * (WIDE + 1)) / 2 });
      expect(engine.read('halves.whole')).toMatchObject({ value: Math.floor((k * (WIDE + 1)) / 2) });
    }
  });

  test('what costs more wakes only when something that it reads changed', () => {
    const { engine, calls } = watched();
    const cell = (name: string, text: string): void => engine.defineCell({ name, type: 'number', text });
    cell('source', '1');
    for (let k = 0; k < WIDE; k++) cell(`c${k}`, k === 0 ? '= source * 2' : `= c${k - 1} + source`);
    cell('step', '= floor(c9 / 1000)');
    cell('seen', '= watch(step)');
    cell('after', '= seen + 1');
    // A fault in the same words, and who waits for it.
    cell('bad', '= 1 / (source * 0)');
    cell('waits', '= bad + source');
    engine.recalculate();
    calls();
    for (let k = 2; k < 12; k++) {
      cell('source', String(k));
      expect(engine.recalculate().names.size).toBe(1 + WIDE);
      expect(calls()).toBe(0);
    }
    cell('source', '200');
    expect(engine.recalculate().names).toContain('after');
    expect(calls()).toBe(1);
    expect(engine.read('after')).toMatchObject({ value: 3 });
  });
});

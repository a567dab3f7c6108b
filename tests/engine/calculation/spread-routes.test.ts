/** The ± of every cell where thousands are found again and again, so that a route finds them. */
import { afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { Engine, FunctionLibrary, type CellState } from '../../../src/engine/index.ts';
import { routesAtHand } from '../../../src/engine/calculation/route-code.ts';
import { chanceFrom, pick, type Chance } from './random-formula.ts';
import { halve } from './watched.ts';

const MANY = 500;

const LIBRARY = new FunctionLibrary([halve]);

/** Formulas of all kinds; values stay near those of the inputs, some cancel, some are flat, some fault at times. */
const KINDS: readonly ((x: string, y: string) => string)[] = [
  (x, y) => `(${x} + ${y}) / 2`,
  (x, y) => `${x} * 0.4 + ${y} * 0.6`,
  (x, y) => `${x} - ${y} + a`,
  (x) => `sqrt(abs(${x}) + 1)`,
  (x, y) => `${x} / (abs(${y}) + 1)`,
  (x) => `${x} / (source - 5)`,
  (x, y) => `${x} > ${y} ? ${x} - (${x} - ${y}) / 2 : ${y}`,
  (x, y) => `min(max(${x}, ${y}), 9)`,
  (x) => `exp(-abs(${x})) + log(abs(${x}) + 1)`,
  (x) => `round(${x}, 0.25)`,
  (x) => `${x} - ${x}`,
  (x) => `(${x} - source) ^ 2`,
  (x, y) => `${x} * ${y} / (${x} * ${y} + 1)`,
  () => `exact * 2 + exact`,
  (x, y) => `otherwise(${x}, ${y})`,
  (x) => `halve(${x})`,
  (x) => `mean(rows.size) / 9 + ${x} / 4`,
];
const RARE = 3;

interface House {
  readonly texts: Map<string, string>;
  readonly sizes: string[];
}

function house(chance: Chance): House {
  const texts = new Map([
    ['source', '3 ± 0.1'],
    ['a', '2 ± 0.05'],
    ['b', '4 ± 0.2'],
    ['exact', '7'],
  ]);
  const names = [...texts.keys()];
  for (let k = 0; k < MANY; k++) {
    const x = chance() < 0.3 ? 'source' : pick(chance, names);
    const kind = chance() < 0.9 ? pick(chance, KINDS.slice(0, -RARE)) : pick(chance, KINDS);
    texts.set(`c${k}`, `= ${kind(x, pick(chance, names))}`);
    names.push(`c${k}`);
  }
  return { texts, sizes: ['1 ± 0.1', '2', '', '4 ± 0.3'] };
}

function engineOf({ texts, sizes }: House): Engine {
  const engine = new Engine(LIBRARY);
  engine.defineTable({
    name: 'rows',
    rows: 4,
    columns: [{ name: 'size', type: 'number', entries: [...sizes] }],
  });
  for (const [name, text] of texts) engine.defineCell({ name, type: 'number', text });
  engine.recalculate();
  return engine;
}

type States = ReadonlyMap<string, CellState>;

function states(engine: Engine, names: Iterable<string>): States {
  return new Map(Array.from(names, (name) => [name, engine.read(name)] as const));
}

/** ± may differ in the last digits, by the order in which contributions are added up. */
function alike(made: States, expected: States): void {
  for (const [name, state] of expected) {
    const other = made.get(name)!;
    if (state.state !== 'value' || state.plusMinus === undefined || other.state !== 'value') {
      expect(other, name).toEqual(state);
      continue;
    }
    const off = Math.abs((other.plusMinus ?? NaN) - state.plusMinus);
    expect(off, `± of ${name}`).toBeLessThanOrEqual(1e-12 * state.plusMinus);
    expect({ ...other, plusMinus: state.plusMinus }, name).toEqual(state);
  }
}

const SOURCES = ['3', '3.2', '2.8', '3.1', '5', '4', '-1', '0', '2 ± 0.3', '3'];
const withSpread = (text: string): string => (text.includes('±') ? text : `${text} ± 0.1`);

beforeAll(routesAtHand);
afterEach(() => vi.restoreAllMocks());

describe('± along routes', () => {
  test.each([1, 2, 3, 4])('is that of an engine built fresh, seed %i', (seed) => {
    const made = vi.spyOn(WebAssembly, 'Module');
    const of = house(chanceFrom(seed));
    const names = [...of.texts.keys()];
    const engine = engineOf(of);
    let before = states(engine, names);
    const follow = (name: string, text: string): void => {
      of.texts.set(name, text);
      engine.defineCell({ name, type: 'number', text });
      const changes = engine.recalculate();
      const after = states(engine, names);
      alike(after, states(engineOf(of), names));
      const unsaid = names.filter(
        (each) =>
          !changes.names.has(each) && JSON.stringify(before.get(each)) !== JSON.stringify(after.get(each)),
      );
      expect(unsaid).toEqual([]);
      before = after;
    };
    for (const text of SOURCES) follow('source', withSpread(text));
    for (const text of SOURCES) follow('source', withSpread(text));
    expect(made.mock.calls.length, 'routes for values and for spreads were made').toBeGreaterThan(1);
    // A narrow edit, a ± taken away, one that comes anew, what stands outside, and a formula that changes.
    follow('b', '4.1 ± 0.2');
    follow('b', '4.1');
    follow('b', '4.1 ± 0.3');
    follow('exact', '6 ± 0.1');
    for (const text of SOURCES) follow('source', withSpread(text));
    of.sizes[1] = '2.5 ± 0.1';
    engine.setEntry('rows', 'size', 1, of.sizes[1]);
    follow('a', '2.1 ± 0.05');
    follow('c7', '= source * a');
    for (const text of SOURCES) follow('source', withSpread(text));
  });

  test('is told of a few cells as of all, and their budgets are as ever', () => {
    const of = house(chanceFrom(5));
    const engine = engineOf(of);
    const few = ['c499', 'c350', 'c120', 'source'];
    for (const text of [...SOURCES, ...SOURCES]) {
      of.texts.set('source', withSpread(text));
      engine.defineCell({ name: 'source', type: 'number', text: withSpread(text) });
      engine.recalculate();
      const fresh = engineOf(of);
      alike(states(engine, few), states(fresh, few));
      for (const name of few) {
        const own = engine.budget(name);
        const its = fresh.budget(name);
        expect(own && 'lines' in own ? own.lines.length : own).toEqual(
          its && 'lines' in its ? its.lines.length : its,
        );
      }
    }
  });

  test('comes without machine code, where a page may not make it', () => {
    const refused = vi.spyOn(WebAssembly, 'Module').mockImplementation(function () {
      throw new WebAssembly.CompileError('refused by the policy of the page');
    });
    const of = house(chanceFrom(6));
    const engine = engineOf(of);
    for (const text of SOURCES) {
      of.texts.set('source', withSpread(text));
      engine.defineCell({ name: 'source', type: 'number', text: withSpread(text) });
      engine.recalculate();
      alike(states(engine, of.texts.keys()), states(engineOf(of), of.texts.keys()));
    }
    expect(refused).toHaveBeenCalled();
  });

  test('of a chain of products is the root of the sum of the relative squares', () => {
    const engine = new Engine(LIBRARY);
    const cell = (name: string, text: string): void => engine.defineCell({ name, type: 'number', text });
    cell('source', '2 ± 0.02');
    cell('factor', '1 ± 0.00001');
    for (let k = 0; k < MANY; k++) cell(`c${k}`, `= ${k === 0 ? 'source' : `c${k - 1}`} * factor`);
    engine.recalculate();
    for (let k = 0; k < 12; k++) {
      cell('source', `${2 + k / 8} ± 0.02`);
      engine.recalculate();
      const last = engine.read(`c${MANY - 1}`);
      const value = 2 + k / 8;
      expect(last).toMatchObject({ state: 'value', value });
      const expected = value * Math.hypot(0.02 / value, MANY * 1e-5);
      expect(last.state === 'value' ? last.plusMinus : NaN).toBeCloseTo(expected, 12);
    }
  });
});

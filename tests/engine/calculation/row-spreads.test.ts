/** The ± of rows after edits of single rows: as in an engine built fresh, and told of where it became another. */
import { describe, expect, test } from 'vitest';
import { Engine, type ColumnDefinition } from '../../../src/engine/index.ts';
import { chanceFrom, pick, type Chance } from './random-formula.ts';
import { LIBRARY, plainState } from './random-workbook.ts';

const ROWS = 9;
const KEYS = ['p', 'q', 'r'];
/** The last group waits for its key. */
const GROUP_KEYS = [...KEYS, ''];

/** Typed columns by name, and what may be typed there. */
const TYPED: Readonly<Record<string, readonly string[]>> = {
  key: [...KEYS, ''],
  other: KEYS,
  a: ['1', '2 ± 0.1', '3', '4 ± 2 %', '5', ''],
  b: ['-1', '2', '0', '3 ± 0.4', '2.5'],
  c: ['7', '8', '9 ± 1', '', 'abc'],
};

const COMPUTED: Readonly<Record<string, string>> = {
  double: 'a * 2 + 1',
  product: 'double * b - a',
  looked: 'a * lookup(groups.share, groups.key, key)',
  share: 'a / sum(readings.a)',
  bent: 'max(product, 1)',
  whole: 'round(a, 0.5) + min(b, 2)',
  branch: 'key == "p" ? product : c + scale',
  parts: 'halve(abs(product) + 1)',
  fits: 'a > 1 and c > 1',
  back: 'lookup(groups.range, groups.key, key).most - a',
  others: 'sum(where(readings.b, readings.key == other)) + b',
};

/** Read under a key: what other keys' rows hold, and be it a fault, counts for nothing. */
const BY_KEY: Readonly<Record<string, string>> = {
  least: 'min(where(readings.product, readings.key == key))',
  range: 'spread(where(readings.a, readings.key == key))',
  fitting: 'spread(where(readings.c, readings.fits and key == readings.key))',
  either: 'sum(where(readings.c, readings.key == key or readings.fits))',
  beside: 'sum(where(readings.b, readings.key == key) + otherwise(readings.c, 0))',
  below: 'count(where(readings.a, readings.key == key and readings.whole > 2))',
  part: 'sum(where(readings.a, readings.key == key)) / spread(readings.a).most',
  chosen: 'sum(where(readings.double, readings.key == choice)) * share',
};

/** The same in a cell, which a row of another key need not wake. */
const CHOSEN = 'spread(where(readings.double, readings.key == choice and readings.fits)).most';

interface Model {
  readonly readings: Map<string, (string | undefined)[]>;
  scale: string;
  choice: string;
}

function engineOf({ readings, scale, choice }: Model): Engine {
  const engine = new Engine(LIBRARY);
  const column = (name: string): ColumnDefinition => ({
    name,
    type: name === 'key' || name === 'other' ? 'text' : 'number',
    entries: readings.get(name)!,
    ...(COMPUTED[name] === undefined ? {} : { formula: COMPUTED[name] }),
    ...(name === 'b' ? { each: '0.2' } : name === 'c' ? { shared: '2 %' } : {}),
  });
  engine.defineTable({ name: 'readings', rows: ROWS, columns: [...readings.keys()].map(column) });
  engine.defineTable({
    name: 'groups',
    rows: GROUP_KEYS.length,
    columns: [
      { name: 'key', type: 'text', entries: GROUP_KEYS },
      { name: 'share', type: 'number', entries: ['0.5 ± 0.01', '0.25', '0.1', '0.2'] },
      ...Object.entries(BY_KEY).map(([name, formula]) => ({
        name,
        type: 'number' as const,
        formula,
        entries: [],
      })),
      { name: 'most', type: 'number', formula: 'range.most * share', entries: [] },
      { name: 'doubt', type: 'number', formula: 'uncertainty(most)', entries: [] },
    ],
  });
  engine.defineCell({ name: 'scale', type: 'number', text: scale });
  engine.defineCell({ name: 'choice', type: 'text', text: choice });
  engine.defineCell({ name: 'most_chosen', type: 'number', text: `= ${CHOSEN}` });
  engine.defineCell({ name: 'all', type: 'number', text: '= sum(readings.product)' });
  engine.defineCell({ name: 'middle', type: 'number', text: '= mean(readings.bent) / scale' });
  engine.recalculate();
  return engine;
}

const GROUPS = ['share', ...Object.keys(BY_KEY).filter((name) => name !== 'range'), 'most', 'doubt'];

function statesOf(engine: Engine): Map<string, string> {
  const states = new Map<string, string>();
  const put = (name: string, row: number): void => {
    const [table = '', column = ''] = name.split('.');
    states.set(`${name} ${row}`, JSON.stringify(plainState(engine.readRow(table, column, row))));
  };
  for (let row = 0; row < ROWS; row++)
    for (const name of [...Object.keys(TYPED), ...Object.keys(COMPUTED)]) put(`readings.${name}`, row);
  for (let row = 0; row < GROUP_KEYS.length; row++) for (const name of GROUPS) put(`groups.${name}`, row);
  for (const name of ['scale', 'choice', 'most_chosen', 'all', 'middle'])
    states.set(name, JSON.stringify(plainState(engine.read(name))));
  return states;
}

/** Types into one row, over a formula now and then; seldom into a cell that rows rest on. */
function edit(chance: Chance, model: Model, engine: Engine): string {
  if (chance() < 0.1) {
    model.scale = pick(chance, ['2', '3 ± 0.1', '2.5']);
    engine.defineCell({ name: 'scale', type: 'number', text: model.scale });
    return `scale: ${model.scale}`;
  }
  if (chance() < 0.1) {
    model.choice = pick(chance, [...KEYS, '', 'other']);
    engine.defineCell({ name: 'choice', type: 'text', text: model.choice });
    return `choice: ${model.choice}`;
  }
  const isOver = chance() < 0.15;
  const name = pick(chance, Object.keys(isOver ? COMPUTED : TYPED));
  const text = isOver ? pick(chance, [undefined, undefined, '4', '6 ± 0.3']) : pick(chance, TYPED[name]!);
  const row = Math.floor(chance() * ROWS);
  model.readings.get(name)![row] = text;
  engine.setEntry('readings', name, row, text);
  return `${name}, row ${row + 1}: ${text ?? 'taken away'}`;
}

describe('± of rows', () => {
  test.each([1, 2, 3, 4, 5, 6, 7, 8])('are those of an engine built fresh, seed %i', (seed) => {
    const chance = chanceFrom(seed);
    const readings = new Map<string, (string | undefined)[]>();
    for (const name of Object.keys(TYPED))
      readings.set(
        name,
        Array.from({ length: ROWS }, () => pick(chance, TYPED[name]!)),
      );
    for (const name of Object.keys(COMPUTED)) readings.set(name, Array<undefined>(ROWS).fill(undefined));
    const model: Model = { readings, scale: '2', choice: 'q' };
    const engine = engineOf(model);
    let before = statesOf(engine);
    const told = new Set<string>();
    for (let k = 0; k < 60; k++) {
      const done = Array.from({ length: chance() < 0.3 ? 2 : 1 }, () => edit(chance, model, engine)).join(
        '; ',
      );
      for (const name of engine.recalculate().names) told.add(name);
      // Now and then nobody looks: what is known of other rows must not pass for what is known of these.
      if (chance() < 0.3) continue;
      const after = statesOf(engine);
      expect(after, done).toEqual(statesOf(engineOf(model)));
      const others = [...after.keys()].filter((key) => after.get(key) !== before.get(key));
      expect(
        others.filter((key) => !told.has(key.split(' ')[0]!)),
        done,
      ).toEqual([]);
      told.clear();
      before = after;
    }
  });
});

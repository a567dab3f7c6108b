/** The ± of rows after edits of single rows: as in an engine built fresh, and told of where it became another. */
import { describe, expect, test } from 'vitest';
import { Engine, type ColumnDefinition } from '../../../src/engine/index.ts';
import { chanceFrom, pick, type Chance } from './random-formula.ts';
import { LIBRARY, plainState } from './random-workbook.ts';

const ROWS = 9;
const KEYS = ['p', 'q', 'r'];

/** Typed columns by name, and what may be typed there. */
const TYPED: Readonly<Record<string, readonly string[]>> = {
  key: KEYS,
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
};

interface Model {
  readonly readings: Map<string, (string | undefined)[]>;
  scale: string;
}

function engineOf({ readings, scale }: Model): Engine {
  const engine = new Engine(LIBRARY);
  const column = (name: string): ColumnDefinition => ({
    name,
    type: name === 'key' ? 'text' : 'number',
    entries: readings.get(name)!,
    ...(COMPUTED[name] === undefined ? {} : { formula: COMPUTED[name] }),
    ...(name === 'b' ? { each: '0.2' } : name === 'c' ? { shared: '2 %' } : {}),
  });
  engine.defineTable({ name: 'readings', rows: ROWS, columns: [...readings.keys()].map(column) });
  engine.defineTable({
    name: 'groups',
    rows: KEYS.length,
    columns: [
      { name: 'key', type: 'text', entries: KEYS },
      { name: 'share', type: 'number', entries: ['0.5 ± 0.01', '0.25', '0.1'] },
      {
        name: 'least',
        type: 'number',
        formula: 'min(where(readings.product, readings.key == key))',
        entries: [],
      },
      {
        name: 'range',
        type: 'number',
        formula: 'spread(where(readings.a, readings.key == key))',
        entries: [],
      },
      { name: 'most', type: 'number', formula: 'range.most * share', entries: [] },
      { name: 'doubt', type: 'number', formula: 'uncertainty(most)', entries: [] },
    ],
  });
  engine.defineCell({ name: 'scale', type: 'number', text: scale });
  engine.defineCell({ name: 'all', type: 'number', text: '= sum(readings.product)' });
  engine.defineCell({ name: 'middle', type: 'number', text: '= mean(readings.bent) / scale' });
  engine.recalculate();
  return engine;
}

const GROUPS = ['share', 'least', 'most', 'doubt'];

function statesOf(engine: Engine): Map<string, string> {
  const states = new Map<string, string>();
  const put = (name: string, row: number): void => {
    const [table = '', column = ''] = name.split('.');
    states.set(`${name} ${row}`, JSON.stringify(plainState(engine.readRow(table, column, row))));
  };
  for (let row = 0; row < ROWS; row++)
    for (const name of [...Object.keys(TYPED), ...Object.keys(COMPUTED)]) put(`readings.${name}`, row);
  for (let row = 0; row < KEYS.length; row++) for (const name of GROUPS) put(`groups.${name}`, row);
  for (const name of ['scale', 'all', 'middle'])
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
  const isOver = chance() < 0.15;
  const name = pick(chance, Object.keys(isOver ? COMPUTED : TYPED));
  const text = isOver ? pick(chance, [undefined, undefined, '4', '6 ± 0.3']) : pick(chance, TYPED[name]!);
  const row = Math.floor(chance() * ROWS);
  model.readings.get(name)![row] = text;
  engine.setEntry('readings', name, row, text);
  return `${name}, row ${row + 1}: ${text ?? 'taken away'}`;
}

describe('± of rows', () => {
  test.each([1, 2, 3, 4, 5, 6])('are those of an engine built fresh, seed %i', (seed) => {
    const chance = chanceFrom(seed);
    const readings = new Map<string, (string | undefined)[]>();
    for (const name of Object.keys(TYPED))
      readings.set(
        name,
        Array.from({ length: ROWS }, () => pick(chance, TYPED[name]!)),
      );
    for (const name of Object.keys(COMPUTED)) readings.set(name, Array<undefined>(ROWS).fill(undefined));
    const model: Model = { readings, scale: '2' };
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

/** A4 under edits: the sum of the rows that are chosen, or blank where one of them is, whichever way it was reached. */
import { expect, test } from 'vitest';
import { Engine, FunctionLibrary } from '../../../src/engine/index.ts';
import { seeded } from '../../bench/formula-book.ts';

const ROWS = 300;
const FORMULAS: Readonly<Record<string, string>> = {
  plain: 'full_sum(t.x)',
  doubled: 'full_sum(t.double)',
  product: 'full_sum(t.x * t.y)',
  chosen: 'full_sum(where(t.x, t.k == "a"))',
  bracketed: 'full_sum((where(t.x, t.k == "a")))',
  twice: 'full_sum(where(t.x, t.k == "a") * 2)',
  large: 'full_sum(where(t.double, t.y > 5))',
  scaled: 'full_sum(where(t.x * factor, t.k == "b"))',
};

interface Row {
  x: number | undefined;
  y: number | undefined;
  k: string;
}

function law(rows: readonly Row[]): Record<string, number | undefined> {
  const of = (value: (row: Row) => number | undefined, chosen: (row: Row) => boolean = () => true) => {
    const values = rows.filter(chosen).map(value);
    if (values.length === 0 || values.includes(undefined)) return undefined;
    return values.reduce<number>((sum, each) => sum + (each ?? 0), 0);
  };
  const double = ({ x }: Row) => (x === undefined ? undefined : 2 * x);
  const isA = ({ k }: Row) => k === 'a';
  return {
    plain: of(({ x }) => x),
    doubled: of(double),
    product: of(({ x, y }) => (x === undefined || y === undefined ? undefined : x * y)),
    chosen: of(({ x }) => x, isA),
    bracketed: of(({ x }) => x, isA),
    twice: of(double, isA),
    large: of(double, ({ y }) => y !== undefined && y > 5),
    scaled: of(
      ({ x }) => (x === undefined ? undefined : 3 * x),
      ({ k }) => k === 'b',
    ),
  };
}

function valueOf(state: ReturnType<Engine['read']>) {
  expect(['value', 'blank']).toContain(state.state);
  return state.state === 'value' ? state.value : undefined;
}

test.each([1, 2, 3])('A4: after random edits full_sum is what a loop says, seed %i', (seed) => {
  const random = seeded(seed);
  const rows = Array.from({ length: ROWS }, (_, row): Row => ({ x: row, y: row % 11, k: 'abc'[row % 3]! }));
  const engine = new Engine(new FunctionLibrary([]));
  engine.defineTable({
    name: 't',
    rows: ROWS,
    columns: [
      { name: 'x', type: 'number', unit: '', entries: rows.map(({ x }) => String(x)) },
      { name: 'y', type: 'number', unit: '', entries: rows.map(({ y }) => String(y)) },
      { name: 'k', type: 'text', unit: '', entries: rows.map(({ k }) => k) },
      { name: 'double', type: 'number', unit: '', formula: '2 * x', entries: [] },
    ],
  });
  const keys = ['a', 'b', 'c'];
  engine.defineTable({
    name: 'kinds',
    rows: keys.length,
    columns: [
      { name: 'k', type: 'text', unit: '', entries: keys },
      { name: 'total', type: 'number', unit: '', formula: 'full_sum(where(t.x, t.k == k))', entries: [] },
      { name: 'twice', type: 'number', unit: '', formula: 'full_sum(2 * where(t.x, t.k == k))', entries: [] },
    ],
  });
  engine.defineCell({ name: 'factor', type: 'number', unit: '', text: '3' });
  for (const [name, text] of Object.entries(FORMULAS))
    engine.defineCell({ name, type: 'number', unit: '', text });
  for (let round = 0; round < 120; round++) {
    const at = Math.floor(random() * 12);
    const row = rows[at]!;
    const column = (['x', 'y', 'k'] as const)[Math.floor(random() * 3)]!;
    const value = random() < 0.4 ? undefined : Math.floor(random() * 12);
    if (column === 'k') row.k = 'abc'[Math.floor(random() * 3)]!;
    else row[column] = value;
    engine.setEntry('t', column, at, column === 'k' ? row.k : value === undefined ? '' : String(value));
    // Every now and then all is typed again, so that both outcomes come up.
    if (round % 10 === 9)
      for (const [index, each] of rows.entries()) {
        each.x ??= 1;
        each.y ??= 1;
        engine.setEntry('t', 'x', index, String(each.x));
        engine.setEntry('t', 'y', index, String(each.y));
      }
    engine.recalculate();
    const found = Object.fromEntries(Object.keys(FORMULAS).map((name) => [name, valueOf(engine.read(name))]));
    expect(found).toEqual(law(rows));
    expect(valueOf(engine.readRow('kinds', 'total', 0))).toBe(found.chosen);
    expect(valueOf(engine.readRow('kinds', 'twice', 0))).toBe(found.twice);
  }
});

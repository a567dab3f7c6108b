/**
 * Rules K1 and R1: a column worked out 512 rows at a time holds what its formula gives row by row. The witness is the
 * same rows in tables too short for kernels.
 */
import { describe, expect, test } from 'vitest';
import { Engine, FunctionLibrary, type CellState, type TableDefinition } from '../../../src/engine/index.ts';
import { chanceFrom, pick, type Chance } from './random-formula.ts';

const NOTHING = new FunctionLibrary([]);
/** Shorter than what the engine runs as a kernel. */
const SLICE = 50;

interface Book {
  readonly cells: Readonly<Record<string, string>>;
  readonly columns: Readonly<Record<string, readonly (string | undefined)[]>>;
  /** Rows of the computed column `f` that are typed over. */
  readonly over: ReadonlyMap<number, string>;
}

function numbers(rows: number, seed: number): (string | undefined)[] {
  const chance = chanceFrom(seed);
  return Array.from({ length: rows }, (_, row) => {
    // Something odd at both sides of every seam, and now and then.
    const seam = row % 512 === 511 || row % 512 === 0 || row === rows - 1;
    const r = chance();
    if (seam ? r < 0.5 : r < 0.04) return pick(chance, [undefined, '', 'abc', '3 s', '1 ± 0.1']);
    return pick(chance, [
      () => '0',
      () => '2',
      () => '-1',
      () => String(Math.round(chance() * 1e4) / 1e3 - 3),
    ])();
  });
}

function bookOf(rows: number, seed: number, odd: boolean): Book {
  const plain = (s: number): string[] =>
    Array.from({ length: rows }, (_, row) => String(((row * 7 + s) % 23) / 4 + 0.5));
  const columns = odd
    ? { x: numbers(rows, seed), y: numbers(rows, seed + 1), z: numbers(rows, seed + 2) }
    : { x: plain(1), y: plain(2), z: plain(3) };
  const chance = chanceFrom(seed + 3);
  const over = new Map<number, string>();
  if (odd)
    for (let row = 0; row < rows; row++)
      if (chance() < 0.02 || row === 511 || row === 512)
        over.set(row, pick(chance, ['7', '8 ± 1', 'abc', '3 s']));
  return { cells: { g: '1.5', h: '-2', none: '', zero: '0', bad: '= 1 / zero' }, columns, over };
}

function tableOf(book: Book, formula: string, from: number, to: number): TableDefinition {
  const entries = (list: readonly (string | undefined)[]): (string | undefined)[] => list.slice(from, to);
  const over = Array.from({ length: to - from }, (_, k) => book.over.get(from + k));
  return {
    name: 't',
    rows: to - from,
    columns: [
      ...Object.entries(book.columns).map(([name, list]) => ({
        name,
        type: 'number' as const,
        entries: entries(list),
      })),
      { name: 'f', type: 'number', formula, entries: over },
      { name: 'next', type: 'number', formula: 'f * g + 1', entries: [] },
    ],
  };
}

function engineOf(book: Book, formula: string, from: number, to: number): Engine {
  const engine = new Engine(NOTHING);
  for (const [name, text] of Object.entries(book.cells)) engine.defineCell({ name, type: 'number', text });
  engine.defineTable(tableOf(book, formula, from, to));
  engine.recalculate();
  return engine;
}

/** As text, rows that a message names counted from `from`. */
function shown(state: CellState, from: number): string {
  const plain = 'type' in state ? { ...state, type: undefined } : state;
  return JSON.stringify(plain).replace(/row (\d+)/g, (_, n: string) => `row ${String(Number(n) + from)}`);
}

function rowsOf(engine: Engine, column: string, rows: number, from: number): string[] {
  return Array.from({ length: rows }, (_, row) => shown(engine.readRow('t', column, row), from));
}

function witness(book: Book, formula: string, rows: number): { f: string[]; next: string[] } {
  const f: string[] = [];
  const next: string[] = [];
  for (let from = 0; from < rows; from += SLICE) {
    const to = Math.min(rows, from + SLICE);
    const engine = engineOf(book, formula, from, to);
    f.push(...rowsOf(engine, 'f', to - from, from));
    next.push(...rowsOf(engine, 'next', to - from, from));
  }
  return { f, next };
}

function same(engine: Engine, book: Book, formula: string, rows: number): void {
  const wanted = witness(book, formula, rows);
  const differing = (column: 'f' | 'next'): unknown[] =>
    rowsOf(engine, column, rows, 0).flatMap((state, row) =>
      state === wanted[column][row] ? [] : [{ row, kernel: state, singly: wanted[column][row] }],
    );
  expect(differing('f').slice(0, 3), formula).toEqual([]);
  expect(differing('next').slice(0, 3), `next to ${formula}`).toEqual([]);
}

const FORMULAS = [
  // The fused shapes, and what comes near them.
  ...['x * g / h', 'g * x / h', 'x * g / zero', 'x * y / h', 'x * g / y', '(x * g) / (h * g)'],
  ...['(x + y) * g', 'g * (x + y)', '(x + x) * g', '(x + g) * h', '(x + y) * z', '(x + y) * (x + y)'],
  ...['x > y ? y : x', 'x > g ? x : y', 'g > x ? x : y', 'x > y ? g : h', 'x > y ? x > z ? x : z : y'],
  ...[
    'x < y ? x : y',
    'x >= y ? z : x',
    'x > y and y > z ? x : z',
    'x > y or x > z ? 1 : 0',
    'g > h ? x : y',
  ],
  // One shape each.
  ...['x', 'x + y', 'x - y', 'x * y', 'x / y', 'x ^ y', 'x + g', 'x - g', 'x * g', 'x / g', 'x ^ g'],
  ...['g + x', 'g - x', 'g * x', 'g / x', 'g ^ x', '-x', 'x ^ 2', 'abs(x)', 'sqrt(x)', 'exp(x)', 'log(x)'],
  ...['min(x, y)', 'max(x, g)', 'min(x, y, z)', 'x == y ? 1 : 0', 'x != y ? 1 : 0', 'x <= y ? 1 : 0'],
  ...['not (x > y) ? x : y', 'x / (x - x)', '1 / (1 / x)', 'x * 0', 'x ^ 0', '0 ^ x', 'exp(exp(exp(x ^ 2)))'],
  // Scalars that are no value, and parts that no kernel has.
  ...['x + none', 'x * bad', 'x > none ? x : y', 'x > bad ? x : y', 'x > y ? none : bad', 'g * 2'],
  ...['otherwise(x, y)', 'is_blank(x) ? y : x', 'round(x)', 'sin(x) + cos(y)', 'x > 0 and y > 0 ? x : none'],
];

describe('K1: kernels give what the formula gives row by row', { timeout: 120_000 }, () => {
  test.each([511, 512, 513, 1500])('every shape, with blanks, faults and typed rows, %i rows', (rows) => {
    const book = bookOf(rows, rows, true);
    const list = rows === 1500 ? FORMULAS : FORMULAS.filter((_, k) => k % 4 === rows % 4);
    for (const formula of list) same(engineOf(book, formula, 0, rows), book, formula, rows);
  });

  test.each([63, 64, 65, 512, 513])('sound rows alone, %i of them', (rows) => {
    const book = bookOf(rows, 1, false);
    for (const formula of FORMULAS.slice(0, 24)) same(engineOf(book, formula, 0, rows), book, formula, rows);
  });

  test('random formulas', () => {
    const chance = chanceFrom(2026);
    const book = bookOf(600, 5, true);
    for (let i = 0; i < 60; i++) {
      const formula = anyFormula(chance, 4);
      same(engineOf(book, formula, 0, 600), book, formula, 600);
    }
  });
});

function anyFormula(chance: Chance, depth: number): string {
  if (depth === 0 || chance() < 0.15) return pick(chance, ['x', 'y', 'z', 'x', 'g', 'h', 'none', '2', '0.5']);
  const part = (): string => anyFormula(chance, depth - 1);
  const r = chance();
  if (r < 0.7) return `(${part()} ${pick(chance, ['+', '-', '*', '/', '*', '/'])} ${part()})`;
  if (r < 0.85)
    return `(${part()} ${pick(chance, ['>', '>', '<', '<=', '=='])} ${part()} ? ${part()} : ${part()})`;
  return `${pick(chance, ['abs', '-', 'sqrt', 'exp', 'log'])}(${part()})`;
}

describe('R1: edits of a long column', { timeout: 120_000 }, () => {
  test.each(['(x + y) * g', 'x * g / h', 'x > y ? y : x', 'log(x) / y'])(
    '%s follows rows, cells and lengths',
    (formula) => {
      const rows = 1500;
      let book = bookOf(rows, 77, true);
      const engine = engineOf(book, formula, 0, rows);
      const chance = chanceFrom(9);
      for (let round = 0; round < 6; round++) {
        const columns = { ...book.columns, x: [...book.columns.x!] };
        for (const row of [0, 510, 511, 512, 513, 1023, 1024, 1499, Math.floor(chance() * rows)]) {
          const text = pick(chance, ['3', '0', '', 'abc', '-2.5']);
          columns.x[row] = text;
          engine.setEntry('t', 'x', row, text);
        }
        const over = new Map(book.over);
        const at = Math.floor(chance() * rows);
        over.set(at, '11');
        engine.setEntry('t', 'f', at, '11');
        const typed = [...over.keys()][round]!;
        over.delete(typed);
        engine.setEntry('t', 'f', typed, undefined);
        const g = pick(chance, ['1.5', '2', '', '0', '= 1 / zero', '4 ± 1']);
        engine.defineCell({ name: 'g', type: 'number', text: g });
        engine.recalculate();
        book = { cells: { ...book.cells, g }, columns, over };
        same(engine, book, formula, rows);
      }
    },
  );

  test('aggregates of a long column are those of its rows', () => {
    const rows = 1500;
    const book = bookOf(rows, 3, false);
    const engine = engineOf(book, '(x + y) * g', 0, rows);
    for (const name of ['sum', 'mean', 'min', 'max', 'count'])
      engine.defineCell({ name: `the_${name}`, type: 'number', text: `${name}(t.f)` });
    engine.recalculate();
    const check = (): void => {
      const list = Array.from({ length: rows }, (_, row) => {
        const state = engine.readRow('t', 'f', row);
        return state.state === 'value' ? Number(state.value) : NaN;
      }).filter((x) => !Number.isNaN(x));
      const sum = list.reduce((a, b) => a + b, 0);
      const wanted = {
        sum,
        mean: sum / list.length,
        min: Math.min(...list),
        max: Math.max(...list),
        count: list.length,
      };
      for (const [name, value] of Object.entries(wanted))
        expect(engine.read(`the_${name}`), name).toMatchObject({
          value: expect.closeTo(value, 8) as unknown,
        });
    };
    check();
    for (const row of [0, 511, 512, 1499]) {
      engine.setEntry('t', 'x', row, row === 512 ? '' : String(-100 - row));
      engine.recalculate();
      check();
    }
  });
});

/**
 * Rules K1 and R1: a column worked out 512 rows at a time holds what its formula gives row by row. The witness is the
 * same rows in tables too short for kernels.
 */
import { describe, expect, test } from 'vitest';
import type { CellState, Engine } from '../../../src/engine/index.ts';
import { anyFormula, bookOf, engineOf, FORMULAS, type Book } from './long-table.ts';
import { chanceFrom, pick } from './random-formula.ts';

/** Shorter than what the engine runs as a kernel. */
const SLICE = 50;

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

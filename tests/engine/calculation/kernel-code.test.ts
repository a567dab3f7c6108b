/**
 * Machine code for columns gives what the loops give, to the last bit, and so do the aggregates that read its partial
 * results. The loops are held against the formula row by row in kernels.test.ts.
 */
import { isDeepStrictEqual } from 'node:util';
import { afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { routesAtHand } from '../../../src/engine/calculation/route-code.ts';
import type { Engine } from '../../../src/engine/index.ts';
import { anyFormula, bookOf, engineOf, FORMULAS, type Book } from './long-table.ts';
import { chanceFrom } from './random-formula.ts';

/** Two blocks of whole chunks, and a part of one. */
const ROWS = 17 * 512 + 300;
const AGGREGATES = ['sum', 'full_sum', 'mean', 'min', 'max', 'count'] as const;
/** Whatever has one of these has no machine code. */
const FOREIGN = /\^ (?!2)|exp|log|otherwise|is_blank|round|sin|cos/;

beforeAll(routesAtHand);
afterEach(() => vi.restoreAllMocks());

/** The whole column anew: its first row and its last have another value. */
function rerun(engine: Engine, value: string): void {
  engine.setEntry('t', 'x', 0, value);
  engine.setEntry('t', 'x', ROWS - 1, value);
  engine.recalculate();
}

function withAggregates(book: Book, formula: string): Engine {
  const engine = engineOf(book, formula, 0, ROWS);
  for (const how of AGGREGATES)
    engine.defineCell({ name: `${how}_of_f`, type: 'number', text: `${how}(t.f)` });
  return engine;
}

/** Everything that is said about the column, its reader and its aggregates. */
function everything(engine: Engine): unknown[] {
  const states: unknown[] = AGGREGATES.map((how) => engine.read(`${how}_of_f`));
  for (let row = 0; row < ROWS; row++)
    states.push(engine.readRow('t', 'f', row), engine.readRow('t', 'next', row));
  return states;
}

/** One engine comes to its values by code, the other by the loops. */
function check(book: Book, formula: string): void {
  const coded = withAggregates(book, formula);
  for (const value of ['1', '2', '3', '4', '5', '-0.5']) rerun(coded, value);
  const plain = withAggregates(book, formula);
  rerun(plain, '-0.5');
  const wanted = everything(plain);
  const wrong = everything(coded).flatMap((state, k) =>
    isDeepStrictEqual(state, wanted[k]) ? [] : [{ k, coded: state, plain: wanted[k] }],
  );
  expect(wrong.slice(0, 3), formula).toEqual([]);
}

describe('K1: machine code gives what the loops give', { timeout: 120_000 }, () => {
  test.each([
    ['blanks, faults and typed rows', true],
    ['sound rows alone', false],
  ])('every shape, with %s', (_, odd) => {
    const made = vi.spyOn(WebAssembly, 'Instance');
    const book = bookOf(ROWS, 11, odd);
    for (const formula of FORMULAS) {
      made.mockClear();
      check(book, formula);
      // The reader of the column has code; so has the column, unless it stays, is a copy or asks for a function.
      const codes = made.mock.calls.length;
      if (!FOREIGN.test(formula) && formula !== 'x' && formula !== 'g * 2') expect(codes, formula).toBe(2);
    }
  });

  test('random formulas', () => {
    const chance = chanceFrom(41);
    const book = bookOf(ROWS, 5, true);
    for (let i = 0; i < 25; i++) check(book, anyFormula(chance, 4));
  });

  test('signs of nothing are kept, and found by least and greatest', () => {
    const book = bookOf(ROWS, 5, false);
    for (let row = 0; row < ROWS; row += 3) (book.columns.x as string[])[row] = row % 2 ? '-0' : '0';
    for (const formula of ['x * 0', '-(x * 0)', 'x - x', 'min(x * 0, -(x * 0))', 'max(x * 0, -(x * 0))'])
      check(book, formula);
  });

  test('where a page may make no code, the loops go on', () => {
    vi.spyOn(WebAssembly, 'Module').mockImplementation(function () {
      throw new Error('not here');
    });
    check(bookOf(ROWS, 11, true), '(x + y) * g');
  });
});

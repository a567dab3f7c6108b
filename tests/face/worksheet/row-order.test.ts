import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { CellState } from '../../../src/face/view.ts';
import { placed, shifted, sorted } from '../../../src/face/worksheet/row-order.ts';

const rows = ['a', 'b', 'c', 'd', 'e'].map((id) => ({ id, entries: {} }));
const ids = (order: readonly { readonly id: string }[]) => order.map(({ id }) => id).join('');
const value = (of: number | string): CellState => ({
  state: 'value',
  value: of,
  typed: true,
  type: { kind: 'text' },
});
const blank: CellState = { state: 'blank', type: undefined };

test('a block moves one place, past its neighbour', () => {
  expect(shifted([0, 1, 2, 3, 4], 1, 2, 'up')).toEqual([1, 2, 0, 3, 4]);
  expect(shifted([0, 1, 2, 3, 4], 1, 2, 'down')).toEqual([0, 3, 1, 2, 4]);
  expect(shifted([0, 1, 2], 0, 1, 'up')).toBeUndefined();
  expect(shifted([0, 1, 2], 1, 2, 'down')).toBeUndefined();
});

test('rows that are not shown keep their places', () => {
  // b and d are out of sight; e is to come first among those that are seen.
  expect(ids(placed(rows, [0, 2, 4], [4, 0, 2]))).toBe('ebadc');
});

test('numbers by size, words by the alphabet, blanks last in both directions', () => {
  const states = [value(10), blank, value(-2), value('board 10'), value('board 9')];
  const of = (row: number) => states[row] ?? blank;
  expect(sorted([0, 1, 2, 3, 4], of, 'up')).toEqual([2, 0, 4, 3, 1]);
  expect(sorted([0, 1, 2, 3, 4], of, 'down')).toEqual([3, 4, 0, 2, 1]);
});

test('a sort loses no row, is in order, and leaves equal ones as they stood', () => {
  fc.assert(
    fc.property(fc.array(fc.option(fc.nat(5)), { maxLength: 30 }), (numbers) => {
      const shown = numbers.map((_, row) => row);
      const of = (row: number) => {
        const number = numbers[row] ?? undefined;
        return number === undefined ? blank : value(number);
      };
      const order = sorted(shown, of, 'up');
      expect([...order].sort((a, b) => a - b)).toEqual(shown);
      for (const [at, row] of order.entries()) {
        const next = order[at + 1];
        if (next === undefined) continue;
        const [first, second] = [numbers[row] ?? 99, numbers[next] ?? 99];
        expect(first < second || (first === second && row < next)).toBe(true);
      }
    }),
  );
});

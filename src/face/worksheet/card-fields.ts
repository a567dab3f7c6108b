/**
 * The typed columns of a card: numbers, choices, then the rest. The order does not hang on what is filled, so that no
 * field moves away under the thumb that types into it.
 */
import type { Column } from '../../workbook/index.ts';
import type { Grid } from './grid.svelte.ts';

export interface CardColumn {
  readonly column: Column;
  /** Place among the columns of the grid. */
  readonly at: number;
}

/** Rows that are looked at to see which columns are filled at all. */
const LOOKED_AT = 200;

function typed(grid: Grid): CardColumn[] {
  return grid.columns
    .map((column, at) => ({ column, at }))
    .filter(({ column }) => column.formula === undefined);
}

/** Numbers that some row holds: what Next goes to. All numbers while the table is empty. */
export function numbersInUse(grid: Grid): CardColumn[] {
  const numbers = typed(grid).filter(({ column }) => column.type === 'number');
  const rows = grid.rows.slice(-LOOKED_AT);
  const used = numbers.filter(({ column }) =>
    rows.some((row) => grid.table.rows[row]?.entries[column.id] !== undefined),
  );
  return used.length > 0 ? used : numbers;
}

const ORDER: readonly Column['type'][] = ['number', 'choice', 'text'];

export function cardFields(grid: Grid): CardColumn[] {
  return typed(grid).toSorted((a, b) => ORDER.indexOf(a.column.type) - ORDER.indexOf(b.column.type));
}

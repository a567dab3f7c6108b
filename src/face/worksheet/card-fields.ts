/**
 * The typed columns of a card. Of a row with a name: what names it, then the others as they stand in the table; of a
 * reading: numbers, choices, then the rest. The order does not hang on what is filled, so that no field moves away
 * under the thumb that types into it.
 */
import type { Column } from '../../workbook/index.ts';
import type { Grid } from './grid.svelte.ts';

export interface CardColumn {
  readonly column: Column;
  /** Place among the columns of the grid. */
  readonly at: number;
}

/** Rows that are looked at to see which columns are filled at all, and with how long words. */
export const LOOKED_AT = 200;

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

/** `first` are the places of what names the row. */
export function cardFields(grid: Grid, first: readonly number[]): CardColumn[] {
  const rank =
    first.length > 0
      ? ({ at }: CardColumn) => (first.includes(at) ? first.indexOf(at) : first.length)
      : ({ column }: CardColumn) => ORDER.indexOf(column.type);
  return typed(grid).toSorted((a, b) => rank(a) - rank(b));
}

/**
 * Where Next goes from a field: from a number to the next one in use, from words to whatever is typed next. Undefined
 * behind the last, and from what is no field.
 */
export function fieldAfter(
  grid: Grid,
  first: readonly number[],
  left: number | undefined,
): CardColumn | undefined {
  const numbers = numbersInUse(grid);
  const fields = cardFields(grid, first);
  const from = fields.findIndex(({ at }) => at === left);
  if (from < 0) return undefined;
  const isNumber = fields[from]?.column.type === 'number';
  return fields
    .slice(from + 1)
    .find(({ column, at }) =>
      column.type === 'number'
        ? numbers.some((number) => number.at === at)
        : column.type === 'text' && !isNumber,
    );
}

/** Where a new row begins: with its name, or with its first number. */
export function firstField(grid: Grid, first: readonly number[]): CardColumn | undefined {
  return (first.length > 0 ? cardFields(grid, first) : numbersInUse(grid))[0];
}

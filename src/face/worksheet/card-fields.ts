/**
 * The typed columns of a card. Of a row with a name: what names it, then the others as they stand in the table; of a
 * reading: numbers, choices, then the rest. The order does not hang on what is filled, so that no field moves away
 * under the thumb that types into it.
 */
import type { Column, Row } from '../../workbook/index.ts';
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

/** Tells whether another row than that one has something there: those that are shown, or any where none is. */
function usedBeside(grid: Grid, row: number): (field: CardColumn) => boolean {
  const own = grid.table.rows[grid.rows[row] ?? -1];
  const others = (rows: readonly (Row | undefined)[]) => rows.filter((each) => each !== own);
  const shown = others(grid.rows.slice(-LOOKED_AT).map((each) => grid.table.rows[each]));
  const rows = shown.length > 0 ? shown : others(grid.table.rows.slice(-LOOKED_AT));
  return ({ column }) => rows.some((each) => each?.entries[column.id] !== undefined);
}

/** Numbers that rows beside that one hold: what Next goes to in it. All numbers while there are none. */
export function numbersInUse(grid: Grid, row: number): CardColumn[] {
  const numbers = typed(grid).filter(({ column }) => column.type === 'number');
  const used = numbers.filter(usedBeside(grid, row));
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
 * Where Next goes from a field: from a number to the next one in use, or in a row with a name to words in use that it
 * has not yet; from words to whatever is typed next. Undefined behind the last, and from what is no field.
 */
export function fieldAfter(
  grid: Grid,
  first: readonly number[],
  left: { readonly row: number; readonly column: number | undefined },
): CardColumn | undefined {
  const numbers = numbersInUse(grid, left.row);
  const fields = cardFields(grid, first);
  const from = fields.findIndex(({ at }) => at === left.column);
  if (from < 0) return undefined;
  const isNumber = fields[from]?.column.type === 'number';
  const isUsed = usedBeside(grid, left.row);
  return fields.slice(from + 1).find((field) => {
    if (field.column.type === 'number') return numbers.some(({ at }) => at === field.at);
    if (field.column.type !== 'text') return false;
    if (!isNumber) return true;
    return first.length > 0 && isUsed(field) && grid.textOf({ row: left.row, column: field.at }) === '';
  });
}

/** Where a new row begins: with its name, or with its first number. */
export function firstField(grid: Grid, first: readonly number[]): CardColumn | undefined {
  return (first.length > 0 ? cardFields(grid, first) : numbersInUse(grid, grid.rows.length))[0];
}

/**
 * Where Next comes into a row that is there: at the first number, or in a row with a name at what it has not yet and
 * other rows have; nowhere else, as a digit would take the place of what stands there.
 */
export function fieldOfNext(grid: Grid, first: readonly number[], row: number): CardColumn | undefined {
  if (first.length === 0) return numbersInUse(grid, row)[0];
  const isUsed = usedBeside(grid, row);
  return cardFields(grid, first).find(
    (field) =>
      field.column.type !== 'choice' && grid.textOf({ row, column: field.at }) === '' && isUsed(field),
  );
}

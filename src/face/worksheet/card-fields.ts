/** The typed columns of a card in the order in which they are filled: numbers in use, choices, then the rest. */
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

export function cardFields(grid: Grid): CardColumn[] {
  const first = numbersInUse(grid);
  const rest = typed(grid).filter(({ at }) => first.every((each) => each.at !== at));
  const choices = rest.filter(({ column }) => column.type === 'choice');
  return [...first, ...choices, ...rest.filter(({ column }) => column.type !== 'choice')];
}

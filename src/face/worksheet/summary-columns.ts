/** On a phone a row is one line: what stands at its beginning and which values follow. */
import type { Column, Table } from '../../workbook/index.ts';

export interface SummaryColumns {
  /** A text that names the row; without one its number does. */
  readonly lead?: number;
  readonly values: readonly number[];
}

const MOST = 3;

/**
 * What names a row stands first, or second after a number that counts the rows. Where a cell chooses the rows, those
 * are one thing's own, such as the readings of a test: what is chosen in each, a range, does not tell them apart.
 */
function names(column: Column, chosen: boolean): boolean {
  return column.formula === undefined && (column.type === 'text' || (column.type === 'choice' && !chosen));
}

/** Typed numbers first, and the last calculated one, which says how the row came out. */
export function summaryColumns(
  table: Pick<Table, 'reasonColumn' | 'shownBy'>,
  columns: readonly Column[],
): SummaryColumns {
  const at = columns
    .map((column, index) => ({ column, index }))
    .filter(({ column }) => column.name !== table.reasonColumn);
  const lead = at.slice(0, 2).find(({ column }) => names(column, table.shownBy !== undefined))?.index;
  const numbers = at.filter(({ column }) => column.type === 'number');
  const typed = numbers.filter(({ column }) => column.formula === undefined);
  const calculated = numbers.filter(({ column }) => column.formula !== undefined);
  const last = calculated.at(-1);
  const picked = [...typed.slice(0, last ? MOST - 1 : MOST), ...(last ? [last] : [])];
  const rest = at.filter((each) => each.index !== lead && !picked.includes(each));
  const values = [...picked, ...rest.slice(0, Math.max(0, MOST - 1 - picked.length))];
  return {
    ...(lead === undefined ? {} : { lead }),
    values: values.map(({ index }) => index).sort((a, b) => a - b),
  };
}

/** On a phone a row is one line: what stands at its beginning and which values follow. */
import type { Column } from '../../workbook/index.ts';

export interface SummaryColumns {
  /** A text that names the row; without one its number does. */
  readonly lead?: number;
  readonly values: readonly number[];
}

const MOST = 3;

/** Typed numbers first, and the last calculated one, which says how the row came out. */
export function summaryColumns(columns: readonly Column[], reason: string | undefined): SummaryColumns {
  const at = columns
    .map((column, index) => ({ column, index }))
    .filter(({ column }) => column.name !== reason);
  const [first] = at;
  const lead = first?.column.type === 'text' ? first.index : undefined;
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

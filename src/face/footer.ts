/** What stands under a column: what all its rows come to. */
import type { Column, Table } from '../workbook/index.ts';
import { show, type Shown } from './display.ts';
import type { Session } from './session.svelte.ts';

export interface Footer {
  /** What is told of the rows; of all of them where fewer are to be seen. */
  readonly words: string;
  readonly shown: Shown;
}

/** `seen`: how many of the rows are to be seen. */
export function footerOf(session: Session, table: Table, column: Column, seen: number): Footer | undefined {
  const { footer } = column;
  // Of no rows there is nothing to tell, and a sum or a count of 0 would look like an answer.
  if (footer === undefined || table.rows.length === 0) return undefined;
  // How many rows there are has neither the unit nor the decimals of what is in them.
  const rule = footer === 'count' ? { unit: '', places: 0 } : column;
  const all = table.rows.length;
  return {
    words: seen < all && footer !== 'count' ? `${footer} of all ${all}` : footer,
    shown: isNothingSummed(session, table, column)
      ? { kind: 'blank', reason: '' }
      : show(session.footer(table.name, column.name), rule, session.system),
  };
}

/** Whether a sum of 0 is one of blanks alone, which is not known rather than nothing. */
function isNothingSummed(session: Session, { name, rows }: Table, column: Column): boolean {
  if (column.footer !== 'sum') return false;
  const sum = session.footer(name, column.name);
  if (sum.state !== 'value' || sum.value !== 0) return false;
  return rows.every((_, row) => session.columnState(name, column.name, row).state === 'blank');
}

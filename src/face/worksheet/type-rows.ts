import { counted, imported, type CsvReading, type Table } from '../../workbook/index.ts';
import type { Session } from '../session.svelte.ts';
import { sayFollowing } from './type-entry.ts';

/** Keeps rows of a file, and with them what follows their words: one step, which is told; or says why it cannot. */
export function typeRows(
  session: Session,
  table: Table,
  found: CsvReading & { readonly from: string },
  how: 'append' | 'replace',
): string | undefined {
  const { edit, following } = imported(session.document, table, found, how);
  const refused = session.apply(edit);
  if (refused === undefined)
    sayFollowing(session, table, following, `${counted(found.rows.length, 'row')} from ${found.from}`);
  return refused;
}

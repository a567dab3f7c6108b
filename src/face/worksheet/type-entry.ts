import { followChoice, type EntryChange, type Table } from '../../workbook/index.ts';
import { setEntries, together } from '../edits.ts';
import type { Session } from '../session.svelte.ts';

/** Keeps an entry as it was typed, and with it what has chosen it by its words: one step, which is told. */
export function typeEntry(session: Session, table: Table, change: EntryChange): void {
  const from = table.rows.find(({ id }) => id === change.row)?.entries[change.column]?.trim() ?? '';
  const { edits, places } = followChoice(session.document, table, change);
  const refused = session.apply(
    together(`call “${from}” “${change.text ?? ''}”`, [setEntries(table, [change]), ...edits]),
  );
  if (refused !== undefined || places === 0) return;
  const where = places === 1 ? '1 other place' : `${places} other places`;
  session.announcement = `“${from}” is now “${change.text ?? ''}”, also in ${where}`;
}

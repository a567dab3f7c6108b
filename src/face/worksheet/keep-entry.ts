import type { EntryChange, Row, Column, Table } from '../../workbook/index.ts';
import { setEntries } from '../edits.ts';
import type { Session } from '../session.svelte.ts';

/** Keeps an entry as it was typed. What chooses its words follows them. */
export function keepEntry(session: Session, table: Table, row: Row, column: Column, text: string): void {
  const change = { row: row.id, column: column.id, text };
  if (!takesWords(table, [change])) session.apply(setEntries(table, [change]));
  else
    void import('./type-entry.ts').then(({ typeEntry }) => {
      typeEntry(session, table, change);
    });
}

/** Whether words give way to others, so that something may follow them: nobody chooses a number. */
export function takesWords({ columns, rows }: Table, entries: readonly EntryChange[]): boolean {
  const words = new Set(columns.flatMap(({ id, type }) => (type === 'number' ? [] : [id])));
  const typed = entries.filter(({ column }) => words.has(column));
  if (typed.length === 0) return false;
  const old = new Map(rows.map(({ id, entries: texts }) => [id, texts]));
  return typed.some(({ row, column, text }) => {
    const before = old.get(row)?.[column];
    return before !== undefined && text !== undefined && before !== text;
  });
}

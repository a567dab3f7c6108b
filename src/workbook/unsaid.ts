/** What rows that are replaced from a file take with them. */
import type { Column, Table, WorkbookDocument } from './document.ts';
import type { CsvReading } from './file/csv.ts';
import { keptRows, replacedRows } from './import.ts';

/** What goes with the rows when those of a file take their place, because the file says nothing of it. */
export interface Unsaid {
  /** Columns in which something was typed. */
  readonly columns: readonly Column[];
  readonly notes: number;
  readonly photos: number;
}

export function unsaidBy(
  document: WorkbookDocument,
  table: Table,
  reading: Pick<CsvReading, 'rows' | 'matched'>,
): Unsaid {
  const gone = replacedRows(table, keptRows(document, table, reading));
  const said = new Set(
    reading.matched.map(({ role, column }) =>
      role === 'value' || role === 'override' ? column?.id : undefined,
    ),
  );
  const isSaid = ({ id, name }: Column) => said.has(id) || name === table.shownBy?.column;
  const hasNotes = reading.matched.some(({ role }) => role === 'note');
  return {
    columns: table.columns.filter(
      (column) => !isSaid(column) && gone.some(({ entries }) => (entries[column.id] ?? '').trim() !== ''),
    ),
    notes: hasNotes ? 0 : gone.filter(({ note }) => note !== undefined).length,
    photos: gone.reduce((sum, { photos }) => sum + (photos?.length ?? 0), 0),
  };
}

/** Rows read from a CSV file or a spreadsheet become one edit of a table. */
import type { Row, Table, WorkbookDocument } from './document.ts';
import type { Edit } from './edit-kinds.ts';
import type { CsvReading } from './file/csv.ts';
import { followRows, type Following } from './follow-choice.ts';
import { newRowIds } from './identity.ts';
import { itemsOf } from './locate.ts';

/**
 * Puts the rows read in place of those that the table shows, or after them. Rows that say nothing about the column
 * by which the table is shown (`shownBy`) belong to what is shown now.
 */
export function importEdit(
  document: WorkbookDocument,
  table: Table,
  reading: Pick<CsvReading, 'rows'>,
  how: 'replace' | 'append',
): Edit {
  return imported(document, table, reading, how).edit;
}

/** The same, with what follows where the file has words of a list by other names. */
export function imported(
  document: WorkbookDocument,
  table: Table,
  reading: Pick<CsvReading, 'rows'>,
  how: 'replace' | 'append',
): { readonly edit: Edit; readonly following: Following } {
  const rows = keptRows(document, table, reading);
  const gone = how === 'append' ? [] : replacedRows(table, rows);
  const following = followRows(document, table, gone, rows);
  const edits: Edit[] = [];
  if (gone.length > 0) edits.push({ kind: 'remove-rows', table: table.id, rows: gone.map(({ id }) => id) });
  if (rows.length > 0)
    edits.push({ kind: 'insert-rows', table: table.id, at: table.rows.length - gone.length, rows });
  edits.push(...following.edits);
  return { edit: { kind: 'batch', label: `import ${rows.length} rows`, edits }, following };
}

/** The rows of a file as the table keeps them. */
export function keptRows(document: WorkbookDocument, table: Table, reading: Pick<CsvReading, 'rows'>): Row[] {
  const shown = shownValue(document, table);
  const by = table.columns.find((column) => column.name === table.shownBy?.column);
  const ids = newRowIds(table, reading.rows.length);
  return reading.rows.map((row, i): Row => {
    const entries =
      by && shown !== undefined && row.entries[by.id] === undefined
        ? { ...row.entries, [by.id]: shown }
        : row.entries;
    return { id: ids[i] ?? `r${i + 1}`, entries, ...(row.note === undefined ? {} : { note: row.note }) };
  });
}

/** The rows that those of a file take the place of. */
export function replacedRows(table: Table, rows: readonly Row[]): readonly Row[] {
  if (rows.length === 0) return [];
  const by = table.columns.find((column) => column.name === table.shownBy?.column);
  const replaced = new Set(by ? rows.map((row) => row.entries[by.id]) : []);
  return table.rows.filter((row) => !by || replaced.has(row.entries[by.id]));
}

/** The text of the cell by which a table is filtered. */
export function shownValue(document: WorkbookDocument, table: Table): string | undefined {
  if (!table.shownBy) return undefined;
  for (const item of itemsOf(document))
    if (item.kind === 'cell' && item.name === table.shownBy.cell) return item.text;
  return undefined;
}

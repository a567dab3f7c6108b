/** The edits the face asks for. One function a deed of the person, so that each is one step to undo. */
import {
  newRowIds,
  type Cell,
  type Column,
  type Edit,
  type EntryChange,
  type Prose,
  type Row,
  type Table,
} from '../workbook/index.ts';

export function setTitle(title: string): Edit {
  return { kind: 'set-document', patch: { title } };
}

export function setCell(cell: Cell, text: string): Edit {
  return { kind: 'set-cell', cell: cell.id, patch: { text } };
}

export function setNote(cell: Cell, note: string): Edit {
  return { kind: 'set-cell', cell: cell.id, patch: { note } };
}

export function setProse(prose: Prose, text: string): Edit {
  return { kind: 'set-prose', prose: prose.id, text };
}

/** Whether a new job is asked for it. */
export function setInput(cell: Cell, input: boolean): Edit {
  return { kind: 'set-cell', cell: cell.id, patch: { input: input ? true : null } };
}

export function setFormula(table: Table, column: Column, formula: string): Edit {
  return { kind: 'set-column', table: table.id, column: column.id, patch: { formula } };
}

export function setEntries(table: Table, entries: readonly EntryChange[]): Edit {
  return { kind: 'set-entries', table: table.id, entries };
}

export function orderRows(table: Table, rows: readonly Row[]): Edit {
  return { kind: 'order-rows', table: table.id, rows: rows.map(({ id }) => id) };
}

export function setRowNote(table: Table, row: Row, note: string): Edit {
  return { kind: 'set-row-note', table: table.id, row: row.id, note };
}

export function newRow(table: Table, entries: Readonly<Record<string, string>>): Row {
  return { id: newRowIds(table, 1)[0] ?? 'r1', entries };
}

export function insertRows(table: Table, at: number, rows: readonly Row[]): Edit {
  return { kind: 'insert-rows', table: table.id, at, rows };
}

export function removeRows(table: Table, rows: readonly number[]): Edit {
  const ids = rows.flatMap((row) => table.rows[row]?.id ?? []);
  return { kind: 'remove-rows', table: table.id, rows: ids };
}

/** Several edits as one step; a single one stays itself. */
export function together(label: string, edits: readonly Edit[]): Edit {
  const [only] = edits;
  return edits.length === 1 && only ? only : { kind: 'batch', label, edits };
}

/** Edits inside one table: entries, rows, columns. */
import type { Column, Row, Table } from './document.ts';
import type {
  ColumnPatch,
  Edit,
  EditProblem,
  EntryChange,
  PhotoEdit,
  TableEdit,
  TablePatch,
  Touched,
} from './edit-kinds.ts';
import { patched } from './edit-patch.ts';
import { NOTHING_TOUCHED, touches } from './edit-touched.ts';
import { changedAt, insertedAt, removedAt } from './locate.ts';
import {
  unsoundColumn,
  unsoundName,
  unsoundPlaces,
  unsoundRows,
  unsoundText,
  limitPassed,
} from './soundness.ts';
import { placesOf } from './row-places.ts';
import type { Unsound } from './soundness.ts';
import { LIMITS } from './limits.ts';

export interface TableApplied {
  readonly table: Table;
  readonly inverse: Edit;
  readonly touched: Touched;
}

type Of<K extends TableEdit['kind']> = Extract<TableEdit, { kind: K }>;

const TABLE_FIELDS = [
  'name',
  'label',
  'note',
  'reasonColumn',
  'shownBy',
  'input',
] as const satisfies (keyof TablePatch)[];
const COLUMN_FIELDS = [
  'name',
  'label',
  'type',
  'unit',
  'formula',
  'places',
  'plusMinus',
  'pinned',
  'choices',
  'settled',
  'hidden',
  'brief',
  'each',
  'shared',
  'footer',
  'input',
  'note',
] as const satisfies (keyof ColumnPatch)[];
/** Fields of a column that change no value: they are shown or read by people only. */
const COLUMN_SHOWN: ReadonlySet<string> = new Set([
  'label',
  'places',
  'pinned',
  'hidden',
  'brief',
  'settled',
  'input',
  'note',
]);

export function toProblem(unsound: Unsound): EditProblem {
  const found = /[.!?]$/.test(unsound.found)
    ? unsound.found
    : `${unsound.found}; expected ${unsound.expected}.`;
  return {
    problem: unsound.code.endsWith('-name') ? found : `${unsound.where}: ${found}`,
    suggestion: unsound.suggestion,
  };
}

export function applyToTable(
  table: Table,
  edit: Exclude<TableEdit, PhotoEdit>,
  otherNames: () => ReadonlySet<string>,
): TableApplied | EditProblem {
  switch (edit.kind) {
    case 'set-table':
      return setTable(table, edit, otherNames);
    case 'set-entries':
      return setEntries(table, edit);
    case 'insert-rows':
      return insertRows(table, edit);
    case 'remove-rows':
      return removeRows(table, edit);
    case 'order-rows':
      return orderRows(table, edit);
    case 'set-row-note':
      return setRowNote(table, edit);
    case 'set-column':
      return setColumn(table, edit);
    case 'insert-column':
      return insertColumn(table, edit);
    case 'remove-column':
      return removeColumn(table, edit);
    case 'move-column':
      return moveColumn(table, edit);
  }
}

function setTable(
  table: Table,
  edit: Of<'set-table'>,
  otherNames: () => ReadonlySet<string>,
): TableApplied | EditProblem {
  const { record, inverse, changed } = patched(table, edit.patch, TABLE_FIELDS);
  const problem = changed.has('name')
    ? unsoundName(record.name, otherNames(), `table ${table.name}`)
    : undefined;
  if (problem) return toProblem(problem);
  const touched = changed.has('name')
    ? touches({ tables: [[table.id, { structure: true }]] })
    : touches({ shown: changed.size > 0 ? [table.id] : [] });
  return { table: record, inverse: { kind: 'set-table', table: table.id, patch: inverse }, touched };
}

export function isBlank(text: string | undefined): boolean {
  return text === undefined || text.trim() === '';
}

function setEntries(table: Table, edit: Of<'set-entries'>): TableApplied | EditProblem {
  const columns = new Map(table.columns.map((column) => [column.id, column.name]));
  const wanted = new Map<string, Map<string, string | undefined>>();
  for (const { row, column, text } of edit.entries) {
    const name = columns.get(column);
    if (name === undefined) return { problem: `The table ${table.name} no longer has that column.` };
    const long = unsoundText(text, `table ${table.name}, column ${name}`);
    if (long) return toProblem(long);
    const entries = wanted.get(row) ?? new Map<string, string | undefined>();
    entries.set(column, isBlank(text) ? undefined : text);
    wanted.set(row, entries);
  }
  const inverse: EntryChange[] = [];
  const touched: { row: string; column: string }[] = [];
  const places = placesOf(table.rows, new Set(wanted.keys()));
  const rows = [...table.rows];
  for (const [id, at] of places) {
    const row = rows[at];
    if (!row) continue;
    const entries = new Map(Object.entries(row.entries));
    let same = true;
    for (const [column, text] of wanted.get(id) ?? []) {
      const old = entries.get(column);
      if (old === text) continue;
      same = false;
      if (text === undefined) entries.delete(column);
      else entries.set(column, text);
      inverse.push(old === undefined ? { row: id, column } : { row: id, column, text: old });
      touched.push({ row: id, column });
    }
    if (!same) rows[at] = { ...row, entries: Object.fromEntries(entries) };
  }
  const missing = wanted.size - places.size;
  if (missing > 0)
    return { problem: `The table ${table.name} no longer has ${missing === 1 ? 'that row' : 'those rows'}.` };
  return {
    table: touched.length === 0 ? table : { ...table, rows },
    inverse: { kind: 'set-entries', table: table.id, entries: inverse },
    touched: touched.length === 0 ? NOTHING_TOUCHED : touches({ tables: [[table.id, { entries: touched }]] }),
  };
}

/** A row as it is kept: blank entries are no entries. */
export function tidyRow(row: Row): Row {
  const entries = Object.entries(row.entries);
  const kept = entries.filter(([, text]) => !isBlank(text));
  if (kept.length === entries.length && row.note !== '') return row;
  const { note, ...rest } = row;
  return {
    ...rest,
    entries: Object.fromEntries(kept),
    ...(note === undefined || note === '' ? {} : { note }),
  };
}

function insertRows(table: Table, edit: Of<'insert-rows'>): TableApplied | EditProblem {
  const added = edit.rows.map(tidyRow);
  const problem = unsoundRows(table, added);
  if (problem) return toProblem(problem);
  const rows = merged(table.rows, added, edit.at);
  if (!rows) return { problem: `The table ${table.name} has no such place for a row.` };
  return {
    table: { ...table, rows },
    inverse: { kind: 'remove-rows', table: table.id, rows: added.map((row) => row.id) },
    touched: touches({ tables: [[table.id, { rows: true }]] }),
  };
}

function merged(
  rows: readonly Row[],
  added: readonly Row[],
  at: number | readonly number[],
): readonly Row[] | undefined {
  if (typeof at === 'number') return isPlace(at, rows.length) ? insertedAt(rows, at, added) : undefined;
  if (at.length !== added.length) return undefined;
  const result: Row[] = [];
  let next = 0;
  for (const [index, row] of added.entries()) {
    const place = at[index] ?? -1;
    if (!isPlace(place, rows.length + added.length - 1) || place < result.length) return undefined;
    while (result.length < place) {
      const old = rows[next++];
      if (!old) return undefined;
      result.push(old);
    }
    result.push(row);
  }
  return result.concat(rows.slice(next));
}

export function isPlace(at: number, length: number): boolean {
  return Number.isInteger(at) && at >= 0 && at <= length;
}

function removeRows(table: Table, edit: Of<'remove-rows'>): TableApplied | EditProblem {
  const going = new Set(edit.rows);
  const places: number[] = [];
  const removed: Row[] = [];
  const rows = table.rows.filter((row, index) => {
    if (!going.has(row.id)) return true;
    places.push(index);
    removed.push(row);
    return false;
  });
  if (removed.length !== going.size)
    return { problem: `The table ${table.name} no longer has all of those rows.` };
  const [first = 0] = places;
  const together = places.every((place, index) => place === first + index);
  return {
    table: { ...table, rows },
    inverse: { kind: 'insert-rows', table: table.id, at: together ? first : places, rows: removed },
    touched: touches({ tables: [[table.id, { rows: true }]] }),
  };
}

function orderRows(table: Table, edit: Of<'order-rows'>): TableApplied | EditProblem {
  const byId = new Map(table.rows.map((row) => [row.id, row]));
  const rows = edit.rows.flatMap((id) => {
    const row = byId.get(id);
    byId.delete(id);
    return row ?? [];
  });
  if (byId.size > 0 || rows.length !== edit.rows.length)
    return { problem: `The rows of the table ${table.name} are no longer those that were put in order.` };
  const same = rows.every((row, at) => row === table.rows[at]);
  return {
    table: same ? table : { ...table, rows },
    inverse: { kind: 'order-rows', table: table.id, rows: table.rows.map((row) => row.id) },
    touched: same ? NOTHING_TOUCHED : touches({ tables: [[table.id, { rows: true }]] }),
  };
}

function setRowNote(table: Table, edit: Of<'set-row-note'>): TableApplied | EditProblem {
  const at = table.rows.findIndex((row) => row.id === edit.row);
  const row = table.rows[at];
  if (!row) return { problem: `The table ${table.name} no longer has that row.` };
  const { note: old, ...bare } = row;
  const note = edit.note === '' ? undefined : edit.note;
  const rows = changedAt(table.rows, at, () => (note === undefined ? bare : { ...bare, note }));
  return {
    table: old === note ? table : { ...table, rows },
    inverse: {
      kind: 'set-row-note',
      table: table.id,
      row: edit.row,
      ...(old === undefined ? {} : { note: old }),
    },
    touched: touches({ shown: [table.id] }),
  };
}

function setColumn(table: Table, edit: Of<'set-column'>): TableApplied | EditProblem {
  const at = table.columns.findIndex((column) => column.id === edit.column);
  const column = table.columns[at];
  if (!column) return { problem: `The table ${table.name} no longer has that column.` };
  const { record, inverse, changed } = patched(column, edit.patch, COLUMN_FIELDS);
  const others = new Set(table.columns.filter((other) => other !== column).map((other) => other.name));
  const where = `table ${table.name}, column ${column.name}`;
  const problem =
    unsoundName(record.name, others, where) ??
    unsoundText(record.formula, where) ??
    unsoundPlaces(record.places, where);
  if (problem) return toProblem(problem);
  const structure = [...changed].some((field) => !COLUMN_SHOWN.has(field));
  return {
    table: changed.size === 0 ? table : { ...table, columns: changedAt(table.columns, at, () => record) },
    inverse: { kind: 'set-column', table: table.id, column: column.id, patch: inverse },
    touched: structure
      ? touches({ tables: [[table.id, { structure }]] })
      : touches({ shown: changed.size > 0 ? [table.id] : [] }),
  };
}

function insertColumn(table: Table, edit: Of<'insert-column'>): TableApplied | EditProblem {
  const { column, at } = edit;
  if (!isPlace(at, table.columns.length))
    return { problem: `The table ${table.name} has no such place for a column.` };
  const problem =
    limitPassed(`table ${table.name}`, 'columns', table.columns.length + 1, LIMITS.columns) ??
    unsoundColumn(table.name, column, new Set(table.columns.map((other) => other.name)), {
      ids: new Set(table.columns.map((other) => other.id)),
    });
  if (problem) return toProblem(problem);
  const widened: Table = { ...table, columns: insertedAt(table.columns, at, [column]) };
  const entries = (edit.entries ?? []).map(({ row, text }) => ({ row, column: column.id, text }));
  const filled = setEntries(widened, { kind: 'set-entries', table: table.id, entries });
  if ('problem' in filled) return filled;
  const remove: Edit = { kind: 'remove-column', table: table.id, column: column.id };
  // A reference that led nowhere leads to the new column now. Removing takes it away, so undoing puts it back.
  const { inverse: patch } = patched<Table, TablePatch>(table, unusedBy(table, column), TABLE_FIELDS);
  const alsoTable: Edit = { kind: 'set-table', table: table.id, patch };
  return {
    table: filled.table,
    inverse:
      Object.keys(patch).length === 0
        ? remove
        : { kind: 'batch', label: 'add column', edits: [remove, alsoTable] },
    touched: touches({ tables: [[table.id, { structure: true }]] }),
  };
}

function removeColumn(table: Table, edit: Of<'remove-column'>): TableApplied | EditProblem {
  const at = table.columns.findIndex((column) => column.id === edit.column);
  const column = table.columns[at];
  if (!column) return { problem: `The table ${table.name} no longer has that column.` };
  const entries: { row: string; text: string }[] = [];
  const rows = table.rows.map((row) => {
    const text = row.entries[column.id];
    if (text === undefined) return row;
    entries.push({ row: row.id, text });
    const { [column.id]: _gone, ...rest } = row.entries;
    return { ...row, entries: rest };
  });
  const patch = unusedBy(table, column);
  const { record, inverse } = patched<Table, TablePatch>(table, patch, TABLE_FIELDS);
  const back: Edit = { kind: 'insert-column', table: table.id, at, column, entries };
  const alsoTable: Edit = { kind: 'set-table', table: table.id, patch: inverse };
  return {
    table: { ...record, rows, columns: removedAt(table.columns, at) },
    inverse:
      Object.keys(inverse).length === 0
        ? back
        : { kind: 'batch', label: 'remove column', edits: [back, alsoTable] },
    touched: touches({ tables: [[table.id, { structure: true }]] }),
  };
}

function moveColumn(table: Table, edit: Of<'move-column'>): TableApplied | EditProblem {
  const from = table.columns.findIndex((column) => column.id === edit.column);
  const column = table.columns[from];
  if (!column) return { problem: `The table ${table.name} no longer has that column.` };
  if (!isPlace(edit.at, table.columns.length - 1))
    return { problem: `The table ${table.name} has no such place for a column.` };
  return {
    table:
      edit.at === from
        ? table
        : { ...table, columns: insertedAt(removedAt(table.columns, from), edit.at, [column]) },
    inverse: { kind: 'move-column', table: table.id, column: column.id, at: from },
    touched: edit.at === from ? NOTHING_TOUCHED : touches({ tables: [[table.id, { structure: true }]] }),
  };
}

/** A table can no longer strike rows through, or choose them, by a column that is gone. */
function unusedBy(table: Table, column: Column): TablePatch {
  return {
    ...(table.reasonColumn === column.name ? { reasonColumn: null } : {}),
    ...(table.shownBy?.column === column.name ? { shownBy: null } : {}),
  };
}

/** What a person does to the columns of a table, each as one edit. */
import { nextName, nextTitle } from './copy-part.ts';
import type { Column, Table } from './document.ts';
import type { Edit } from './edit-kinds.ts';
import { newColumnId } from './identity.ts';

function titleOf(column: Column): string {
  return column.label || column.name;
}

export function columnStep(table: Table, column: Column, by: -1 | 1): Edit | undefined {
  const at = table.columns.indexOf(column) + by;
  if (at < 0 || at >= table.columns.length) return undefined;
  const move: Edit = { kind: 'move-column', table: table.id, column: column.id, at };
  return { kind: 'batch', label: `move the column “${titleOf(column)}”`, edits: [move] };
}

export function columnRemoval(table: Table, column: Column): Edit {
  const remove: Edit = { kind: 'remove-column', table: table.id, column: column.id };
  return { kind: 'batch', label: `delete the column “${titleOf(column)}”`, edits: [remove] };
}

/** A copy with all its entries, right behind the original. `taken`: names that would be read otherwise. */
export function columnDuplication(
  table: Table,
  column: Column,
  taken: { has(name: string): boolean },
): { readonly edit: Edit; readonly id: string } {
  const names = new Set(table.columns.map((each) => each.name));
  const labels = new Set(table.columns.map((each) => each.label));
  const name = nextName(column.name, { has: (wish) => names.has(wish) || taken.has(wish) });
  const id = newColumnId(table, name);
  const entries = table.rows.flatMap((row) => {
    const text = row.entries[column.id];
    return text === undefined ? [] : [{ row: row.id, text }];
  });
  const insert: Edit = {
    kind: 'insert-column',
    table: table.id,
    at: table.columns.indexOf(column) + 1,
    column: { ...column, id, name, label: nextTitle(column.label, labels) },
    entries,
  };
  return { id, edit: { kind: 'batch', label: `duplicate the column “${titleOf(column)}”`, edits: [insert] } };
}

/** From now on every row is calculated: what was typed would stand over the formula, so it goes. */
export function asCalculated(table: Table, column: Column, formula: string): Edit {
  const entries = table.rows.flatMap((row) =>
    row.entries[column.id] === undefined ? [] : [{ row: row.id, column: column.id, text: '' }],
  );
  const edits: Edit[] = [
    { kind: 'set-column', table: table.id, column: column.id, patch: { formula, each: null, shared: null } },
  ];
  if (entries.length > 0) edits.unshift({ kind: 'set-entries', table: table.id, entries });
  return { kind: 'batch', label: `calculate the column “${titleOf(column)}”`, edits };
}

/** From now on every row is typed; `texts` are the results that stay, by row. Rows typed over keep their texts. */
export function asTyped(table: Table, column: Column, texts: readonly (string | undefined)[]): Edit {
  const entries = table.rows.flatMap((row, at) => {
    const text = texts[at];
    return text === undefined || row.entries[column.id] !== undefined
      ? []
      : [{ row: row.id, column: column.id, text }];
  });
  const edits: Edit[] = [
    { kind: 'set-column', table: table.id, column: column.id, patch: { formula: null } },
  ];
  if (entries.length > 0) edits.push({ kind: 'set-entries', table: table.id, entries });
  return { kind: 'batch', label: `type the column “${titleOf(column)}”`, edits };
}

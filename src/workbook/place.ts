/** One place that holds a value: a cell, or one entry of a table, by the name that formulas and lists call it. */
import type { CellState } from '../engine/index.ts';
import type { WorkbookDocument } from './document.ts';
import type { Edit } from './edit-kinds.ts';
import { itemsOf } from './locate.ts';
import type { Workbook } from './workbook.ts';

export interface Place {
  readonly unit: string;
  /** As typed; empty where nothing is. */
  readonly text: string;
  readonly state: (workbook: Workbook) => CellState;
  /** Types something else. */
  readonly edit: (text: string) => Edit;
}

const ENTRY = /^([^.[\]]+)\.([^.[\]]+)\[(\d+)\]$/u;

/** `ceiling_height`, or `walls.height[2]` for the second row. */
export function placeNamed(document: WorkbookDocument, name: string): Place | undefined {
  const [, tableName, columnName, number] = ENTRY.exec(name) ?? [];
  for (const item of itemsOf(document)) {
    if (item.kind === 'cell' && item.name === name)
      return {
        unit: item.unit,
        text: item.text,
        state: (workbook) => workbook.state(name),
        edit: (text) => ({ kind: 'set-cell', cell: item.id, patch: { text } }),
      };
    if (item.kind !== 'table' || item.name !== tableName) continue;
    const column = item.columns.find((each) => each.name === columnName);
    const at = Number(number) - 1;
    const row = item.rows[at];
    if (!column || !row) return undefined;
    return {
      unit: column.unit,
      text: row.entries[column.id] ?? '',
      state: (workbook) => workbook.columnState(item.name, column.name, at),
      edit: (text) => ({
        kind: 'set-entries',
        table: item.id,
        entries: [{ row: row.id, column: column.id, text }],
      }),
    };
  }
  return undefined;
}

/** The name of an entry as `placeNamed` reads it. */
export function entryName(table: string, column: string, row: number): string {
  return `${table}.${column}[${row + 1}]`;
}

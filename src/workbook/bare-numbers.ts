/** Numbers typed without a unit mean the unit of their place: when that changes, they mean something else. */
import { parseUnit, readEntry } from '../engine/index.ts';
import type { Cell, Column, Table } from './document.ts';
import type { Edit } from './edit-kinds.ts';

export interface BareNumbers {
  readonly count: number;
  /** Writes the former unit behind them, so that they mean what they meant. */
  readonly keep: Edit;
}

/** The text with its unit written behind it; undefined where it has one already, or is no plain value. */
function withUnit(text: string, unit: string): string | undefined {
  const own = parseUnit(unit);
  const bare = readEntry(text, undefined);
  if ('problem' in own || !('literal' in bare) || bare.literal.unit !== undefined) return undefined;
  const written = `${text.trim()} ${unit}`;
  const before = readEntry(text, own);
  const after = readEntry(written, undefined);
  const isSame = 'literal' in before && 'literal' in after && before.literal.si === after.literal.si;
  return isSame ? written : undefined;
}

/** Of a cell that had `unit`. */
export function bareInCell(cell: Cell, unit: string): BareNumbers | undefined {
  const text = unit === '' ? undefined : withUnit(cell.text, unit);
  if (text === undefined) return undefined;
  return { count: 1, keep: { kind: 'set-cell', cell: cell.id, patch: { text } } };
}

/** Of a column that had `unit`. */
export function bareInColumn(table: Table, column: Column, unit: string): BareNumbers | undefined {
  if (unit === '') return undefined;
  const entries = table.rows.flatMap((row) => {
    const typed = row.entries[column.id];
    const text = typed === undefined ? undefined : withUnit(typed, unit);
    return text === undefined ? [] : [{ row: row.id, column: column.id, text }];
  });
  if (entries.length === 0) return undefined;
  return { count: entries.length, keep: { kind: 'set-entries', table: table.id, entries } };
}

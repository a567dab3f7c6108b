/** Widths of a table's columns, in characters: wide enough for what is in them, and steady while values change. */
import type { Column, Table } from '../../workbook/index.ts';
import { asText, show } from '../display.ts';
import type { Session } from '../session.svelte.ts';

/** Rows that are looked at: enough to see what a column holds. */
const SAMPLE = 40;
const NARROWEST = 6;
const WIDEST = 24;

export function columnWidths(
  session: Session,
  table: Table,
  columns: readonly Column[],
  rows: readonly number[],
  units: readonly string[],
): number[] {
  return columns.map((column, at) => {
    const words = [...(column.label || column.name).split(/\s+/), units[at] ?? ''];
    const heading = Math.max(
      ...words.map((word) => word.length),
      (column.label || column.name).length / 2 + 2,
    );
    const longest = rows.slice(0, SAMPLE).map((row) => {
      const shown = show(session.columnState(table.name, column.name, row), column, session.system);
      if (shown.kind === 'faulty' || shown.kind === 'waiting') return NARROWEST;
      return asText(shown.kind === 'value' ? { ...shown, unit: '' } : shown).length;
    });
    return Math.min(WIDEST, Math.max(NARROWEST, heading, ...longest) + 2.5);
  });
}

import type { Column } from '../../workbook/index.ts';
import { plainText, saidIn } from '../display.ts';
import { textToEdit } from '../entry.ts';
import { localPlain, localText } from '../locale.ts';
import { writeBlock } from './block.ts';
import type { Grid } from './grid.svelte.ts';

/** What is selected: typed cells as they were typed, calculated ones as numbers a spreadsheet can read. */
export function copied(grid: Grid): string {
  const { top, bottom, left, right } = grid.range;
  const rows = grid.rows.slice(top, bottom + 1);
  const columns = grid.columns.slice(left, right + 1);
  return writeBlock(rows.map((row) => columns.map((column) => plain(grid, row, column))));
}

function plain(grid: Grid, row: number, column: Column): string {
  const { session, table } = grid;
  const typed = table.rows[row]?.entries[column.id];
  if (typed === undefined) {
    const state = session.columnState(table.name, column.name, row);
    return saidIn(state, session.system) || localPlain(plainText(state, column));
  }
  if (column.type !== 'number') return typed;
  return localText(textToEdit(typed, grid.unitsOf(grid.columns.indexOf(column))));
}

/** Rows of a table that are on the screen: all, or those that belong to the value of the cell that chooses. */
import type { Column, Table } from '../workbook/index.ts';
import type { Session } from './session.svelte.ts';

/** Row indices in the table's order. */
export function shownRows(session: Session, table: Table): number[] {
  const wanted = shownValue(session, table);
  const all = table.rows.map((_, row) => row);
  if (wanted === undefined || !table.shownBy) return all;
  const { column } = table.shownBy;
  return all.filter((row) => {
    const state = session.columnState(table.name, column, row);
    return state.state === 'value' && state.value === wanted;
  });
}

/** The text by which rows are chosen, when the table has such a cell and it holds one. */
export function shownValue(session: Session, table: Table): string | undefined {
  if (!table.shownBy) return undefined;
  const state = session.state(table.shownBy.cell);
  return state.state === 'value' && typeof state.value === 'string' ? state.value : undefined;
}

/** Columns of the grid, the reason last. The column that chooses the rows says the same in each and is left out. */
export function shownColumns(session: Session, table: Table): Column[] {
  const chosen = shownValue(session, table) === undefined ? undefined : table.shownBy?.column;
  const shown = table.columns.filter((column) => column.hidden !== true && column.name !== chosen);
  return [
    ...shown.filter((column) => column.name !== table.reasonColumn),
    ...shown.filter((column) => column.name === table.reasonColumn),
  ];
}

/** Why a row is struck through, if it is. */
export function reasonOf(session: Session, table: Table, row: number): string {
  if (table.reasonColumn === undefined) return '';
  const state = session.columnState(table.name, table.reasonColumn, row);
  return state.state === 'value' && typeof state.value === 'string' ? state.value : '';
}

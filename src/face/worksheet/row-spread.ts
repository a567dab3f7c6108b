import type { Column } from '../../workbook/index.ts';
import type { Grid } from './grid.svelte.ts';

/** Whether a calculated place of a table has a ± that comes from somewhere. */
export function hasSpread({ session, table }: Grid, column: Column, row: number): boolean {
  if (column.formula === undefined || table.columns.every(({ id }) => id !== column.id)) return false;
  const state = session.columnState(table.name, column.name, row);
  return (
    state.state === 'value' &&
    !state.typed &&
    typeof state.value === 'number' &&
    state.plusMinus !== undefined &&
    state.plusMinus > 0
  );
}

/** What the filters of a table ask of its rows, with what stands in them. */
import type { Unit } from '../../engine/index.ts';
import type { Column, Table } from '../../workbook/index.ts';
import type { Session } from '../session.svelte.ts';
import { limitsOf, type Limits, type LimitUnits } from './number-limits.ts';
import type { Asked, Filter } from './row-filter.ts';

export interface FilteredTable {
  readonly session: Session;
  readonly table: Table;
  readonly filters: ReadonlyMap<string, Filter>;
  shownText(row: number, column: Column): string;
  unitOf(column: Column): Unit | undefined;
}

export function limitUnits(grid: FilteredTable, column: Column): LimitUnits {
  return { own: column.unit, shown: grid.unitOf(column) };
}

/** Of a column that no longer holds numbers none. */
export function limitsAsked(grid: FilteredTable, column: Column, filter: Filter): Limits {
  const none = column.type !== 'number';
  return limitsOf(none ? { least: '', most: '' } : filter, limitUnits(grid, column));
}

export function askedOf(grid: FilteredTable): Asked[] {
  const { session, table } = grid;
  return table.columns.flatMap((column) => {
    const filter = grid.filters.get(column.id);
    if (!filter) return [];
    return [
      {
        filter,
        limits: limitsAsked(grid, column, filter),
        text: (row) => grid.shownText(row, column),
        number: (row) => {
          const state = session.columnState(table.name, column.name, row);
          return state.state === 'value' && typeof state.value === 'number' ? state.value : undefined;
        },
      },
    ];
  });
}

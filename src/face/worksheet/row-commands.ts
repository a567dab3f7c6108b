/** What can be done to the rows that are selected: one list for the keys, the menu of a row and the cards. */
import { newRowIds, type EntryChange, type Row } from '../../workbook/index.ts';
import { insertRows, newRow, orderRows, removeRows, setEntries } from '../edits.ts';
import type { GridSurface } from './grid-surface.ts';
import type { RowCommandId } from './grid-keys.ts';
import { placed, shifted, sorted, type Direction } from './row-order.ts';
import { typeBlock } from './type-entry.ts';

export interface RowCommand {
  readonly id: RowCommandId;
  /** `many`: how many rows are selected. */
  readonly words: (many: number) => string;
  readonly keys: string;
  /** Whether the line after the last row has it too. */
  readonly onNew: boolean;
}

const rowsOf = (many: number) => (many === 1 ? 'the row' : `${many} rows`);

export const ROW_COMMANDS: readonly RowCommand[] = [
  { id: 'above', words: () => 'Insert a row above', keys: 'Ctrl Shift Enter', onNew: true },
  { id: 'below', words: () => 'Insert a row below', keys: 'Ctrl Enter', onNew: true },
  { id: 'duplicate', words: (many) => `Duplicate ${rowsOf(many)}`, keys: 'Ctrl Shift D', onNew: false },
  { id: 'up', words: (many) => `Move ${rowsOf(many)} up`, keys: 'Alt ↑', onNew: false },
  { id: 'down', words: (many) => `Move ${rowsOf(many)} down`, keys: 'Alt ↓', onNew: false },
  { id: 'fill down', words: () => 'Fill down', keys: 'Ctrl D', onNew: true },
  { id: 'clear', words: () => 'Clear what is typed', keys: 'Delete', onNew: false },
  { id: 'note', words: () => 'Note on the row, photos…', keys: '', onNew: false },
  { id: 'remove', words: (many) => `Remove ${rowsOf(many)}`, keys: 'Ctrl Delete', onNew: false },
];

export async function runRowCommand(grid: GridSurface, id: RowCommandId): Promise<void> {
  grid.panel = undefined;
  switch (id) {
    case 'above':
      return insert(grid, 'above');
    case 'below':
      return insert(grid, 'below');
    case 'duplicate':
      return duplicate(grid);
    case 'up':
    case 'down':
      return move(grid, id);
    case 'fill down':
      fillDown(grid);
      return grid.focus();
    case 'clear':
      clear(grid);
      return grid.focus();
    case 'note':
      if (grid.row(grid.active)) grid.panel = 'note';
      return;
    case 'remove':
      return remove(grid);
  }
}

/** Rows that are selected, as indices into the table's rows. */
function selected(grid: GridSurface): number[] {
  return grid.rows.slice(grid.range.top, grid.range.bottom + 1);
}

function clear(grid: GridSurface): void {
  const { left, right } = grid.range;
  const columns = grid.columns.slice(left, right + 1);
  const entries: EntryChange[] = selected(grid).flatMap((index) => {
    const row = grid.table.rows[index];
    if (!row) return [];
    return columns.flatMap(({ id }) => (row.entries[id] === undefined ? [] : [{ row: row.id, column: id }]));
  });
  if (entries.length === 0) return;
  grid.keep(entries.map(({ row }) => row));
  grid.session.apply(setEntries(grid.table, entries));
}

async function insert(grid: GridSurface, where: 'above' | 'below'): Promise<void> {
  const { active, rows, table } = grid;
  const index = rows[active.row];
  const below = where === 'below' && index !== undefined;
  const row = newRow(table, grid.belonging());
  grid.keep([row.id]);
  grid.session.apply(
    insertRows(table, index === undefined ? table.rows.length : index + Number(below), [row]),
  );
  await grid.moveTo({ row: active.row + Number(below), column: active.column });
}

async function duplicate(grid: GridSurface): Promise<void> {
  const { table, range, active } = grid;
  const source = selected(grid).flatMap((index) => table.rows[index] ?? []);
  const last = grid.rows[Math.min(range.bottom, grid.rows.length - 1)];
  if (source.length === 0 || last === undefined) return;
  const ids = newRowIds(table, source.length);
  const rows = source.map(({ entries }, at): Row => ({ id: ids[at] ?? '', entries }));
  grid.keep(ids);
  grid.session.apply(insertRows(table, last + 1, rows));
  await grid.moveTo({ row: range.top + source.length, column: active.column });
}

async function remove(grid: GridSurface): Promise<void> {
  const rows = selected(grid);
  if (rows.length === 0) return;
  const { top } = grid.range;
  grid.session.apply(removeRows(grid.table, rows));
  // What lay open is gone, and where it was the last, no new row begins by itself.
  grid.opened = undefined;
  grid.session.announcement = rows.length === 1 ? 'Row removed' : `${rows.length} rows removed`;
  await grid.moveTo({ row: top, column: grid.active.column });
}

async function move(grid: GridSurface, direction: Direction): Promise<void> {
  const { range, active, anchor, table, rows } = grid;
  const bottom = Math.min(range.bottom, rows.length - 1);
  const order = range.top > bottom ? undefined : shifted(rows, range.top, bottom, direction);
  if (!order) {
    grid.session.announcement = direction === 'up' ? 'Already the first row' : 'Already the last row';
    return;
  }
  grid.session.apply(orderRows(table, placed(table.rows, rows, order)));
  const step = direction === 'up' ? -1 : 1;
  grid.active = { ...active, row: Math.min(active.row, bottom) + step };
  grid.anchor = anchor && { ...anchor, row: Math.min(anchor.row, bottom) + step };
  grid.session.announcement = `Now row ${Math.min(active.row, bottom) + step + 1}`;
  await grid.focus();
}

/**
 * What stands in the first row of the selection goes into the rows below it; of a single row, what stands above it.
 * Calculated columns keep their formula.
 */
function fillDown(grid: GridSurface): void {
  const { left, right, top, bottom } = grid.range;
  const single = top === bottom;
  const source = grid.row({ row: single ? top - 1 : top, column: 0 });
  const columns = grid.columns.slice(left, right + 1).filter(({ formula }) => formula === undefined);
  if (!source || columns.length === 0) return;
  const texts = columns.map(({ id }) => ({ column: id, text: source.entries[id] }));
  if (single && !grid.row(grid.active)) {
    grid.append(
      Object.fromEntries(texts.flatMap(({ column, text }) => (text === undefined ? [] : [[column, text]]))),
    );
    return;
  }
  const targets = grid.rows.slice(single ? top : top + 1, bottom + 1);
  const entries = targets.flatMap((index) => {
    const row = grid.table.rows[index];
    return row ? texts.map(({ column, text }): EntryChange => ({ row: row.id, column, text })) : [];
  });
  if (entries.length === 0) return;
  grid.keep(entries.map(({ row }) => row));
  const edits = [setEntries(grid.table, entries)];
  typeBlock(grid.session, grid.table, 'fill down', edits, entries);
}

/** Puts the rows shown in the order of a column, as an edit; notes and choices stay with their rows. */
export async function sortRows(grid: GridSurface, name: string, direction: Direction): Promise<void> {
  const { table, rows, session } = grid;
  const stateOf = (row: number) => session.workbook.columnState(table.name, name, row);
  const current = grid.row(grid.active)?.id;
  const next = placed(table.rows, rows, sorted(rows, stateOf, direction));
  session.apply({ kind: 'batch', label: 'sort', edits: [orderRows(table, next)] });
  session.announcement = `${rows.length} rows sorted by ${session.label(`${table.name}.${name}`)}`;
  const at = grid.rows.findIndex((row) => grid.table.rows[row]?.id === current);
  await grid.moveTo({ row: at < 0 ? grid.active.row : at, column: grid.active.column });
}

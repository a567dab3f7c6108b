/** From the document to the engine: what of a cell or a table the calculation needs. */
import type { ColumnDefinition, Engine } from '../engine/index.ts';
import type { Cell, Column, Table, WorkbookDocument } from './document.ts';
import type { Touched } from './edit-kinds.ts';
import { findItem, findTable } from './locate.ts';
import { placesOf } from './row-places.ts';

const FOOTER = 'footer of ';

/** Name of the engine's cell that works out what stands under a column; no person can type such a name. */
export function footerName(table: string, column: string): string {
  return `${FOOTER}${table}.${column}`;
}

/** The column, as `table.column`, that a footer stands under; nothing for another name. */
export function underColumn(name: string): string | undefined {
  return name.startsWith(FOOTER) ? name.slice(FOOTER.length) : undefined;
}

/** The texts of `table.column`, where choices come from there; undefined: they are not known yet. */
export type ListOf = (place: string) => readonly string[] | undefined;

const NO_LISTS: ListOf = () => undefined;

function listed(choices: Cell['choices'], listOf: ListOf): { readonly choices?: readonly string[] } {
  const list = typeof choices === 'string' ? listOf(choices) : choices;
  return list === undefined ? {} : { choices: list };
}

export function feed(engine: Engine, item: Cell | Table, listOf = NO_LISTS): void {
  if (item.kind === 'cell') {
    engine.defineCell({
      name: item.name,
      type: item.type,
      text: item.text,
      unit: item.unit,
      ...listed(item.choices, listOf),
      ...(item.plusMinus === undefined ? {} : { plusMinus: item.plusMinus }),
    });
    return;
  }
  engine.defineTable({
    name: item.name,
    rows: item.rows.length,
    columns: item.columns.map((column) => columnDefinition(item, column, listOf)),
  });
  for (const column of item.columns)
    if (column.footer !== undefined)
      engine.defineCell({
        name: footerName(item.name, column.name),
        type: 'number',
        text: `${column.footer}(${item.name}.${column.name})`,
      });
}

function columnDefinition(table: Table, column: Column, listOf: ListOf): ColumnDefinition {
  return {
    name: column.name,
    type: column.type,
    unit: column.unit,
    entries: table.rows.map((row) => row.entries[column.id]),
    ...(column.formula === undefined ? {} : { formula: column.formula }),
    ...listed(column.choices, listOf),
    ...(column.each === undefined ? {} : { each: column.each }),
    ...(column.shared === undefined ? {} : { shared: column.shared }),
    ...(column.plusMinus === undefined ? {} : { plusMinus: column.plusMinus }),
  };
}

/** Whether an edit was of nothing but what is typed in rows. */
export function onlyEntries({ cells, tables, outline, shown }: Touched): boolean {
  const areEntries = [...tables.values()].every(({ structure, rows }) => !structure && !rows);
  return areEntries && cells.size === 0 && shown.size === 0 && !outline;
}

/** Tells the engine what an edit touched, and nothing else; `has` says which columns it holds. */
export function feedTouched(
  engine: Engine,
  before: WorkbookDocument,
  { document: after, touched }: { readonly document: WorkbookDocument; readonly touched: Touched },
  listOf: ListOf,
  has: (column: string) => boolean,
): void {
  const cells: Cell[] = [];
  for (const id of touched.cells) {
    const old = findItem(before, id);
    const now = findItem(after, id);
    if (old?.kind === 'cell' && (now?.kind !== 'cell' || now.name !== old.name)) engine.removeCell(old.name);
    if (now?.kind === 'cell') cells.push(now);
  }
  const tables: Table[] = [];
  for (const [id, what] of touched.tables) {
    const old = findTable(before, id);
    const now = findTable(after, id);
    if (old && now?.name !== old.name) {
      engine.removeTable(old.name);
      for (const column of old.columns) engine.removeCell(footerName(old.name, column.name));
    } else if (old && now && what.structure)
      for (const column of old.columns) engine.removeCell(footerName(old.name, column.name));
    if (!now) continue;
    if (what.structure || what.rows || !old) tables.push(now);
    else {
      const rows = placesOf(now.rows, new Set(what.entries.map((entry) => entry.row)));
      const columns = new Map(now.columns.map((column) => [column.id, column.name]));
      for (const entry of what.entries) {
        const row = rows.get(entry.row);
        const column = columns.get(entry.column);
        if (row !== undefined && column !== undefined && has(`${now.name}.${column}`))
          engine.setEntry(now.name, column, row, now.rows[row]?.entries[entry.column]);
      }
    }
  }
  for (const table of tables) feed(engine, table, listOf);
  for (const cell of cells) feed(engine, cell, listOf);
}

/** From the document to the engine: what of a cell or a table the calculation needs. */
import type { ColumnDefinition, Engine } from '../engine/index.ts';
import type { Cell, Column, Table } from './document.ts';

/** Name of the engine's cell that works out what stands under a column; no person can type such a name. */
export function footerName(table: string, column: string): string {
  return `footer of ${table}.${column}`;
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

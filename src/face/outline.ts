/** Where everything stands in a document: names and ids to their item and sheet. */
import type { Cell, Column, Figure, Item, Sheet, Table, WorkbookDocument } from '../workbook/index.ts';

export interface Standing {
  readonly item: Cell | Table;
  readonly sheet: Sheet;
}

export interface Outline {
  readonly byName: ReadonlyMap<string, Standing>;
  readonly byId: ReadonlyMap<string, Standing>;
  /** Where a text or a note stands, by the id of what it belongs to. */
  readonly sheetOf: ReadonlyMap<string, Sheet>;
}

export function outlineOf(document: WorkbookDocument): Outline {
  const byName = new Map<string, Standing>();
  const byId = new Map<string, Standing>();
  const sheetOf = new Map<string, Sheet>();
  for (const sheet of document.sheets) {
    sheetOf.set(sheet.id, sheet);
    for (const section of sheet.sections) {
      sheetOf.set(section.id, sheet);
      for (const item of section.items) {
        sheetOf.set(item.id, sheet);
        if (item.kind !== 'cell' && item.kind !== 'table') continue;
        byName.set(item.name, { item, sheet });
        byId.set(item.id, { item, sheet });
      }
    }
  }
  return { byName, byId, sheetOf };
}

/** The cell or table before the dot of `q50`, `fit.exponent` or `readings.flow`. */
export function standingOf(outline: Outline, name: string): Standing | undefined {
  const dot = name.indexOf('.');
  return outline.byName.get(name) ?? (dot > 0 ? outline.byName.get(name.slice(0, dot)) : undefined);
}

export function columnOf(outline: Outline, name: string): { table: Table; column: Column } | undefined {
  const [tableName = '', columnName = ''] = name.split('.');
  const table = outline.byName.get(tableName)?.item;
  if (table?.kind !== 'table') return undefined;
  const column = table.columns.find((each) => each.name === columnName);
  return column && { table, column };
}

export function figuresOf(sheet: Sheet): Figure[] {
  return sheet.sections.flatMap((section) => section.items.filter(isFigure));
}

function isFigure(item: Item): item is Figure {
  return item.kind === 'figure';
}

/** The people's name of a cell or column, for links and messages. */
export function labelOf(outline: Outline, name: string): string {
  const cell = outline.byName.get(name)?.item;
  if (cell) return cell.label === '' ? cell.name : cell.label;
  const column = columnOf(outline, name);
  if (column)
    return `${column.table.label || column.table.name}, ${column.column.label || column.column.name}`;
  return name;
}

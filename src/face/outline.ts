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

/**
 * Of a document. Where an edit moved or named nothing, the outline of the document before is taken over, and only what
 * the edit changed is put into it.
 */
export function outlineOf(document: WorkbookDocument, before?: OutlineOfSheets): OutlineOfSheets {
  const { sheets } = document;
  const changed =
    before?.sheets.length === sheets.length
      ? sheets.filter((sheet, at) => sheet !== before.sheets[at])
      : undefined;
  const isSame = changed?.every((sheet) => hasSameNames(sheet, before?.sheets[sheets.indexOf(sheet)]));
  const outline: OutlineOfSheets =
    isSame && before
      ? { ...before, sheets }
      : { sheets, byName: new Map(), byId: new Map(), sheetOf: new Map() };
  for (const sheet of isSame && changed ? changed : sheets) put(outline, sheet);
  return outline;
}

export interface OutlineOfSheets extends Growing {
  readonly sheets: readonly Sheet[];
}

interface Growing {
  readonly byName: Map<string, Standing>;
  readonly byId: Map<string, Standing>;
  readonly sheetOf: Map<string, Sheet>;
}

function put({ byName, byId, sheetOf }: Growing, sheet: Sheet): void {
  sheetOf.set(sheet.id, sheet);
  for (const section of sheet.sections) {
    sheetOf.set(section.id, sheet);
    for (const item of section.items) {
      sheetOf.set(item.id, sheet);
      if (item.kind !== 'cell' && item.kind !== 'table') continue;
      const standing = { item, sheet };
      byName.set(item.name, standing);
      byId.set(item.id, standing);
    }
  }
}

function hasSameNames(a: Sheet, b: Sheet | undefined): boolean {
  if (a === b) return true;
  if (a.id !== b?.id || a.sections.length !== b.sections.length) return false;
  return a.sections.every((section, s) => {
    const other = b.sections[s];
    if (section === other) return true;
    if (section.id !== other?.id || section.items.length !== other.items.length) return false;
    return section.items.every((item, k) => {
      const known = other.items[k];
      return (
        item === known ||
        (item.id === known?.id && item.kind === known.kind && nameOf(item) === nameOf(known))
      );
    });
  });
}

function nameOf(item: Item): string | undefined {
  return item.kind === 'cell' || item.kind === 'table' ? item.name : undefined;
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

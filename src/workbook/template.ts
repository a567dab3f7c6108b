/**
 * A template is a workbook whose inputs are marked. A new job keeps everything else of it, and nothing that was the
 * template's or a former job's own: marked cells are blank, marked tables empty, marked columns blank in every row.
 */
import type {
  Cell,
  Column,
  Item,
  Section,
  Sheet,
  Table,
  TemplateOrigin,
  WorkbookDocument,
} from './document.ts';
import { checksumOf } from './file/checksum.ts';
import { itemsOf, tablesOf } from './locate.ts';
import { withoutPhotos } from './photo.ts';
import { writeWorkbook } from './file/write.ts';

/** What a section asks of a new job. */
export interface AskedSection {
  readonly sheet: Sheet;
  readonly section: Section;
  readonly cells: readonly Cell[];
  readonly tables: readonly AskedTable[];
}

export interface AskedTable {
  readonly table: Table;
  /** Those to be filled in row by row; none where the rows themselves are the job's. */
  readonly columns: readonly Column[];
}

export function askedOf(document: WorkbookDocument): readonly AskedSection[] {
  return document.sheets.flatMap((sheet) =>
    sheet.sections.flatMap((section): AskedSection[] => {
      const found = askedIn(section);
      return found.cells.length + found.tables.length === 0 ? [] : [{ sheet, section, ...found }];
    }),
  );
}

/** An edit leaves most sections what they are. */
const known = new WeakMap<Section, Pick<AskedSection, 'cells' | 'tables'>>();

function askedIn(section: Section): Pick<AskedSection, 'cells' | 'tables'> {
  let found = known.get(section);
  if (!found) {
    const { items } = section;
    found = {
      cells: items.filter((item) => item.kind === 'cell' && item.input === true) as Cell[],
      tables: items.flatMap((item) => (item.kind === 'table' ? (asked(item) ?? []) : [])),
    };
    known.set(section, found);
  }
  return found;
}

function asked(table: Table): AskedTable | undefined {
  if (table.input === true) return { table, columns: [] };
  const columns = table.columns.filter((column) => column.input === true);
  return columns.length === 0 ? undefined : { table, columns };
}

export function hasInputs(document: WorkbookDocument): boolean {
  for (const item of itemsOf(document)) {
    if (item.kind === 'cell' ? item.input === true : item.kind === 'table' && asked(item) !== undefined)
      return true;
  }
  return false;
}

/** The workbook with nothing of a job in it. Scenarios try values of a job and photos show it, so they go too. */
export function withoutJob(document: WorkbookDocument): WorkbookDocument {
  const emptied = new Set<string>();
  for (const table of tablesOf(document)) if (table.input === true) emptied.add(table.name);
  const { scenarios: _, versions: __, ...rest } = withoutPhotos(document);
  return { ...rest, sheets: mapItems(rest.sheets, (item) => withoutJobItem(item, emptied)) };
}

function withoutJobItem(item: Item, emptied: ReadonlySet<string>): Item {
  if (item.kind === 'table') {
    if (item.input === true) return item.rows.length === 0 ? item : { ...item, rows: [] };
    const going = new Set(item.columns.filter((column) => column.input === true).map(({ id }) => id));
    return going.size === 0
      ? item
      : { ...item, rows: item.rows.map((row) => ({ ...row, entries: without(row.entries, going) })) };
  }
  if (item.kind !== 'cell' || item.text === '') return item;
  // What was chosen among rows that are gone is gone with them.
  const table = typeof item.choices === 'string' ? (item.choices.split('.')[0] ?? '') : undefined;
  const isGone = table !== undefined && emptied.has(table) && !item.text.trimStart().startsWith('=');
  return item.input === true || isGone ? { ...item, text: '' } : item;
}

function without(
  entries: Readonly<Record<string, string>>,
  going: ReadonlySet<string>,
): Readonly<Record<string, string>> {
  return Object.fromEntries(Object.entries(entries).filter(([column]) => !going.has(column)));
}

function mapItems(sheets: readonly Sheet[], change: (item: Item) => Item): readonly Sheet[] {
  return sheets.map((sheet) => ({
    ...sheet,
    sections: sheet.sections.map((section) => ({ ...section, items: section.items.map(change) })),
  }));
}

/** Fingerprint of what a template brings to a job; its example figures do not count. */
export function templateVersion(document: WorkbookDocument): string {
  const { template: _, about: __, ...bare } = withoutJob(document);
  return checksumOf(writeWorkbook(bare));
}

export function newJob(
  template: WorkbookDocument,
  origin: Omit<TemplateOrigin, 'version'>,
): WorkbookDocument {
  const { about: _, template: __, ...bare } = withoutJob(template);
  return { ...bare, template: { ...origin, version: templateVersion(template) } };
}

/** What a person ticked: ids of cells and tables; `table:column` of columns whose entries alone are the job's. */
export type Ticked = ReadonlySet<string>;

export interface TemplateWish {
  readonly title: string;
  readonly about: string;
  readonly inputs: Ticked;
  /** Notes on the marked cells go too: in a job they often say where its figure came from. */
  readonly clearNotes: boolean;
  /** Notes on rows go too. */
  readonly clearRowNotes: boolean;
}

export function columnTick(table: Table, column: Column): string {
  return `${table.id}:${column.id}`;
}

/** The job as a template: what is ticked is marked and blank, everything else stays. */
export function asTemplate(job: WorkbookDocument, wish: TemplateWish): WorkbookDocument {
  const marked = mapItems(job.sheets, (item) => markedItem(item, wish));
  const { template: _, ...rest } = withoutJob({ ...job, sheets: marked });
  return { ...rest, title: wish.title, about: wish.about };
}

function markedItem(item: Item, { inputs, clearNotes, clearRowNotes }: TemplateWish): Item {
  if (item.kind === 'cell') {
    const cell = withMark(item, inputs.has(item.id));
    return clearNotes && cell.input === true ? { ...cell, note: '' } : cell;
  }
  if (item.kind !== 'table') return item;
  const table = withMark(item, inputs.has(item.id));
  const columns = table.columns.map((column) => withMark(column, inputs.has(columnTick(item, column))));
  const rows = clearRowNotes ? table.rows.map(({ id, entries }) => ({ id, entries })) : table.rows;
  return { ...table, columns, rows };
}

function withMark<T extends { readonly input?: boolean }>(thing: T, input: boolean): T {
  if ((thing.input === true) === input) return thing;
  const { input: _, ...rest } = thing;
  return (input ? { ...rest, input } : rest) as T;
}

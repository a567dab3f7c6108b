/** Gives what is the same in two workbooks the same id: what no id matches is matched by its name or title. */
import type { Item, Override, Sheet, Table, WorkbookDocument } from './document.ts';
import { freeId, idsOf } from './identity.ts';
import { itemsOf, tablesOf } from './locate.ts';

type Kinds = ReadonlyMap<string, string>;

/** `other` with the ids of `document` wherever the same thing has another. */
export function aligned(document: WorkbookDocument, other: WorkbookDocument): WorkbookDocument {
  const ids = matched(document, other);
  const tables = new Map([...tablesOf(document)].map((table) => [table.id, table]));
  const columns = new Map<string, ReadonlyMap<string, string>>();
  for (const table of tablesOf(other)) {
    const here = tables.get(ids.get(table.id) ?? table.id);
    const changed = here ? matchedColumns(here, table) : new Map<string, string>();
    if (changed.size > 0) columns.set(table.id, changed);
  }
  if (ids.size === 0 && columns.size === 0) return other;
  const id = (old: string) => ids.get(old) ?? old;
  const { scenarios, compared, printed } = other;
  return {
    ...other,
    ...(compared && { compared: compared.map(id) }),
    ...(printed && { printed: printed.map(id) }),
    ...(scenarios && {
      scenarios: scenarios.map((scenario) => ({
        ...scenario,
        overrides: scenario.overrides.map((each): Override =>
          'cell' in each
            ? { ...each, cell: id(each.cell) }
            : {
                ...each,
                table: id(each.table),
                column: columns.get(each.table)?.get(each.column) ?? each.column,
              },
        ),
      })),
    }),
    sheets: other.sheets.map((sheet) => ({
      ...sheet,
      id: id(sheet.id),
      sections: sheet.sections.map((section) => ({
        ...section,
        id: id(section.id),
        items: section.items.map((item) => withIds(item, id(item.id), columns.get(item.id))),
      })),
    })),
  };
}

function withIds(item: Item, id: string, columns: ReadonlyMap<string, string> | undefined): Item {
  if (item.kind !== 'table' || !columns) return id === item.id ? item : { ...item, id };
  const column = (old: string) => columns.get(old) ?? old;
  return {
    ...item,
    id,
    columns: item.columns.map((each) => ({ ...each, id: column(each.id) })),
    rows: item.rows.map((row) => ({
      ...row,
      entries: Object.fromEntries(Object.entries(row.entries).map(([key, text]) => [column(key), text])),
    })),
  };
}

function kindsOf(document: WorkbookDocument): Kinds {
  const kinds = new Map<string, string>();
  for (const sheet of document.sheets) {
    kinds.set(sheet.id, 'sheet');
    for (const section of sheet.sections) kinds.set(section.id, 'section');
  }
  for (const { id, kind } of itemsOf(document)) kinds.set(id, kind);
  return kinds;
}

/** Ids of `other` to the ids they get. */
function matched(document: WorkbookDocument, other: WorkbookDocument): ReadonlyMap<string, string> {
  const [here, there] = [kindsOf(document), kindsOf(other)];
  const ids = new Map<string, string>();
  const given = new Set<string>();
  const isMet = (id: string, mine: Kinds, theirs: Kinds) => theirs.get(id) === mine.get(id);
  const pair = (id: string, wanted: string | undefined) => {
    if (wanted === undefined || given.has(wanted) || isMet(wanted, here, there)) return;
    ids.set(id, wanted);
    given.add(wanted);
  };
  const names = new Map([...itemsOf(document)].map((item) => [`${item.kind} ${wordOf(item)}`, item.id]));
  for (const item of itemsOf(other))
    if (!isMet(item.id, there, here)) pair(item.id, names.get(`${item.kind} ${wordOf(item)}`));
  for (const sheet of other.sheets) {
    const same = (id: string) => document.sheets.find((each) => each.id === (ids.get(id) ?? id));
    if (!isMet(sheet.id, there, here))
      pair(sheet.id, document.sheets.find(({ title }) => title !== '' && title === sheet.title)?.id);
    sectionsMatched(same(sheet.id), sheet, (id) => isMet(id, there, here), pair);
  }
  // One id for two kinds of things cannot stand in one workbook.
  const taken = new Set([...idsOf(document), ...idsOf(other), ...given]);
  for (const [id, kind] of there) {
    if (ids.has(id) || (!given.has(id) && (!here.has(id) || here.get(id) === kind))) continue;
    const free = freeId(id, taken);
    taken.add(free);
    ids.set(id, free);
  }
  return ids;
}

/** Figures and texts have no name: what they show or say stands for it. */
function wordOf(item: Item): string {
  if (item.kind === 'figure') return `${item.figure} ${item.title}`;
  return item.kind === 'prose' ? item.text : item.name;
}

function sectionsMatched(
  here: Sheet | undefined,
  there: Sheet,
  isMet: (id: string) => boolean,
  pair: (id: string, wanted: string | undefined) => void,
): void {
  for (const section of there.sections) {
    if (isMet(section.id)) continue;
    pair(section.id, here?.sections.find(({ title }) => title !== '' && title === section.title)?.id);
  }
}

function matchedColumns(here: Table, there: Table): ReadonlyMap<string, string> {
  const changed = new Map<string, string>();
  const mine = new Set(here.columns.map(({ id }) => id));
  const theirs = new Set(there.columns.map(({ id }) => id));
  for (const column of there.columns) {
    if (mine.has(column.id)) continue;
    const same = here.columns.find(({ name }) => name === column.name);
    if (same && !theirs.has(same.id)) changed.set(column.id, same.id);
  }
  return changed;
}

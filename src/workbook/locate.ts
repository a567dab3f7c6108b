/** Where things stand in a document, and a new document in which one of them is replaced. */
import type { Cell, Item, Section, Sheet, Table, WorkbookDocument } from './document.ts';

export interface Place {
  readonly sheet: number;
  readonly section: number;
  readonly item: number;
}

export function* itemsOf(document: WorkbookDocument): Generator<Item> {
  for (const sheet of document.sheets) for (const section of sheet.sections) yield* section.items;
}

export function* tablesOf(document: WorkbookDocument): Generator<Table> {
  for (const item of itemsOf(document)) if (item.kind === 'table') yield item;
}

/** Names of cells and tables, which share one space, with what bears them. */
export function namesOf(document: WorkbookDocument): Map<string, Cell | Table> {
  const names = new Map<string, Cell | Table>();
  for (const item of itemsOf(document))
    if (item.kind === 'cell' || item.kind === 'table') names.set(item.name, item);
  return names;
}

export function placeOfItem(document: WorkbookDocument, id: string): Place | undefined {
  for (const [sheet, { sections }] of document.sheets.entries()) {
    for (const [section, { items }] of sections.entries()) {
      const item = items.findIndex((candidate) => candidate.id === id);
      if (item >= 0) return { sheet, section, item };
    }
  }
  return undefined;
}

export function placeOfSection(document: WorkbookDocument, id: string): Omit<Place, 'item'> | undefined {
  for (const [sheet, { sections }] of document.sheets.entries()) {
    const section = sections.findIndex((candidate) => candidate.id === id);
    if (section >= 0) return { sheet, section };
  }
  return undefined;
}

export function itemAt(document: WorkbookDocument, place: Place): Item | undefined {
  return document.sheets[place.sheet]?.sections[place.section]?.items[place.item];
}

export function findItem(document: WorkbookDocument, id: string): Item | undefined {
  const place = placeOfItem(document, id);
  return place && itemAt(document, place);
}

export function findTable(document: WorkbookDocument, id: string): Table | undefined {
  const item = findItem(document, id);
  return item?.kind === 'table' ? item : undefined;
}

export function changeSheet(
  document: WorkbookDocument,
  at: number,
  change: (sheet: Sheet) => Sheet,
): WorkbookDocument {
  return { ...document, sheets: changedAt(document.sheets, at, change) };
}

export function changeSection(
  document: WorkbookDocument,
  place: Omit<Place, 'item'>,
  change: (section: Section) => Section,
): WorkbookDocument {
  return changeSheet(document, place.sheet, (sheet) => ({
    ...sheet,
    sections: changedAt(sheet.sections, place.section, change),
  }));
}

export function changeItem(
  document: WorkbookDocument,
  place: Place,
  change: (item: Item) => Item,
): WorkbookDocument {
  return changeSection(document, place, (section) => ({
    ...section,
    items: changedAt(section.items, place.item, change),
  }));
}

export function changedAt<T>(list: readonly T[], at: number, change: (value: T) => T): readonly T[] {
  return list.map((value, index) => (index === at ? change(value) : value));
}

export function insertedAt<T>(list: readonly T[], at: number, added: readonly T[]): readonly T[] {
  return [...list.slice(0, at), ...added, ...list.slice(at)];
}

export function removedAt<T>(list: readonly T[], at: number): readonly T[] {
  return [...list.slice(0, at), ...list.slice(at + 1)];
}

/** Ids: stable for the life of the workbook, readable in the file, and never a word every object answers to. */
import type { Table, WorkbookDocument } from './document.ts';
import { itemsOf } from './locate.ts';
import { OBJECT_WORDS } from './name.ts';

const ID = /^[\p{L}\p{N}_][\p{L}\p{N}_.-]*$/u;
const ID_CHARACTERS = 80;

export function isId(text: string): boolean {
  return text.length <= ID_CHARACTERS && ID.test(text) && !OBJECT_WORDS.has(text);
}

/** `wish`, or `wish-2`, `wish-3` …: the first that is free. */
export function freeId(wish: string, taken: { has(id: string): boolean }): string {
  const plain = wish.replace(/[^\p{L}\p{N}_.-]+/gu, '-').slice(0, ID_CHARACTERS - 10);
  const start = /^[\p{L}\p{N}_]/u.test(plain) ? plain : `item${plain}`;
  let id = start;
  for (let n = 2; taken.has(id) || !isId(id); n++) id = `${start}-${String(n)}`;
  return id;
}

/** Ids of sheets, sections and items are one space, so any of them can be linked to. */
export function idsOf(document: WorkbookDocument): Set<string> {
  const ids = new Set<string>();
  for (const sheet of document.sheets) {
    ids.add(sheet.id);
    for (const section of sheet.sections) ids.add(section.id);
  }
  for (const item of itemsOf(document)) ids.add(item.id);
  return ids;
}

/** Ids for rows to be added: they count on from the highest there is. */
export function newRowIds(table: Table, count: number): string[] {
  let highest = 0;
  for (const row of table.rows) {
    const digits = /^r(\d{1,9})$/.exec(row.id)?.[1];
    if (digits !== undefined) highest = Math.max(highest, Number(digits));
  }
  return Array.from({ length: count }, (_, index) => `r${String(highest + 1 + index)}`);
}

export function newColumnId(table: Table, name: string): string {
  return freeId(name, new Set(table.columns.map((column) => column.id)));
}

export function newItemId(document: WorkbookDocument, wish: string): string {
  return freeId(wish, idsOf(document));
}

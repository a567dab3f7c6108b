/**
 * A copy of a worksheet, a section or an item that can be put into a workbook, the same or another: new ids, names
 * that are free there, and formulas inside the copy that read the copies.
 */
import type { Item, Section, Sheet, WorkbookDocument } from './document.ts';
import { renamedIn, rewritten, type Renaming } from './formula-names.ts';
import { freeId, idsOf } from './identity.ts';
import { withNames } from './live-text.ts';
import { namesOf } from './locate.ts';
import { freeName } from './name.ts';

export type Part = Sheet | Section | Item;

export interface Copied<T extends Part> {
  readonly part: T;
  /** Names that could not stay, to the names they have in the copy. */
  readonly renamed: ReadonlyMap<string, string>;
  /** Words that formulas of the copy read and that are not in it: names of the workbook, if it has them. */
  readonly outside: ReadonlySet<string>;
}

export function copyPart<T extends Part>(part: T, into: WorkbookDocument): Copied<T> {
  const ids = idsOf(into);
  const items = itemsIn(part);
  const inside = new Set(items.flatMap((item) => ('name' in item ? [item.name] : [])));
  const renamed = newNames(items, inside, into);
  const outside = new Set<string>();
  const renaming: Renaming = (path, own) => {
    const [first] = path.parts;
    if (first === undefined || own?.columns.some((column) => column.name === first.text)) return undefined;
    if (!inside.has(first.text)) outside.add(first.text);
    const to = renamed.get(first.text);
    return to === undefined ? undefined : { part: 0, to };
  };
  const newId = (wish: string) => {
    const id = freeId(wish, ids);
    ids.add(id);
    return id;
  };
  const words = (text: string) => withNames(text, (name) => rewritten(name, renaming));
  const noted = <N extends { readonly note?: string }>(of: N): N =>
    of.note === undefined ? of : { ...of, note: words(of.note) };
  const copyItem = (item: Item): Item => {
    const read = renamedTexts(renamedIn(item, renaming), words, noted);
    if (!('name' in read)) return { ...read, id: newId(item.id) };
    const name = renamed.get(read.name) ?? read.name;
    // Ids are read by people in the file: one made of the original's name would mislead.
    return { ...read, id: newId(name === read.name ? item.id : name), name };
  };
  const copySection = (section: Section): Section => ({
    ...noted(section),
    id: newId(section.id),
    items: section.items.map(copyItem),
  });
  const copy: Part =
    'sections' in part
      ? {
          ...noted<Sheet>(part),
          id: newId(part.id),
          ...(part.status === undefined ? {} : { status: words(part.status) }),
          sections: part.sections.map(copySection),
        }
      : 'items' in part
        ? copySection(part)
        : copyItem(part);
  return { part: copy as T, renamed, outside };
}

function renamedTexts(
  item: Item,
  words: (text: string) => string,
  noted: <N extends { readonly note?: string }>(of: N) => N,
): Item {
  switch (item.kind) {
    case 'prose':
      return { ...item, text: words(item.text) };
    case 'table':
      // A photo shows one place: it stays with the row it was taken for.
      return {
        ...noted(item),
        columns: item.columns.map(noted),
        rows: item.rows.map(({ photos: _stay, ...row }) => noted(row)),
      };
    case 'cell':
      return noted(item);
    case 'figure':
      return item;
  }
}

export function itemsIn(part: Part): readonly Item[] {
  if ('sections' in part) return part.sections.flatMap(({ items }) => items);
  return 'items' in part ? part.items : [part];
}

function newNames(
  items: readonly Item[],
  inside: ReadonlySet<string>,
  into: WorkbookDocument,
): ReadonlyMap<string, string> {
  const there = namesOf(into);
  // A new name that is also a column's would be read as that column in the formulas of its table.
  const taken = new Set([...there.keys(), ...inside]);
  for (const item of items)
    if (item.kind === 'table') for (const column of item.columns) taken.add(column.name);
  const renamed = new Map<string, string>();
  for (const name of inside) {
    if (!there.has(name)) continue;
    const free = nextName(name, taken);
    taken.add(free);
    renamed.set(name, free);
  }
  return renamed;
}

/** `wall`, `wall_2`, `wall_3` …: counts on from the number that the name ends in. */
export function nextName(name: string, taken: { has(name: string): boolean }): string {
  const stem = name.replace(/_\d+$/, '');
  return freeName(stem, { has: (wish) => wish === stem || taken.has(wish) });
}

/** “Wall”, “Wall 2”, “Wall 3” …: what the copy is called for people. */
export function nextTitle(title: string, taken: { has(title: string): boolean }): string {
  if (title === '') return title;
  const stem = title.replace(/ \d+$/, '');
  for (let n = 2; ; n++) {
    const next = `${stem} ${String(n)}`;
    if (!taken.has(next)) return next;
  }
}

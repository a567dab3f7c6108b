/** What a person does to the parts of a workbook (worksheets, sections, items), each as one edit. */
import { copyPart, itemsIn, nextTitle, type Part } from './copy-part.ts';
import type { Item, Section, Sheet, WorkbookDocument } from './document.ts';
import type { Edit } from './edit-kinds.ts';
import { placeOfItem, placeOfSection } from './locate.ts';

export interface Standing {
  readonly sheet: Sheet;
  readonly section?: Section;
  readonly item?: Item;
  readonly part: Part;
  /** Its place among its like, and how many they are. */
  readonly at: number;
  readonly of: number;
}

/** The worksheet, section or item with this id, and where it stands. */
export function standingOf(document: WorkbookDocument, id: string): Standing | undefined {
  const at = document.sheets.findIndex((sheet) => sheet.id === id);
  const found = document.sheets[at];
  if (found) return { sheet: found, part: found, at, of: document.sheets.length };
  const place = placeOfSection(document, id) ?? placeOfItem(document, id);
  const sheet = place && document.sheets[place.sheet];
  const section = sheet?.sections[place?.section ?? -1];
  if (!place || !sheet || !section) return undefined;
  if (!('item' in place))
    return { sheet, section, part: section, at: place.section, of: sheet.sections.length };
  const index = Number(place.item);
  const item = section.items[index];
  return item && { sheet, section, item, part: item, at: index, of: section.items.length };
}

/** For lists and messages. */
export function titleOf(part: Part): string {
  if (!('kind' in part))
    return part.title || ('sections' in part ? 'untitled worksheet' : 'untitled section');
  switch (part.kind) {
    case 'cell':
    case 'table':
      return part.label || part.name;
    case 'figure':
      return part.title || part.figure.replaceAll('_', ' ');
    case 'prose': {
      const [line = ''] = part.text.trim().split('\n');
      return line === '' ? 'empty text' : line.length > 60 ? `${line.slice(0, 60)}…` : line;
    }
  }
}

export function kindOf(part: Part): 'worksheet' | 'section' | 'cell' | 'table' | 'figure' | 'text' {
  if ('sections' in part) return 'worksheet';
  if ('items' in part) return 'section';
  return part.kind === 'prose' ? 'text' : part.kind;
}

/** All ids that go when the part goes. */
export function idsIn(part: Part): Set<string> {
  const ids = new Set([part.id, ...itemsIn(part).map((item) => item.id)]);
  if ('sections' in part) for (const section of part.sections) ids.add(section.id);
  return ids;
}

function as(label: string, edit: Edit): Edit {
  return { kind: 'batch', label, edits: [edit] };
}

export function removal(document: WorkbookDocument, id: string): Edit | undefined {
  const standing = standingOf(document, id);
  if (!standing) return undefined;
  const { part } = standing;
  const label = `delete “${titleOf(part)}”`;
  if ('sections' in part) return as(label, { kind: 'remove-sheet', sheet: id });
  if ('items' in part) return as(label, { kind: 'remove-section', section: id });
  return as(label, { kind: 'remove-item', item: id });
}

/**
 * One place up (−1) or down (1). An item at the end of its section goes on into the next one; other parts stop at
 * their ends.
 */
export function step(document: WorkbookDocument, id: string, by: -1 | 1): Edit | undefined {
  const standing = standingOf(document, id);
  if (!standing) return undefined;
  const { part, sheet, section, at, of } = standing;
  const label = `move “${titleOf(part)}”`;
  const to = at + by;
  const fits = to >= 0 && to < of;
  if ('sections' in part) return fits ? as(label, { kind: 'move-sheet', sheet: id, at: to }) : undefined;
  if ('items' in part)
    return fits ? as(label, { kind: 'move-section', section: id, sheet: sheet.id, at: to }) : undefined;
  if (fits && section) return as(label, { kind: 'move-item', item: id, section: section.id, at: to });
  const next = sheet.sections[sheet.sections.findIndex((each) => each.id === section?.id) + by];
  return (
    next && as(label, { kind: 'move-item', item: id, section: next.id, at: by < 0 ? next.items.length : 0 })
  );
}

export interface Destination {
  /** Of a section for an item, of a worksheet for a section. */
  readonly id: string;
  readonly label: string;
}

/** Where else the part could stand. A worksheet stands nowhere else. */
export function destinations(document: WorkbookDocument, id: string): Destination[] {
  const standing = standingOf(document, id);
  if (!standing || 'sections' in standing.part) return [];
  if (!standing.item)
    return document.sheets
      .filter((sheet) => sheet.id !== standing.sheet.id)
      .map((sheet) => ({ id: sheet.id, label: titleOf(sheet) }));
  return document.sheets.flatMap((sheet) =>
    sheet.sections
      .filter((section) => section.id !== standing.section?.id)
      .map((section) => ({ id: section.id, label: `${titleOf(sheet)}: ${titleOf(section)}` })),
  );
}

/** To the end of another section or worksheet. */
export function moveInto(document: WorkbookDocument, id: string, into: string): Edit | undefined {
  const standing = standingOf(document, id);
  const target = standingOf(document, into)?.part;
  if (!standing || !target) return undefined;
  const label = `move “${titleOf(standing.part)}”`;
  if (standing.item && 'items' in target)
    return as(label, { kind: 'move-item', item: id, section: into, at: target.items.length });
  if (!standing.item && standing.section && 'sections' in target)
    return as(label, { kind: 'move-section', section: id, sheet: into, at: target.sections.length });
  return undefined;
}

export interface Made {
  readonly edit: Edit;
  /** Id of the part that the edit brings. */
  readonly id: string;
}

/** A copy right behind the original. */
export function duplication(document: WorkbookDocument, id: string): Made | undefined {
  const standing = standingOf(document, id);
  if (!standing) return undefined;
  const { part, sheet, section, at } = standing;
  const label = `duplicate “${titleOf(part)}”`;
  if ('sections' in part) {
    const title = nextTitle(part.title, new Set(document.sheets.map((each) => each.title)));
    const copy = { ...copyPart(part, document).part, title };
    return { id: copy.id, edit: as(label, { kind: 'insert-sheet', at: at + 1, sheet: copy }) };
  }
  if ('items' in part) {
    const title = nextTitle(part.title, new Set(sheet.sections.map((each) => each.title)));
    const copy = { ...copyPart(part, document).part, title };
    return {
      id: copy.id,
      edit: as(label, { kind: 'insert-section', sheet: sheet.id, at: at + 1, section: copy }),
    };
  }
  if (!section) return undefined;
  const copy = relabelled(copyPart(part, document).part, section.items);
  return {
    id: copy.id,
    edit: as(label, { kind: 'insert-item', section: section.id, at: at + 1, item: copy }),
  };
}

function relabelled(item: Item, among: readonly Item[]): Item {
  if (item.kind === 'figure') {
    const taken = new Set(among.flatMap((other) => (other.kind === 'figure' ? [other.title] : [])));
    return { ...item, title: nextTitle(item.title, taken) };
  }
  if (item.kind === 'prose') return item;
  const taken = new Set(among.flatMap((other) => ('label' in other ? [other.label] : [])));
  return { ...item, label: nextTitle(item.label, taken) };
}

/** What a person chose for the report: whole sections and single parts, in the order in which they stand on paper. */
import type { Edit, Item, Section, WorkbookDocument } from '../../workbook/index.ts';

export interface ChosenPart {
  /** Of the section, or of the one part of it. */
  readonly id: string;
  readonly title: string;
  readonly section: Section;
}

export function nameOf(item: Item): string {
  switch (item.kind) {
    case 'prose':
      return `text: ${item.text.slice(0, 50)}${item.text.length > 50 ? '…' : ''}`;
    case 'figure':
      return `figure: ${item.title || item.figure}`;
    case 'table':
      return `table: ${item.label || item.name}`;
    case 'cell':
      return item.label || item.name;
  }
}

/** Whatever has left the workbook is left out. */
export function chosenParts(document: WorkbookDocument, ids: readonly string[]): ChosenPart[] {
  const parts = new Map<string, ChosenPart>();
  for (const sheet of document.sheets)
    for (const section of sheet.sections) {
      const title = [sheet.title, section.title].filter(Boolean).join(': ');
      parts.set(section.id, { id: section.id, title, section });
      for (const item of section.items)
        parts.set(item.id, { id: item.id, title: nameOf(item), section: { ...section, items: [item] } });
    }
  return ids.flatMap((id) => parts.get(id) ?? []);
}

/** Parts of one section that follow each other stand together, under its title once. */
export function together(parts: readonly ChosenPart[]): Section[] {
  const sections: Section[] = [];
  for (const { section } of parts) {
    const before = sections.at(-1);
    if (before?.id === section.id)
      sections[sections.length - 1] = { ...section, items: [...before.items, ...section.items] };
    else sections.push(section);
  }
  return sections;
}

/** New ones go where they stand in the workbook; a whole section takes the place of its single parts. */
export function choosing(
  document: WorkbookDocument,
  chosen: readonly string[],
  ids: readonly string[],
  wanted: boolean,
): readonly string[] {
  const place = new Map<string, number>();
  const covered = new Set(ids);
  for (const { id, items } of document.sheets.flatMap(({ sections }) => sections)) {
    place.set(id, place.size);
    for (const item of items) {
      place.set(item.id, place.size);
      if (covered.has(id)) covered.add(item.id);
    }
  }
  const next = chosen.filter((id) => place.has(id) && !covered.has(id));
  if (!wanted) return next;
  for (const id of ids) {
    const own = place.get(id);
    if (own === undefined) continue;
    const at = next.findIndex((each) => (place.get(each) ?? 0) > own);
    next.splice(at < 0 ? next.length : at, 0, id);
  }
  return next;
}

export function moved(chosen: readonly string[], id: string, by: -1 | 1): readonly string[] {
  const from = chosen.indexOf(id);
  const to = from + by;
  if (from < 0 || to < 0 || to >= chosen.length) return chosen;
  const next = chosen.filter((each) => each !== id);
  next.splice(to, 0, id);
  return next;
}

/** One step to undo. */
export function printedEdit(ids: readonly string[]): Edit {
  const patch = { printed: ids.length === 0 ? null : ids };
  return { kind: 'batch', label: 'choose what is printed', edits: [{ kind: 'set-document', patch }] };
}

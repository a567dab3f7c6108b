/** Edits to what stands where: items, sections, sheets, and the document's own fields. */
import type { Item, Section, WorkbookDocument } from './document.ts';
import type {
  Applied,
  DocumentPatch,
  Edit,
  EditProblem,
  OutlineEdit,
  SectionPatch,
  SheetPatch,
} from './edit-kinds.ts';
import { patched } from './edit-patch.ts';
import { isPlace, tidyRow, toProblem } from './edit-table.ts';
import { touches, touchesItems, touchesSections } from './edit-touched.ts';
import {
  changeSection,
  changeSheet,
  insertedAt,
  itemAt,
  placeOfItem,
  placeOfSection,
  removedAt,
} from './locate.ts';
import { enter, registerOf } from './soundness.ts';

type Of<K extends OutlineEdit['kind']> = Extract<OutlineEdit, { kind: K }>;

const TITLE_FIELDS = ['title', 'note'] as const satisfies (keyof SectionPatch)[];
const SHEET_FIELDS = ['title', 'note', 'status'] as const satisfies (keyof SheetPatch)[];
const DOCUMENT_FIELDS = [
  'title',
  'about',
  'template',
  'versions',
  'units',
  'titleBlock',
  'scenarios',
  'compared',
  'printed',
] as const satisfies (keyof DocumentPatch)[];

const NO_PLACE: EditProblem = { problem: 'There is no such place in the workbook.' };
const GONE: EditProblem = { problem: 'That part of the workbook is no longer there.' };

export function applyToOutline(document: WorkbookDocument, edit: OutlineEdit): Applied | EditProblem {
  switch (edit.kind) {
    case 'insert-item':
      return insertItem(document, edit);
    case 'remove-item':
      return removeItem(document, edit.item);
    case 'move-item':
      return moveItem(document, edit);
    case 'insert-section':
      return insertSection(document, edit);
    case 'remove-section':
      return removeSection(document, edit.section);
    case 'move-section':
      return moveSection(document, edit);
    case 'set-section':
      return setSection(document, edit);
    case 'insert-sheet':
      return insertSheet(document, edit);
    case 'remove-sheet':
      return removeSheet(document, edit.sheet);
    case 'move-sheet':
      return moveSheet(document, edit);
    case 'set-sheet':
      return setSheet(document, edit);
    case 'set-document':
      return setDocument(document, edit);
  }
}

function tidyItem(item: Item): Item {
  return item.kind === 'table' ? { ...item, rows: item.rows.map(tidyRow) } : item;
}

function tidySection(section: Section): Section {
  return { ...section, items: section.items.map(tidyItem) };
}

function insertItem(document: WorkbookDocument, edit: Of<'insert-item'>): Applied | EditProblem {
  const place = placeOfSection(document, edit.section);
  if (!place) return GONE;
  const items = document.sheets[place.sheet]?.sections[place.section]?.items ?? [];
  if (!isPlace(edit.at, items.length)) return NO_PLACE;
  const item = tidyItem(edit.item);
  const problem = enter(registerOf(document), { items: [item] });
  if (problem) return toProblem(problem);
  return {
    document: changeSection(document, place, (section) => ({
      ...section,
      items: insertedAt(section.items, edit.at, [item]),
    })),
    inverse: { kind: 'remove-item', item: item.id },
    touched: touchesItems([item]),
  };
}

function removeItem(document: WorkbookDocument, id: string): Applied | EditProblem {
  const place = placeOfItem(document, id);
  const item = place && itemAt(document, place);
  const section = place && document.sheets[place.sheet]?.sections[place.section];
  if (!place || !item || !section) return GONE;
  return {
    document: changeSection(document, place, (old) => ({ ...old, items: removedAt(old.items, place.item) })),
    inverse: { kind: 'insert-item', section: section.id, at: place.item, item },
    touched: touchesItems([item]),
  };
}

function moveItem(document: WorkbookDocument, edit: Of<'move-item'>): Applied | EditProblem {
  const from = placeOfItem(document, edit.item);
  const item = from && itemAt(document, from);
  const section = from && document.sheets[from.sheet]?.sections[from.section];
  const to = placeOfSection(document, edit.section);
  if (!from || !item || !section || !to) return GONE;
  const without = changeSection(document, from, (old) => ({
    ...old,
    items: removedAt(old.items, from.item),
  }));
  const room = without.sheets[to.sheet]?.sections[to.section]?.items.length ?? -1;
  if (!isPlace(edit.at, room)) return NO_PLACE;
  return {
    document: changeSection(without, to, (old) => ({
      ...old,
      items: insertedAt(old.items, edit.at, [item]),
    })),
    inverse: { kind: 'move-item', item: item.id, section: section.id, at: from.item },
    touched: touches({ outline: true }),
  };
}

function insertSection(document: WorkbookDocument, edit: Of<'insert-section'>): Applied | EditProblem {
  const at = document.sheets.findIndex((sheet) => sheet.id === edit.sheet);
  const sheet = document.sheets[at];
  if (!sheet) return GONE;
  if (!isPlace(edit.at, sheet.sections.length)) return NO_PLACE;
  const section = tidySection(edit.section);
  const problem = enter(registerOf(document), { sections: [section] });
  if (problem) return toProblem(problem);
  return {
    document: changeSheet(document, at, (old) => ({
      ...old,
      sections: insertedAt(old.sections, edit.at, [section]),
    })),
    inverse: { kind: 'remove-section', section: section.id },
    touched: touchesSections([section]),
  };
}

function removeSection(document: WorkbookDocument, id: string): Applied | EditProblem {
  const place = placeOfSection(document, id);
  const sheet = place && document.sheets[place.sheet];
  const section = sheet?.sections[place?.section ?? -1];
  if (!place || !sheet || !section) return GONE;
  return {
    document: changeSheet(document, place.sheet, (old) => ({
      ...old,
      sections: removedAt(old.sections, place.section),
    })),
    inverse: { kind: 'insert-section', sheet: sheet.id, at: place.section, section },
    touched: touchesSections([section]),
  };
}

function moveSection(document: WorkbookDocument, edit: Of<'move-section'>): Applied | EditProblem {
  const from = placeOfSection(document, edit.section);
  const old = from && document.sheets[from.sheet];
  const section = old?.sections[from?.section ?? -1];
  const to = document.sheets.findIndex((sheet) => sheet.id === edit.sheet);
  if (!from || !old || !section || to < 0) return GONE;
  const without = changeSheet(document, from.sheet, (sheet) => ({
    ...sheet,
    sections: removedAt(sheet.sections, from.section),
  }));
  if (!isPlace(edit.at, without.sheets[to]?.sections.length ?? -1)) return NO_PLACE;
  return {
    document: changeSheet(without, to, (sheet) => ({
      ...sheet,
      sections: insertedAt(sheet.sections, edit.at, [section]),
    })),
    inverse: { kind: 'move-section', section: section.id, sheet: old.id, at: from.section },
    touched: touches({ outline: true }),
  };
}

function setSection(document: WorkbookDocument, edit: Of<'set-section'>): Applied | EditProblem {
  const place = placeOfSection(document, edit.section);
  const section = place && document.sheets[place.sheet]?.sections[place.section];
  if (!place || !section) return GONE;
  const { record, inverse, changed } = patched(section, edit.patch, TITLE_FIELDS);
  return {
    document: changed.size === 0 ? document : changeSection(document, place, () => record),
    inverse: { kind: 'set-section', section: section.id, patch: inverse },
    touched: touches({ outline: changed.size > 0 }),
  };
}

function insertSheet(document: WorkbookDocument, edit: Of<'insert-sheet'>): Applied | EditProblem {
  if (!isPlace(edit.at, document.sheets.length)) return NO_PLACE;
  const sheet = { ...edit.sheet, sections: edit.sheet.sections.map(tidySection) };
  const problem = enter(registerOf(document), { sheets: [sheet] });
  if (problem) return toProblem(problem);
  return {
    document: { ...document, sheets: insertedAt(document.sheets, edit.at, [sheet]) },
    inverse: { kind: 'remove-sheet', sheet: sheet.id },
    touched: touchesSections(sheet.sections),
  };
}

function removeSheet(document: WorkbookDocument, id: string): Applied | EditProblem {
  const at = document.sheets.findIndex((sheet) => sheet.id === id);
  const sheet = document.sheets[at];
  if (!sheet) return GONE;
  return {
    document: { ...document, sheets: removedAt(document.sheets, at) },
    inverse: { kind: 'insert-sheet', at, sheet },
    touched: touchesSections(sheet.sections),
  };
}

function moveSheet(document: WorkbookDocument, edit: Of<'move-sheet'>): Applied | EditProblem {
  const from = document.sheets.findIndex((sheet) => sheet.id === edit.sheet);
  const sheet = document.sheets[from];
  if (!sheet) return GONE;
  if (!isPlace(edit.at, document.sheets.length - 1)) return NO_PLACE;
  return {
    document: { ...document, sheets: insertedAt(removedAt(document.sheets, from), edit.at, [sheet]) },
    inverse: { kind: 'move-sheet', sheet: sheet.id, at: from },
    touched: touches({ outline: true }),
  };
}

function setSheet(document: WorkbookDocument, edit: Of<'set-sheet'>): Applied | EditProblem {
  const at = document.sheets.findIndex((sheet) => sheet.id === edit.sheet);
  const sheet = document.sheets[at];
  if (!sheet) return GONE;
  const { record, inverse, changed } = patched(sheet, edit.patch, SHEET_FIELDS);
  return {
    document: changed.size === 0 ? document : changeSheet(document, at, () => record),
    inverse: { kind: 'set-sheet', sheet: sheet.id, patch: inverse },
    touched: touches({ outline: changed.size > 0 }),
  };
}

function setDocument(document: WorkbookDocument, edit: Of<'set-document'>): Applied {
  const { record, inverse, changed } = patched(document, edit.patch, DOCUMENT_FIELDS);
  const back: Edit = { kind: 'set-document', patch: inverse };
  return { document: record, inverse: back, touched: touches({ outline: changed.size > 0 }) };
}

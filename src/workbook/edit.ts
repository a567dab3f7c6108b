/**
 * Every change to a workbook is an edit, and every edit has an inverse that brings the former document back
 * exactly. A new document shares with the old one whatever did not change.
 */
import type { Item, WorkbookDocument } from './document.ts';
import type {
  Applied,
  Batch,
  CellPatch,
  Edit,
  EditProblem,
  FigurePatch,
  ItemEdit,
  TableEdit,
  Touched,
} from './edit-kinds.ts';
import { applyToOutline } from './edit-outline.ts';
import { applyToPhotos, photosRefused } from './edit-photos.ts';
import { patched } from './edit-patch.ts';
import { applyToTable, toProblem } from './edit-table.ts';
import { joinTouched, NOTHING_TOUCHED, touches } from './edit-touched.ts';
import { changeItem, itemAt, namesOf, placeOfItem, type Place } from './locate.ts';
import { renaming } from './rename.ts';
import {
  registerOf,
  tooManyPositions,
  unsoundName,
  unsoundPlaces,
  unsoundRoles,
  unsoundText,
} from './soundness.ts';

export type * from './edit-kinds.ts';

const CELL_FIELDS = [
  'name',
  'label',
  'type',
  'text',
  'unit',
  'places',
  'plusMinus',
  'pinned',
  'choices',
  'settled',
  'input',
  'note',
] as const satisfies (keyof CellPatch)[];
const CELL_SHOWN: ReadonlySet<string> = new Set(['label', 'places', 'pinned', 'settled', 'input', 'note']);
const FIGURE_FIELDS = ['figure', 'title', 'bindings'] as const satisfies (keyof FigurePatch)[];

/** The document after the edit, with the edit that undoes it; or why it cannot be made, and then nothing changed. */
export function applyEdit(document: WorkbookDocument, edit: Edit): Applied | EditProblem {
  switch (edit.kind) {
    case 'batch':
      return applyBatch(document, edit);
    case 'rename': {
      const edits = renaming(document, edit);
      return 'problem' in edits ? edits : applyBatch(document, { kind: 'batch', label: 'rename', edits });
    }
    case 'set-cell':
    case 'set-figure':
    case 'set-prose':
      return applyToItem(document, edit);
    case 'set-table':
    case 'set-entries':
    case 'insert-rows':
    case 'remove-rows':
    case 'order-rows':
    case 'set-row-note':
    case 'add-photo':
    case 'remove-photo':
    case 'set-photo':
    case 'set-column':
    case 'insert-column':
    case 'remove-column':
    case 'move-column':
      return applyInTable(document, edit);
    default:
      return applyToOutline(document, edit);
  }
}

/** What `edit` would touch in `document`: nothing, when it cannot be made. */
export function touched(document: WorkbookDocument, edit: Edit): Touched {
  const applied = applyEdit(document, edit);
  return 'problem' in applied ? NOTHING_TOUCHED : applied.touched;
}

function applyBatch(document: WorkbookDocument, batch: Batch): Applied | EditProblem {
  let current = document;
  const inverses: Edit[] = [];
  const all: Touched[] = [];
  for (const edit of batch.edits) {
    const applied = applyEdit(current, edit);
    if ('problem' in applied) return applied;
    current = applied.document;
    inverses.push(applied.inverse);
    all.push(applied.touched);
  }
  return {
    document: current,
    inverse: { kind: 'batch', label: batch.label, edits: inverses.reverse() },
    touched: joinTouched(all),
  };
}

function gone(id: string): EditProblem {
  return { problem: `There is no “${id.slice(0, 80)}” in the workbook any more.` };
}

function otherNames(document: WorkbookDocument, item: Item): ReadonlySet<string> {
  const names = namesOf(document);
  if ('name' in item) names.delete(item.name);
  return new Set(names.keys());
}

function applyInTable(document: WorkbookDocument, edit: TableEdit): Applied | EditProblem {
  const place = placeOfItem(document, edit.table);
  const table = place && itemAt(document, place);
  if (!place || table?.kind !== 'table') return gone(edit.table);
  const refused = photosRefused(document, edit, table.name);
  if (refused) return refused;
  const isPhoto = edit.kind === 'add-photo' || edit.kind === 'remove-photo' || edit.kind === 'set-photo';
  const applied = isPhoto
    ? applyToPhotos(table, edit)
    : applyToTable(table, edit, () => otherNames(document, table));
  if ('problem' in applied) return applied;
  if (applied.table === table) return { document, inverse: applied.inverse, touched: applied.touched };
  const changed = changeItem(document, place, () => applied.table);
  const grew = edit.kind === 'insert-rows' || edit.kind === 'insert-column';
  const problem = grew ? tooManyPositions(registerOf(changed).positions) : undefined;
  return problem
    ? toProblem(problem)
    : { document: changed, inverse: applied.inverse, touched: applied.touched };
}

function applyToItem(document: WorkbookDocument, edit: ItemEdit): Applied | EditProblem {
  const id = edit.kind === 'set-cell' ? edit.cell : edit.kind === 'set-figure' ? edit.figure : edit.prose;
  const place = placeOfItem(document, id);
  const item = place && itemAt(document, place);
  if (!place || !item) return gone(id);
  if (edit.kind === 'set-cell') return setCell(document, place, item, edit.patch);
  if (edit.kind === 'set-figure') return setFigure(document, place, item, edit.patch);
  if (item.kind !== 'prose') return gone(id);
  return {
    document:
      item.text === edit.text ? document : changeItem(document, place, () => ({ ...item, text: edit.text })),
    inverse: { kind: 'set-prose', prose: id, text: item.text },
    touched: touches({ shown: [id] }),
  };
}

function setCell(
  document: WorkbookDocument,
  place: Place,
  cell: Item,
  patch: CellPatch,
): Applied | EditProblem {
  if (cell.kind !== 'cell') return gone(cell.id);
  const { record, inverse, changed } = patched(cell, patch, CELL_FIELDS);
  const where = `cell ${cell.name}`;
  const problem =
    (changed.has('name') ? unsoundName(record.name, otherNames(document, cell), where) : undefined) ??
    unsoundText(record.text, where) ??
    unsoundPlaces(record.places, where);
  if (problem) return toProblem(problem);
  const ids = changed.size > 0 ? [cell.id] : [];
  const calculates = [...changed].some((field) => !CELL_SHOWN.has(field));
  return {
    document: changed.size === 0 ? document : changeItem(document, place, () => record),
    inverse: { kind: 'set-cell', cell: cell.id, patch: inverse },
    touched: touches(calculates ? { cells: ids } : { shown: ids }),
  };
}

function setFigure(
  document: WorkbookDocument,
  place: Place,
  figure: Item,
  patch: FigurePatch,
): Applied | EditProblem {
  if (figure.kind !== 'figure') return gone(figure.id);
  const { record, inverse, changed } = patched(figure, patch, FIGURE_FIELDS);
  const problem = unsoundRoles(record, `figure ${figure.id}`);
  if (problem) return toProblem(problem);
  return {
    document: changed.size === 0 ? document : changeItem(document, place, () => record),
    inverse: { kind: 'set-figure', figure: figure.id, patch: inverse },
    touched: touches({ shown: changed.size > 0 ? [figure.id] : [] }),
  };
}

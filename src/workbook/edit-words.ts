/** What an edit is called in the undo list, and which names it brings. */
import type { Item } from './document.ts';
import type { Edit } from './edit-kinds.ts';

const LABELS: Readonly<Record<Edit['kind'], string>> = {
  batch: 'change',
  rename: 'rename',
  'set-cell': 'change a cell',
  'set-figure': 'change a figure',
  'set-prose': 'change a text',
  'set-table': 'change a table',
  'set-entries': 'type in a table',
  'insert-rows': 'add rows',
  'remove-rows': 'remove rows',
  'order-rows': 'put rows in order',
  'set-row-note': 'note on a row',
  'add-photo': 'add a photo',
  'remove-photo': 'remove a photo',
  'set-photo': 'words of a photo',
  'set-column': 'change a column',
  'insert-column': 'add a column',
  'remove-column': 'remove a column',
  'move-column': 'move a column',
  'insert-item': 'add to the worksheet',
  'remove-item': 'remove from the worksheet',
  'move-item': 'move on the worksheet',
  'insert-section': 'add a section',
  'remove-section': 'remove a section',
  'move-section': 'move a section',
  'set-section': 'change a section',
  'insert-sheet': 'add a worksheet',
  'remove-sheet': 'remove a worksheet',
  'move-sheet': 'move a worksheet',
  'set-sheet': 'change a worksheet',
  'set-document': 'change the job',
};

export function labelOf(edit: Edit): string {
  return edit.kind === 'batch' ? edit.label : LABELS[edit.kind];
}

export function* newNames(edit: Edit): Generator<string> {
  switch (edit.kind) {
    case 'batch':
      for (const part of edit.edits) yield* newNames(part);
      return;
    case 'rename':
      yield edit.name;
      return;
    case 'set-cell':
    case 'set-table':
    case 'set-column':
      if (edit.patch.name !== undefined) yield edit.patch.name;
      return;
    case 'insert-column':
      yield edit.column.name;
      return;
    case 'insert-item':
      yield* namesIn([edit.item]);
      return;
    case 'insert-section':
      yield* namesIn(edit.section.items);
      return;
    case 'insert-sheet':
      for (const section of edit.sheet.sections) yield* namesIn(section.items);
      return;
    default:
  }
}

function* namesIn(items: readonly Item[]): Generator<string> {
  for (const item of items) {
    if (item.kind !== 'cell' && item.kind !== 'table') continue;
    yield item.name;
    if (item.kind === 'table') for (const column of item.columns) yield column.name;
  }
}

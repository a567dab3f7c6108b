/** What one copy of a workbook has renamed is renamed in another, so that formulas added there still find it. */
import type { WorkbookDocument } from './document.ts';
import { applyEdit } from './edit.ts';
import type { Rename } from './edit-kinds.ts';
import { findItem, itemsOf } from './locate.ts';

/** `document` with the names that `mine` has given since `base`; a name that is not free there stays as it is. */
export function followingNames(
  document: WorkbookDocument,
  base: WorkbookDocument,
  mine: WorkbookDocument,
): WorkbookDocument {
  let now = document;
  const follow = (rename: Rename) => {
    const applied = applyEdit(now, rename);
    if ('document' in applied) now = applied.document;
  };
  for (const item of itemsOf(mine)) {
    const [before, there] = [findItem(base, item.id), findItem(document, item.id)];
    if (item.kind === 'cell' && before?.kind === 'cell' && there?.kind === 'cell') {
      if (item.name !== before.name && there.name === before.name)
        follow({ kind: 'rename', what: 'cell', id: item.id, name: item.name });
    } else if (item.kind === 'table' && before?.kind === 'table' && there?.kind === 'table') {
      if (item.name !== before.name && there.name === before.name)
        follow({ kind: 'rename', what: 'table', id: item.id, name: item.name });
      for (const { id, name } of item.columns) {
        const [old, other] = [before, there].map(
          ({ columns }) => columns.find((each) => each.id === id)?.name,
        );
        if (old !== undefined && old !== name && other === old)
          follow({ kind: 'rename', what: 'column', table: item.id, id, name });
      }
    }
  }
  return now;
}

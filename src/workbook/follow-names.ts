/**
 * What copies of one workbook have renamed since they parted. Given the same names again, what each of them has
 * written meanwhile finds what it means, and a renaming is one difference and not one in every formula.
 */
import type { WorkbookDocument } from './document.ts';
import { applyEdit } from './edit.ts';
import type { Rename } from './edit-kinds.ts';
import { findItem, itemsOf, namesOf } from './locate.ts';
import { freeName } from './name.ts';

/** Something that all three versions have, by its id, and that is not called the same in all of them. */
export interface Renamed {
  /** As in the parts of a document. */
  readonly key: string;
  readonly kind: 'cell' | 'table' | 'column';
  readonly base: string;
  readonly mine: string;
  readonly theirs: string;
  readonly to: (name: string) => Rename;
}

export function renamedSince(
  base: WorkbookDocument,
  mine: WorkbookDocument,
  theirs: WorkbookDocument,
): readonly Renamed[] {
  const found: Renamed[] = [];
  const add = (renamed: Renamed) => {
    if (renamed.mine !== renamed.base || renamed.theirs !== renamed.base) found.push(renamed);
  };
  for (const item of itemsOf(mine)) {
    const [before, there] = [findItem(base, item.id), findItem(theirs, item.id)];
    const { id, kind } = item;
    if (item.kind !== 'cell' && item.kind !== 'table') continue;
    if (before?.kind !== item.kind || there?.kind !== item.kind) continue;
    add({
      ...{ key: `${kind}:${id}`, kind: item.kind, base: before.name, mine: item.name, theirs: there.name },
      to: (name) => ({ kind: 'rename', what: item.kind, id, name }),
    });
    if (item.kind !== 'table' || before.kind !== 'table' || there.kind !== 'table') continue;
    for (const column of item.columns) {
      const [old, other] = [before, there].map(({ columns }) =>
        columns.find((each) => each.id === column.id),
      );
      if (!old || !other) continue;
      add({
        ...{ key: `column:${id}/${column.id}`, kind: 'column', base: old.name },
        ...{ mine: column.name, theirs: other.name },
        to: (name) => ({ kind: 'rename', what: 'column', table: id, id: column.id, name }),
      });
    }
  }
  return found;
}

/** The document with these names, as far as they are free there; two things may change names with each other. */
export function called(document: WorkbookDocument, renames: readonly Rename[]): WorkbookDocument {
  let now = document;
  const apply = (rename: Rename): boolean => {
    const applied = applyEdit(now, rename);
    if ('document' in applied) now = applied.document;
    return 'document' in applied;
  };
  let waiting = renames;
  // One after the other, until none is free any more; then each in turn makes way under a name of its own.
  const parked: { readonly rename: Rename; readonly former: string }[] = [];
  while (waiting.length > 0) {
    const left = waiting.filter((rename) => !apply(rename));
    if (left.length === waiting.length) {
      const inTheWay = left.find((rename) => !parked.some((each) => each.rename === rename));
      if (!inTheWay) break;
      const former = nameOf(now, inTheWay);
      if (former === undefined || !apply({ ...inTheWay, name: freeName(`${former}_1`, namesOf(now)) })) break;
      parked.push({ rename: inTheWay, former });
    }
    waiting = left;
  }
  // What found no place gets its former name back.
  for (const rename of waiting) {
    const former = parked.find((each) => each.rename === rename)?.former;
    if (former !== undefined) apply({ ...rename, name: former });
  }
  return now;
}

export function nameOf(document: WorkbookDocument, rename: Rename): string | undefined {
  const item = findItem(document, rename.what === 'column' ? rename.table : rename.id);
  if (rename.what !== 'column') return item && 'name' in item ? item.name : undefined;
  return item?.kind === 'table' ? item.columns.find(({ id }) => id === rename.id)?.name : undefined;
}

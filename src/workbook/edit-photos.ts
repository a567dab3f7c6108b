/** Photographs of rows: added, described, removed. One at a time, so that the log holds the data of each once. */
import type { Photo, Row, Table, WorkbookDocument } from './document.ts';
import type { Edit, EditProblem, PhotoEdit, PhotoPatch, TableEdit } from './edit-kinds.ts';
import { patched } from './edit-patch.ts';
import { toProblem, type TableApplied } from './edit-table.ts';
import { touches } from './edit-touched.ts';
import { grouped, LIMITS } from './limits.ts';
import { changedAt, insertedAt, removedAt } from './locate.ts';
import { enterPhotos, photosOf, type PhotoRegister } from './photo.ts';

const PHOTO_FIELDS = ['caption', 'taken'] as const satisfies (keyof PhotoPatch)[];
const GONE = 'The photo is no longer there.';

export function applyToPhotos(table: Table, edit: PhotoEdit): TableApplied | EditProblem {
  const at = table.rows.findIndex((row) => row.id === edit.row);
  const row = table.rows[at];
  if (!row) return { problem: `The table ${table.name} no longer has that row.` };
  const photos = row.photos ?? [];
  const result = (changed: readonly Photo[], inverse: Edit): TableApplied => ({
    table: { ...table, rows: changedAt(table.rows, at, () => withPhotos(row, changed)) },
    inverse,
    touched: touches({ shown: [table.id] }),
  });
  const place = { table: table.id, row: row.id };
  if (edit.kind === 'add-photo') {
    if (photos.length >= LIMITS.photosARow)
      return {
        problem: `A row holds at most ${LIMITS.photosARow} photos.`,
        suggestion: 'Remove one that shows less, or add the photo to a row of its own.',
      };
    if (!Number.isInteger(edit.at) || edit.at < 0 || edit.at > photos.length)
      return { problem: 'The row has no such place for a photo.' };
    return result(insertedAt(photos, edit.at, [edit.photo]), {
      kind: 'remove-photo',
      ...place,
      photo: edit.photo.id,
    });
  }
  const index = photos.findIndex(({ id }) => id === edit.photo);
  const photo = photos[index];
  if (!photo) return { problem: GONE };
  if (edit.kind === 'remove-photo')
    return result(removedAt(photos, index), { kind: 'add-photo', ...place, at: index, photo });
  const { record, inverse } = patched(photo, edit.patch, PHOTO_FIELDS);
  if (longWords(record)) return tooLong();
  return result(
    changedAt(photos, index, () => record),
    {
      kind: 'set-photo',
      ...place,
      photo: photo.id,
      patch: inverse,
    },
  );
}

function withPhotos(row: Row, photos: readonly Photo[]): Row {
  const { photos: _old, ...bare } = row;
  return photos.length === 0 ? bare : { ...bare, photos };
}

function longWords({ caption = '', taken = '' }: Photo): boolean {
  return Math.max(caption.length, taken.length) > LIMITS.captionCharacters;
}

function tooLong(): EditProblem {
  return {
    problem: `A caption has at most ${grouped(LIMITS.captionCharacters)} characters.`,
    suggestion: 'Shorten it; the note on the row has room for more.',
  };
}

/** What only the whole workbook can say of added photos: no other bears their ids, and there is room for them. */
export function photosRefused(
  document: WorkbookDocument,
  edit: TableEdit,
  name: string,
): EditProblem | undefined {
  const added = edit.kind === 'insert-rows' ? edit.rows.filter(({ photos }) => photos) : [];
  if (edit.kind !== 'add-photo' && added.length === 0) return undefined;
  const register: PhotoRegister = { photos: new Set(), photoCharacters: 0 };
  for (const { id, data } of photosOf(document)) {
    register.photos.add(id);
    register.photoCharacters += data.length;
  }
  const rows = edit.kind === 'add-photo' ? [{ id: edit.row, entries: {}, photos: [edit.photo] }] : added;
  const problem = enterPhotos(register, rows, `table ${name}`);
  if (!problem) return undefined;
  if (register.photoCharacters <= LIMITS.photosCharacters) return toProblem(problem);
  const megabytes = Math.round((LIMITS.photosCharacters * 3) / 4 / 1_000_000);
  return {
    problem: `The photos of a workbook together have at most ${megabytes} MB, and this one would pass it.`,
    suggestion: 'Save the workbook as a file, then remove photos that are no longer needed.',
  };
}

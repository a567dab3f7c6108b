/** Photos of a file, handed to the rows that name them. */
import { counted } from '../counted.ts';
import type { Photo } from '../document.ts';
import { LIMITS } from '../limits.ts';
import type { FileError, FileWarning } from './file-error.ts';
import type { PhotoInFile } from './format.ts';

export class FilePhotos {
  readonly #photos = new Map<string, Photo>();
  readonly #used = new Set<string>();

  /** Each is looked at where it stands, with the rest of its row; here only that one id means one photo. */
  static from(list: readonly PhotoInFile[]): FilePhotos | FileError {
    const result = new FilePhotos();
    for (const [index, photo] of list.entries()) {
      if (result.#photos.has(photo.id))
        return {
          code: 'duplicate-id',
          where: `photos, photo ${String(index + 1)}`,
          found: `the id “${photo.id.slice(0, 60)}” a second time`,
          expected: 'an id that no other photo has',
          suggestion: 'Take this photo out of the file, or take an unchanged copy of the file.',
        };
      result.#photos.set(photo.id, photo);
    }
    return result;
  }

  /** The photos of a row, from the ids in its `$photos`. */
  of(
    ids: unknown,
    where: string,
    warnings: FileWarning[],
  ): { readonly photos: readonly Photo[] } | FileError {
    if (!isListOfTexts(ids) || ids.length > LIMITS.photosARow)
      return {
        code: 'wrong-shape',
        where: `${where}, $photos`,
        found: JSON.stringify(ids).slice(0, 60),
        expected: `a list of at most ${String(LIMITS.photosARow)} ids of photos`,
        suggestion: 'Take the list out of the row, or take an unchanged copy of the file.',
      };
    const photos: Photo[] = [];
    for (const id of new Set(ids)) {
      const photo = this.#photos.get(id);
      if (photo && !this.#used.has(id)) photos.push(photo);
      else {
        const why = photo ? 'belongs to a row before it' : 'is not in the file';
        warnings.push({ where, message: `Its photo “${id.slice(0, 60)}” ${why}.` });
      }
      this.#used.add(id);
    }
    return { photos };
  }

  unused(): FileWarning[] {
    const left = [...this.#photos.keys()].filter((id) => !this.#used.has(id)).length;
    if (left === 0) return [];
    const words = `${counted(left, 'photo')} ${left === 1 ? 'belongs to no row and was' : 'belong to no row and were'}`;
    return [{ where: 'photos', message: `${words} left out.` }];
  }
}

function isListOfTexts(value: unknown): value is readonly string[] {
  return Array.isArray(value) && value.every((each) => typeof each === 'string');
}

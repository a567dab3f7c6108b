/**
 * Photographs of a row: JPEG only, small, as base64 in the workbook. What comes from a file is looked at before it is
 * taken in: its first bytes, its size, and the picture's own measure, which says what showing it will cost.
 */
import type { Photo, Row, WorkbookDocument } from './document.ts';
import { isId } from './identity.ts';
import { grouped, LIMITS } from './limits.ts';
import { tablesOf } from './locate.ts';
import { limitPassed, type Unsound } from './unsound.ts';

const BASE64 = /^[A-Za-z0-9+/]+={0,2}$/;
/** FF D8 FF, the begin of every JPEG (ITU-T T.81, annex B), in base64. */
const JPEG = '/9j/';

/** Why the data of a photograph is refused, or nothing. */
export function photoProblem(data: string): string | undefined {
  if (data.length > LIMITS.photoCharacters)
    return `a photo of ${grouped(data.length)} characters; ${grouped(LIMITS.photoCharacters)} is the most`;
  if (!data.startsWith(JPEG) || data.length % 4 !== 0 || !BASE64.test(data))
    return 'something that is no JPEG';
  const size = jpegSize(atob(data));
  if (!size) return 'a JPEG whose size cannot be read';
  if (Math.max(size.width, size.height) > LIMITS.photoSide)
    return `a photo of ${grouped(size.width)} by ${grouped(size.height)} pixels; ${grouped(LIMITS.photoSide)} is the most`;
  return undefined;
}

/** Walks the segments to the frame header (ITU-T T.81, B.2.2): markers C0 to CF but C4, C8 and CC. */
function jpegSize(bytes: string): { readonly width: number; readonly height: number } | undefined {
  const byte = (at: number) => bytes.charCodeAt(at);
  const word = (at: number) => byte(at) * 256 + byte(at + 1);
  let at = 2;
  while (at + 9 < bytes.length) {
    if (byte(at) !== 0xff) return undefined;
    const marker = byte(at + 1);
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc) {
      const [height, width] = [word(at + 5), word(at + 7)];
      return width > 0 && height > 0 ? { width, height } : undefined;
    }
    if (marker === 0xda || marker === 0xd9) return undefined;
    const length = word(at + 2);
    if (length < 2) return undefined;
    at += 2 + length;
  }
  return undefined;
}

export function* photosOf(document: WorkbookDocument): Generator<Photo> {
  for (const table of tablesOf(document)) for (const row of table.rows) if (row.photos) yield* row.photos;
}

/** Ids and size of the photos there are. */
export interface PhotoRegister {
  readonly photos: Set<string>;
  photoCharacters: number;
}

/** Enters the photos of rows that are to be added, or tells why they cannot be. */
export function enterPhotos(
  register: PhotoRegister,
  rows: readonly Row[],
  table: string,
): Unsound | undefined {
  for (const { id: row, photos } of rows) {
    if (!photos) continue;
    const where = `${table}, row ${row.slice(0, 60)}`;
    const many = limitPassed(where, 'photos', photos.length, LIMITS.photosARow);
    if (many) return many;
    for (const photo of photos) {
      const problem = unsoundPhoto(register, photo, where);
      if (problem) return problem;
      register.photos.add(photo.id);
      register.photoCharacters += photo.data.length;
    }
  }
  const most = LIMITS.photosCharacters;
  return limitPassed('the photos of the workbook', 'characters', register.photoCharacters, most);
}

function unsoundPhoto(register: PhotoRegister, photo: Photo, where: string): Unsound | undefined {
  const { id, data, caption = '', taken = '' } = photo;
  const found = photoProblem(data);
  const suggestion = 'Take the photo out.';
  if (found !== undefined)
    return { code: 'wrong-shape', where, found, expected: 'a small JPEG in base64', suggestion };
  if (!isId(id) || register.photos.has(id))
    return {
      code: isId(id) ? 'duplicate-id' : 'bad-id',
      where,
      found: `a photo with the id “${id.slice(0, 60)}”`,
      expected: 'an id of letters, digits, _ . and - that no other photo has',
      suggestion,
    };
  return limitPassed(where, 'characters', Math.max(caption.length, taken.length), LIMITS.captionCharacters);
}

/** Bytes of all photographs, as JPEG files. */
export function photoBytes(photos: Iterable<Photo>): number {
  let bytes = 0;
  for (const { data } of photos) bytes += Math.floor((data.length * 3) / 4);
  return bytes;
}

/** The workbook without its photographs: what a link can hold. */
export function withoutPhotos(document: WorkbookDocument): WorkbookDocument {
  if (photosOf(document).next().done === true) return document;
  return {
    ...document,
    sheets: document.sheets.map((sheet) => ({
      ...sheet,
      sections: sheet.sections.map((section) => ({
        ...section,
        items: section.items.map((item) =>
          item.kind === 'table' ? { ...item, rows: item.rows.map(({ photos: _left, ...row }) => row) } : item,
        ),
      })),
    })),
  };
}

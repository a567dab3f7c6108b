/** What is said of a photo in words. */
import { counted, photoBytes, type Photo, type Row } from '../../workbook/index.ts';

export function kilobytes(photo: Photo): string {
  return `${Math.round(photoBytes([photo]) / 1000)} kB`;
}

/** Caption and moment, for paper and for those who do not see the picture. */
export function photoWords({ caption = '', taken = '' }: Photo): string {
  return [caption, taken].filter(Boolean).join(', ');
}

/** For the line of a row; nothing where it has none. */
export function photoCount(row: Row | undefined): string[] {
  const count = row?.photos?.length ?? 0;
  return count === 0 ? [] : [counted(count, 'photo')];
}

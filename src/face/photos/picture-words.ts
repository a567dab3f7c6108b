/** What is said of a photo in words. */
import { photoBytes, type Photo } from '../../workbook/index.ts';

export function kilobytes(photo: Photo): string {
  return `${Math.round(photoBytes([photo]) / 1000)} kB`;
}

/** Caption and moment, for paper and for those who do not see the picture. */
export function photoWords({ caption = '', taken = '' }: Photo): string {
  return [caption, taken].filter(Boolean).join(', ');
}

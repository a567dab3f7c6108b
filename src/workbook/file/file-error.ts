/** What can be wrong with a file, and where in it. */
import type { UnsoundCode } from '../soundness.ts';

export type FileErrorCode =
  UnsoundCode | 'too-large' | 'too-deep' | 'not-json' | 'duplicate-key' | 'not-a-workbook' | 'newer-format';

export interface FileError {
  readonly code: FileErrorCode;
  readonly where: string;
  readonly found: string;
  readonly expected: string;
  readonly suggestion: string;
}

/** What was found and expected, where what was found is not a sentence that says both. */
export function foundWords({ found, expected }: FileError): string {
  return found.endsWith('.') ? found : `found ${found}, expected ${expected}.`;
}

/** Something in the file that was left out, or that leads nowhere; the workbook opens all the same. */
export interface FileWarning {
  readonly where: string;
  readonly message: string;
}

const ONE_OF: ReadonlyMap<string, string> = new Map([
  ['sheets', 'sheet'],
  ['sections', 'section'],
  ['items', 'item'],
  ['columns', 'column'],
  ['rows', 'row'],
]);

/** `sheet 1, section 2, item 3 (building_volume), places` */
export function placeInFile(file: unknown, keys: readonly (string | number)[]): string {
  const words: string[] = [];
  let value = file;
  for (const key of keys) {
    value = typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[key] : undefined;
    const name =
      typeof value === 'object' && value !== null ? (value as { readonly name?: unknown }).name : undefined;
    const list = typeof key === 'number' ? words.pop() : undefined;
    const word = list === undefined ? String(key) : `${ONE_OF.get(list) ?? list} ${String(Number(key) + 1)}`;
    words.push(typeof name === 'string' ? `${word} (${name.slice(0, 60)})` : word);
  }
  return words.length === 0 ? 'the file' : words.join(', ');
}

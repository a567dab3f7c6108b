/** Files that hold rows rather than a workbook: as text, or why they are none. */
import { LARGEST_FILE } from './files.ts';

export type RowsFile = { readonly text: string } | { readonly problem: string };

/** How files begin that look like tables to the person and are no text. */
const SPREADSHEETS = ['PK\u0003\u0004', '\u00d0\u00cf\u0011\u00e0'];
const OTHERS: readonly (readonly [string, string])[] = [
  ['%PDF', 'a PDF'],
  ['\u0089PNG', 'a picture'],
  ['\u00ff\u00d8\u00ff', 'a picture'],
  ['GIF8', 'a picture'],
];
const HOW = 'Copy the rows with their headings there and paste them at the table, or save them as CSV.';

export async function rowsIn(file: File): Promise<RowsFile> {
  if (file.size > LARGEST_FILE) return { problem: `${file.name} is larger than 50 MB and was not read.` };
  const bytes = new Uint8Array(await file.arrayBuffer());
  const head = String.fromCharCode(...bytes.subarray(0, 4));
  if (SPREADSHEETS.some((mark) => head.startsWith(mark)))
    return { problem: `${file.name} is a spreadsheet’s own file and was not read. ${HOW}` };
  const [, kind] = OTHERS.find(([mark]) => head.startsWith(mark)) ?? [];
  if (kind !== undefined)
    return { problem: `${file.name} is ${kind}, which holds no rows that can be read.` };
  const text = textOf(bytes);
  if (text.includes('\0')) return { problem: `${file.name} is no text and was not read. ${HOW}` };
  if (text.trim() === '') return { problem: `${file.name} is empty: nothing was read.` };
  return { text };
}

/**
 * Most files are UTF-8; spreadsheets also save UTF-16, which says so in its first two bytes, and Windows-1252, which
 * says nothing but is hardly ever right UTF-8 once a letter goes beyond ASCII.
 */
export function textOf(bytes: Uint8Array): string {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (first === 0xfe && second === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

/** The printed page: its size, and its running head and foot, as far as the browser prints margin boxes. */
import type { UnitSystem } from '../../engine/index.ts';

export type PaperSize = 'letter' | 'A4';

export interface RunningWords {
  readonly job: string;
  readonly date: string;
  readonly file: string;
}

/** A rule for `@page`; the words are quoted, so that a title cannot end them. */
export function pageRule(size: PaperSize, { job, date, file }: RunningWords): string {
  const font = 'font: 8.5pt "Atkinson Hyperlegible Next Variable", sans-serif; color: #444;';
  return `@page { size: ${size}; margin: 14mm 15mm 13mm;
    @top-left { content: ${quoted(job)}; ${font} }
    @top-right { content: ${quoted(date)}; ${font} }
    @bottom-left { content: ${quoted(file)}; ${font} }
    @bottom-right { content: counter(page) " of " counter(pages); ${font} } }`;
}

export function quoted(text: string): string {
  // Controls and line breaks end a CSS string; quotes and backslashes are escaped.
  return `"${text.replace(/\p{Cc}+/gu, ' ').replace(/["\\]/g, (sign) => `\\${sign}`)}"`;
}

/** SHA-256 of the written file, its first 16 hexadecimal digits; undefined where the browser offers none. */
export async function fingerprint(text: string): Promise<string | undefined> {
  // Only pages from a secure address have it, whatever the types say.
  const subtle = (globalThis.crypto as Partial<Crypto>).subtle;
  if (!subtle) return undefined;
  const digest = new Uint8Array(await subtle.digest('SHA-256', new TextEncoder().encode(text)));
  return Array.from(digest.slice(0, 8), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** The same as it stands on paper. */
export async function fileWords(text: string): Promise<string> {
  return (await fingerprint(text)) ?? 'no fingerprint: the page’s address is not secure';
}

/** The day of printing, and the units a page is in, as they stand on paper. */
export const printedOn = (): string => new Date().toLocaleDateString([], { dateStyle: 'long' });
export const unitWords = (system: UnitSystem): string => (system === 'us' ? 'US units' : 'SI units');

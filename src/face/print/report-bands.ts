/** Which columns of a report's table stand beside each other: one band, or several that begin alike. */
import { bandsOf, type Width } from './bands.ts';
import type { ReportBlock } from './report-builder.ts';

type TableBlock = Extract<ReportBlock, { kind: 'table' }>;

/** Stands for the number of the row, where the first column does not tell the rows apart. */
export const NUMBER = -1;

/** A4 less the margins of a report, in CSS pixels. */
const ROOM = 680;
/** In em: a digit, a letter, a column of words at the least and at the most, the number of a row. */
const DIGIT = 0.56;
const LETTER = 0.52;
const WORDS = { least: 6, most: 16 };
const NUMBER_WIDTH = 2.5;
/** Right of a column, in CSS pixels. */
const APART = { number: 14, words: 6 };

/** `em`: the size of the type, in CSS pixels. */
export function reportBands({ headers, numeric, rows }: TableBlock, em: number): number[][] {
  const widths = headers.map((header, at): Width => {
    const texts = rows.map(({ texts }) => texts[at] ?? '');
    const content = longest(texts) * (numeric[at] ? DIGIT : LETTER);
    const word = longest([header, ...(numeric[at] ? [] : texts)].flatMap((text) => text.split(/\s+/u)));
    const liked = Math.max(word * LETTER, numeric[at] ? content : Math.min(WORDS.most, content));
    const least = numeric[at] ? liked : Math.max(word * LETTER, Math.min(WORDS.least, content));
    const apart = numeric[at] ? APART.number : APART.words;
    return { width: liked * em + apart, least: least * em + apart };
  });
  const [key, ...rest] = widths;
  const whole = widths.reduce((sum, { least }) => sum + least, 0);
  if (!key || whole <= ROOM) return [headers.map((_, at) => at)];
  const keys = rows.filter(({ footer }) => footer !== true).map(({ texts }) => texts[0] ?? '');
  const isTelling = new Set(keys).size === keys.length && !keys.includes('');
  const lead = isTelling ? [0] : [NUMBER, 0];
  const taken = key.width + (isTelling ? 0 : NUMBER_WIDTH * em + APART.number);
  return bandsOf(rest, ROOM - taken).map(({ from, to }) => [
    ...lead,
    ...Array.from({ length: to - from }, (_, at) => from + at + 1),
  ]);
}

function longest(texts: readonly string[]): number {
  return texts.reduce((most, { length }) => Math.max(most, length), 0);
}

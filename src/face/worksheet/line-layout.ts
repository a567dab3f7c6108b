/**
 * How the line of a row is laid out on a phone: beside what names it where that has room, else under it; words too long
 * for a column have a line of their own.
 */

export interface LineLayout {
  /** The values stand under what names the row. */
  readonly stacked: boolean;
  /** Columns of the grid, as CSS. */
  readonly tracks: string;
  /** Which of the values have a line of their own, by their place among the values. */
  readonly whole: readonly boolean[];
}

export interface LineTexts {
  readonly heading: string;
  readonly texts: readonly string[];
}

/** What the narrowest phone has room for, in digits. */
const ROOM = 34;
const GAP = 1;
/** No more digits than these stand in a column. */
const WIDEST = 15;
const NARROWEST = 5;
/** Letters of a heading are smaller than those of a row. */
const SMALL = 0.85;
/** Lines that what names a row may be broken into beside its values, and a heading. */
const LINES = 2;
const HEADING_LINES = 3;
/** Of a digit in the letters of a row, in pixels as these are; a heading's own are smaller, and its columns the same. */
const DIGIT = 9.6;
/** Marks of feet and inches, points and strokes take half a digit. */
const THIN = /[\s'"′″.,/]/gu;

const longest = (texts: readonly string[], size = (text: string) => text.length) =>
  texts.reduce((most, text) => Math.max(most, size(text)), 0);
const digits = (text: string) => text.length - (text.match(THIN)?.length ?? 0) / 2;
const pieces = (texts: readonly string[]) => texts.flatMap((text) => text.split(/\s+|(?<=[_-])/u));

export function lineLayout(lead: LineTexts, values: readonly LineTexts[]): LineLayout {
  const whole = values.map(({ texts }) => longest(texts) > WIDEST);
  const shown = values.filter((_, at) => !whole[at]);
  const widths = shown.map(({ heading, texts }) => widthOf(heading, longest(texts)));
  const left = ROOM - widths.reduce((sum, width) => sum + width + GAP, 0);
  const stacked =
    widths.length > 0 &&
    (left < longest(pieces(lead.texts)) ||
      LINES * left < longest(lead.texts) + GAP ||
      left < SMALL * longest(pieces([lead.heading])));
  return {
    stacked,
    tracks: stacked
      ? inRows(shown.map(({ heading, texts }) => widthOf(heading, longest(texts, digits))))
          .map((width) => `minmax(0, ${width}fr)`)
          .join(' ')
      : ['minmax(0, 1fr)', ...widths.map((width) => `${(width * DIGIT).toFixed(1)}px`)].join(' '),
    whole,
  };
}

function widthOf(heading: string, value: number): number {
  const word = SMALL * longest(pieces([heading]));
  return Math.ceil(Math.max(NARROWEST, value, word, (SMALL * heading.length) / HEADING_LINES));
}

/** The columns of one row of values, or of two, one under the other, where in one a value would be broken. */
function inRows(widths: readonly number[]): readonly number[] {
  if (widths.reduce((sum, width) => sum + width + GAP, -GAP) <= ROOM) return widths;
  const count = Math.ceil(widths.length / 2);
  return widths.slice(0, count).map((width, at) => Math.max(width, widths[at + count] ?? 0));
}

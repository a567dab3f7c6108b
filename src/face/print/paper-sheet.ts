/** How a table is divided on the paper: which columns stand beside each other, and what each band begins with. */
import type { Column } from '../../workbook/index.ts';
import { footerOf } from '../footer.ts';
import { faultOf } from '../shown-rows.ts';
import { spreadOf } from '../worksheet/column-spread.ts';
import type { Grid } from '../worksheet/grid.svelte.ts';
import { lookOf, type Look } from '../worksheet/look.ts';
import { wordsOfRow } from '../worksheet/row-words.ts';
import { contentWidth, DIGIT, wordWidth } from '../worksheet/widths.ts';
import { bandsOf, squeezed, type Width } from './bands.ts';

/** What stands in one place of every band: a column, the number of the row, or what is said of it. */
export type PaperColumn = Width &
  (
    | { readonly kind: 'column'; readonly column: Column; readonly at: number }
    | { readonly kind: 'number' | 'words' }
  );

export interface PaperBand {
  readonly columns: readonly PaperColumn[];
  /** Said over a band that is not alone; else empty. */
  readonly title: string;
}

export interface PaperSheet {
  readonly bands: readonly PaperBand[];
  /** What is said of a row: in the last of its columns, beside it, or on a line under it. */
  readonly words: 'in' | 'beside' | 'under';
}

/** Of the type that tables are set in on paper, in CSS pixels: 7.9 pt. */
const EM = 10.5;
/** Left and right of what is in a cell. */
const PADDING = 8;
/** Rows that are looked at for the widths. */
const SAMPLE = 200;
/** In em: what is said of a row, at the least and at the most; a letter of it; the number of a row. */
const WORDS = { least: 9, most: 20 };
const LETTER = 0.5;
const NUMBER = 2.5;
/** In em: columns of words are not made narrower. */
const NARROW = 5.5;
/** A heading may take so many lines; it is set smaller, and stronger. */
const HEADING_LINES = 3;
/** Said beside a value that stands in the place of a formula. */
export const TYPED_OVER = 'typed over';

export function paperSheet(grid: Grid, room: number): PaperSheet {
  const rows = sampled(grid.rows);
  const columns = grid.columns.map((column, at) => columnOf(grid, rows, column, at));
  const longest = Math.max(0, ...rows.map((row) => aboutRow(grid, row).length)) * LETTER;
  const words: PaperColumn = {
    kind: 'words',
    width: px(Math.min(WORDS.most, Math.max(3, longest))),
    least: px(Math.min(WORDS.least, Math.max(3, longest))),
  };
  const last = columns.at(-1);
  if (last?.kind === 'column' && last.column.type === 'text' && columns.length > 1) {
    const width = Math.max(last.width, longest === 0 ? 0 : words.width);
    const least = Math.max(last.least, longest === 0 ? 0 : words.least);
    return divided(grid, [...columns.slice(0, -1), { ...last, width, least }], room, 'in');
  }
  if (longest === 0) return divided(grid, columns, room, 'beside');
  const beside = divided(grid, [...columns, words], room, 'beside');
  const under = divided(grid, columns, room, 'under');
  // No band more for words alone.
  return beside.bands.length > under.bands.length ? under : beside;
}

function columnOf(grid: Grid, rows: readonly number[], column: Column, at: number): PaperColumn {
  const heading = column.label || column.name;
  const looks = rows.map((row) => lookAt(grid, row, column));
  const doubted = Math.max(0, ...looks.map(({ doubt }) => doubt.length)) * LETTER;
  const isTypedOver =
    column.formula !== undefined &&
    rows.some((row) => grid.table.rows[row]?.entries[column.id] !== undefined);
  const over = isTypedOver ? TYPED_OVER.length * LETTER : 0;
  const around = Math.max(
    (heading.length / HEADING_LINES) * LETTER,
    Math.min(WORDS.least, Math.max(doubted, over, spreadOf(column).length * LETTER)),
    longestWord([heading, grid.units[at]?.symbol ?? ''], headingWidth),
    footWidth(grid, column),
  );
  const content = contentWidth(looks);
  // What is in words may take several lines, and numbers may not.
  const least =
    column.type === 'number'
      ? content
      : Math.min(content, Math.max(NARROW, longestWord(looks.map(({ text }) => text))));
  return {
    kind: 'column',
    column,
    at,
    width: px(Math.max(around, content)),
    least: px(Math.max(around, least)),
  };
}

function longestWord(texts: readonly string[], of = wordWidth): number {
  return Math.max(0, ...texts.map((text) => Math.max(...text.split(/\s+/u).map(of))));
}

/** There is no room to spare in a heading: narrow letters count for less. */
function headingWidth(word: string): number {
  return wordWidth(word) - (word.match(/[fijlrt,.]/gu)?.length ?? 0) * 0.15;
}

/** Of the number at the foot, which is set bold. */
function footWidth(grid: Grid, column: Column): number {
  const shown = footerOf(grid.session, grid.table, column, grid.rows.length)?.shown;
  return shown?.kind === 'value' ? (shown.value.length + 0.5) * DIGIT : 0;
}

function px(em: number): number {
  return em * EM + PADDING;
}

/** The whole of a short table, and rows from all over a long one. */
function sampled(rows: readonly number[]): number[] {
  const step = Math.max(1, rows.length / SAMPLE);
  return Array.from({ length: Math.min(rows.length, SAMPLE) }, (_, at) => rows[Math.floor(at * step)] ?? 0);
}

function divided(
  grid: Grid,
  columns: readonly PaperColumn[],
  room: number,
  words: PaperSheet['words'],
): PaperSheet {
  const [key, ...rest] = columns;
  const least = columns.reduce((sum, each) => sum + each.least, 0);
  if (!key || least <= room) return { bands: [{ columns: squeezed(columns, room), title: '' }], words };
  const lead: PaperColumn[] = isTelling(grid)
    ? [key]
    : [{ kind: 'number', width: px(NUMBER), least: px(NUMBER) }, key];
  const taken = lead.reduce((sum, { width }) => sum + width, 0);
  const count = grid.columns.length;
  const name = grid.table.label || grid.table.name;
  const bands = bandsOf(rest, room - taken).map(({ from, to }) => ({
    columns: squeezed([...lead, ...rest.slice(from, to)], room),
    title: `${name}: columns ${from === 0 ? 1 : from + 2} to ${Math.min(to + 1, count)} of ${count}`,
  }));
  return { bands, words };
}

/** Whether the first column tells the rows apart, so that one is found again in the next band. */
function isTelling(grid: Grid): boolean {
  const [key] = grid.columns;
  if (!key) return false;
  const seen = new Set<string>();
  for (const row of grid.rows) {
    const { text } = lookAt(grid, row, key);
    if (text === '' || seen.has(text)) return false;
    seen.add(text);
  }
  return true;
}

export function lookAt({ session, table }: Grid, row: number, column: Column): Look {
  const state = session.columnState(table.name, column.name, row);
  return lookOf(state, column, table.rows[row]?.entries[column.id], session.system);
}

/** The fault of a row, or else what there is to say of it. */
export function aboutRow({ session, table, columns }: Grid, row: number): string {
  return faultOf(session, table, row) || wordsOfRow(session, table, columns, row, table.rows[row]);
}

/** Widths of a table's columns: wide enough for what is in them, no wider, and steady while values change. */
import type { UnitSystem } from '../../engine/index.ts';
import type { Column, Table } from '../../workbook/index.ts';
import { faultOf, remarksOf, settledWord } from '../shown-rows.ts';
import type { Session } from '../session.svelte.ts';
import { kept } from '../steady.ts';
import { lookOf, type Look } from './look.ts';
import { ALL_ROWS } from './window.ts';

/** Rows that are looked at: enough to see what a column holds. */
const SAMPLE = 40;

/** The first rows and, of more, some from all the others: the same ones until there are twice as many. */
function sampleOf(rows: readonly number[]): number[] {
  const first = rows.slice(0, SAMPLE);
  if (rows.length <= SAMPLE) return first;
  const apart = 2 ** Math.ceil(Math.log2(rows.length / SAMPLE));
  return [...first, ...rows.filter((_, at) => at >= SAMPLE && at % apart === 0)];
}
/** In em of the table's type: a digit, a letter of the heading, a digit of a ±, which is set smaller. */
export const DIGIT = 0.56;
const HEADING = 0.5;
const PLUS_MINUS = 0.47;
const NARROWEST = 3;
const WIDEST = 13;
/** The least room for a word or two. */
export const WORD = 3.5;

/** What the width of a column was found from. */
interface Found {
  readonly column: Column;
  readonly unit: string;
  readonly system: UnitSystem;
  /** Of what the column says. */
  readonly version: number;
  readonly long: boolean;
  readonly rows: readonly number[];
  readonly texts: readonly (string | undefined)[];
  readonly width: number;
}

/** Widths of one table's columns; an edit has those found again that it changed. */
export class ColumnWidths {
  readonly #found = new Map<string, Found>();

  /** The content's width of each column, in em. */
  of(
    session: Session,
    table: Table,
    columns: readonly Column[],
    rows: readonly number[],
    units: readonly string[],
  ): number[] {
    const sample = sampleOf(rows);
    // In a long table no text breaks into lines.
    const long = rows.length > ALL_ROWS;
    return columns.map((column, at) => {
      const { system } = session;
      const unit = units[at] ?? '';
      const version = session.version(`${table.name}.${column.name}`);
      const texts = sample.map((row) => table.rows[row]?.entries[column.id]);
      const known = this.#found.get(column.id);
      const isSame =
        known?.column === column &&
        known.unit === unit &&
        known.system === system &&
        known.version === version &&
        known.long === long &&
        kept(known.rows, sample) === known.rows &&
        kept(known.texts, texts) === known.texts;
      if (isSame) return known.width;
      const looks = sample.map((row, k) =>
        lookOf(session.columnState(table.name, column.name, row), column, texts[k], system),
      );
      const width = columnWidth(column.label || column.name, unit, looks, long);
      this.#found.set(column.id, { column, unit, system, version, long, rows: sample, texts, width });
      return width;
    });
  }
}

/** Of one column that holds these, in em. */
function columnWidth(label: string, unit: string, looks: readonly Look[], long: boolean): number {
  const words = [...label.split(/\s+/), unit].map((word) => word.length);
  const heading = Math.max(...words, label.length / 2 + 2) * HEADING;
  return Math.max(Math.min(WIDEST, heading), contentWidth(looks, long));
}

/** Of what stands in the rows of a column, in em. */
export function contentWidth(looks: readonly Look[], long = false): number {
  return Math.min(WIDEST, Math.max(NARROWEST, ...looks.map((look) => width(look, long))));
}

function width({ kind, text, value, plusMinus }: Look, long: boolean): number {
  if (kind === 'faulty' || kind === 'waiting') return NARROWEST;
  if (kind !== 'value' && long) return wordWidth(text) + text.length * (DIGIT - HEADING);
  if (kind !== 'value') return Math.max(0, ...text.split(/\s+/u).map(wordWidth), text.length * HEADING);
  return value.length * DIGIT + (plusMinus === '' ? 0 : plusMinus.length * PLUS_MINUS + 0.3);
}

/** A word is not broken: m and w take nearly twice the room of another letter, a digit of a date a little more. */
export function wordWidth(word: string): number {
  const room = (found: RegExp, more: number) => (word.match(found)?.length ?? 0) * more;
  return word.length * HEADING + room(/[mw]/giu, 0.4) + room(/\d/g, 0.1) + 0.4;
}

/** Least room for what is said beside a row, in em: two or three lines of it, or one for a few words. */
const REMARK = 16;
/** In less no sentence can be read. */
export const NARROW_REMARK = 7;

/** What the words of each row looked at take in one line, in em. */
function lengthsOf(rows: readonly number[], words: (row: number) => string): number[] {
  return rows.slice(0, SAMPLE).map((row) => words(row).length * HEADING);
}

/** Room that most rows want for their remarks where these share a column with what is typed, in em. */
export function usualRemark(
  session: Session,
  table: Table,
  columns: readonly Column[],
  rows: readonly number[],
): number {
  const lengths = lengthsOf(rows, (row) => remarksOf(session, table, columns, row).join('; ')).sort(
    (a, b) => a - b,
  );
  return Math.min(REMARK, lengths[Math.floor(lengths.length / 2)] ?? 0);
}

/** Room for the remarks beside the rows, in em; for the invitation to type a new row at the least. */
export function remarksWidth(
  session: Session,
  table: Table,
  columns: readonly Column[],
  rows: readonly number[],
): number {
  const lengths = lengthsOf(
    rows,
    (row) => faultOf(session, table, row) || remarksOf(session, table, columns, row).join('; '),
  );
  return Math.min(REMARK, Math.max(WORD, ...lengths));
}

/** Room for the verdicts that say nothing is left to do, in em; 0 where there are none. */
export function settledWidth(session: Session, table: Table, rows: readonly number[]): number {
  return Math.max(0, ...lengthsOf(rows, (row) => settledWord(session, table, row)));
}

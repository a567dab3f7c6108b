/**
 * Texts under matched headings become the entries of rows. What was written is kept; a heading's unit and a ± from
 * a column of its own are written behind it, nothing is converted.
 */
import { parseUnit, readEntry, type Unit } from '../../engine/index.ts';
import type { Column } from '../document.ts';
import { grouped, LIMITS } from '../limits.ts';
import { sameUnit, type CsvProblem, type Heading } from './heading.ts';

export interface WrittenRecord {
  readonly line: number;
  readonly fields: readonly string[];
}

export interface ReadRow {
  readonly line: number;
  /** Column id to text; blank where the field was. */
  readonly texts: ReadonlyMap<string, string>;
  readonly note: string;
}

const BARE = /^[+\-−]?(?:\d{1,3}(?:,\d{3})+|\d+)?(?:\.\d*)?(?:[eE][+\-−]?\d+)?$/u;
const DECIMAL_COMMA = /^[+\-−]?(?:\d{1,3}(?:\.\d{3})+|\d+)(?:,\d+)?$/u;

export function isBareNumber(text: string): boolean {
  return /\d/u.test(text) && BARE.test(text);
}

/** A number whose comma can be a decimal comma. */
export function hasDecimalComma(text: string): boolean {
  return text.includes(',') && DECIMAL_COMMA.test(text);
}

/**
 * True when numbers hold commas (or, with `orGroups`, points between thousands) and every one of them can be read
 * with the comma as decimal point.
 */
export function commasFitAsDecimals(
  headings: readonly Heading[],
  records: readonly WrittenRecord[],
  orGroups = false,
): boolean {
  let some = false;
  for (const { fields } of records) {
    for (const [index, heading] of headings.entries()) {
      const text = fields[index]?.trim() ?? '';
      if (heading.column?.type !== 'number' || !/^[+\-−]?[\d.,]+$/u.test(text)) continue;
      if (!DECIMAL_COMMA.test(text)) return false;
      some ||= text.includes(',') || (orGroups && /\d\.\d{3}$/u.test(text));
    }
  }
  return some;
}

export function withPoint(text: string): string {
  const isNumber = DECIMAL_COMMA.test(text);
  return isNumber ? text.replaceAll('.', '').replace(',', '.') : text;
}

export interface ReadingOptions {
  /** The person has said that commas are decimal points. */
  readonly decimalComma: boolean;
  /** The question about commas is asked once for the whole file, not at each of them. */
  readonly commasAsked: boolean;
  readonly allowed?: Allowed | undefined;
}

/** What may be chosen in a column; undefined where nobody knows. */
export type Allowed = (column: Column) => readonly string[] | undefined;

function choicesOf(column: Column, allowed: Allowed | undefined): readonly string[] | undefined {
  return typeof column.choices === 'object' ? column.choices : allowed?.(column);
}

export function readRecords(
  headings: readonly Heading[],
  records: readonly WrittenRecord[],
  options: ReadingOptions,
): { readonly rows: readonly ReadRow[]; readonly problems: readonly CsvProblem[] } {
  const problems: CsvProblem[] = [];
  const places = placesOf(headings);
  const noteAt = headings.findIndex(({ role }) => role === 'note');
  const rows = records.map(({ line, fields }): ReadRow => {
    const texts = new Map<string, string>();
    for (const place of places) {
      const { column, value, plusMinus, unit } = place;
      const pointed = options.decimalComma && column.type === 'number' ? withPoint : (typed: string) => typed;
      const written = { value: pointed(fields[value] ?? ''), half: pointed(fields[plusMinus] ?? '') };
      const text = chosen(column, joined(place, written), options);
      const trouble = wrongIn(column, text, written, unit, options);
      if (trouble) problems.push({ line, column: column.name, ...trouble });
      texts.set(column.id, text.length > LIMITS.textCharacters ? '' : text);
    }
    return { line, texts, note: fields[noteAt] ?? '' };
  });
  return { rows, problems };
}

interface ColumnPlace {
  readonly column: Column;
  readonly unit: Unit | undefined;
  /** Places of its fields in a record; -1 where there is none. */
  readonly value: number;
  readonly plusMinus: number;
  /** The unit to write behind a bare value: the heading's, where it is not the column's. */
  readonly valueUnit: string | undefined;
  readonly halfUnit: string | undefined;
  /** Value and half width are in the same unit. */
  readonly together: boolean;
}

function placesOf(headings: readonly Heading[]): ColumnPlace[] {
  const columns = new Map<string, { column: Column; value: number; plusMinus: number }>();
  for (const [index, { role, column }] of headings.entries()) {
    if (!column || (role !== 'value' && role !== 'override' && role !== 'plus-minus')) continue;
    const place = columns.get(column.id) ?? { column, value: -1, plusMinus: -1 };
    columns.set(
      column.id,
      role === 'plus-minus' ? { ...place, plusMinus: index } : { ...place, value: index },
    );
  }
  return [...columns.values()].map((place) => {
    const unit = place.column.type === 'number' ? parseUnit(place.column.unit) : undefined;
    const valueUnit = headings[place.value]?.unit;
    const halfUnit = headings[place.plusMinus]?.unit;
    const together = halfUnit === undefined || alike(halfUnit, valueUnit ?? place.column.unit);
    return { ...place, unit: unit && 'problem' in unit ? undefined : unit, valueUnit, halfUnit, together };
  });
}

function alike(first: string, second: string): boolean {
  const units = [parseUnit(first), parseUnit(second)] as const;
  return (
    first === second || (!('problem' in units[0]) && !('problem' in units[1]) && sameUnit(units[0], units[1]))
  );
}

interface Written {
  readonly value: string;
  readonly half: string;
}

/** `20 ± 0.5 Pa` where the unit is of both, `20 Pa ± 0.01 inH2O` where each has its own. */
function joined(
  { column, valueUnit, halfUnit, together }: ColumnPlace,
  { value, half: typedHalf }: Written,
): string {
  if (column.type !== 'number') return value;
  const half = typedHalf.replace(/^\s*(?:±|\+\/?-)\s*/u, '');
  const behind = (unit: string | undefined) => (unit === undefined || unit === '' ? '' : ` ${unit}`);
  const bare = isBareNumber(value);
  if (half === '' || value === '') return bare ? `${value}${behind(valueUnit)}` : value;
  if (!isBareNumber(half)) return `${value}${bare ? behind(valueUnit) : ''} ± ${half}`;
  if (!bare) return `${value} ± ${half}${behind(halfUnit)}`;
  if (together) return `${value} ± ${half}${behind(valueUnit)}`;
  return `${value}${behind(valueUnit ?? column.unit)} ± ${half}${behind(halfUnit)}`;
}

type Trouble = Pick<CsvProblem, 'found' | 'expected' | 'suggestion'>;

function wrongIn(
  column: Column,
  text: string,
  written: Written,
  unit: Unit | undefined,
  options: ReadingOptions,
): Trouble | undefined {
  if (text.length > LIMITS.textCharacters) {
    return {
      found: `${grouped(text.length)} characters`,
      expected: `at most ${grouped(LIMITS.textCharacters)}`,
      suggestion: 'The entry was left out. Shorten it in the file.',
    };
  }
  if (column.type === 'choice') return noChoice(text, choicesOf(column, options.allowed));
  if (column.type !== 'number') return undefined;
  const expected = column.unit === '' ? 'a number' : `a value in ${column.unit}`;
  if (written.value === '' && written.half !== '') {
    return {
      found: `± ${written.half} without a value`,
      expected,
      suggestion: 'Give the value too, or neither.',
    };
  }
  if (options.commasAsked && (hasDecimalComma(written.value) || hasDecimalComma(written.half)))
    return undefined;
  const entry = readEntry(text, unit);
  if (!('problem' in entry)) return undefined;
  return {
    found: entry.problem,
    expected,
    suggestion: entry.suggestion ?? 'Correct it in the file or in the table.',
  };
}

function noChoice(text: string, choices: readonly string[] | undefined): Trouble | undefined {
  if (text === '' || !choices || choices.includes(text)) return undefined;
  const some = choices.slice(0, 12).join(', ');
  return {
    found: `“${text.slice(0, 60)}”`,
    expected:
      choices.length === 0
        ? 'a choice, and there is none to choose from yet'
        : `one of ${some}${choices.length > 12 ? ` and ${choices.length - 12} more` : ''}`,
    suggestion: choices.length === 0 ? 'Fill in the table that they come from.' : 'Choose one of them.',
  };
}

/** The choice itself where a file writes it with other capitals. */
function chosen(column: Column, text: string, { allowed }: ReadingOptions): string {
  if (column.type !== 'choice' || text === '') return text;
  const choices = choicesOf(column, allowed);
  if (!choices || choices.includes(text)) return text;
  const alike = choices.filter((choice) => choice.toLowerCase() === text.toLowerCase());
  return alike.length === 1 ? (alike[0] ?? text) : text;
}

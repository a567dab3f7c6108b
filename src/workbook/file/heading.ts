/** Headings of a file or a pasted block, matched to a table's columns: `House pressure, Pa`, `± house_pressure`. */
import { DIMENSIONLESS, describeDimension, meantFor, parseUnit, type Unit } from '../../engine/index.ts';
import type { Column, Table } from '../document.ts';

export interface CsvProblem {
  /** Line of the file or row of the block, counted from 1. */
  readonly line: number;
  /** The column's name, or the heading where it is no column's. */
  readonly column: string;
  readonly found: string;
  readonly expected: string;
  readonly suggestion: string;
}

export interface Heading {
  /** As written. */
  readonly text: string;
  readonly role:
    | 'value'
    /** Its numbers belong behind a ±. */
    | 'plus-minus'
    /** Values typed over a calculated column. */
    | 'override'
    /** Results of a calculated column: not read. */
    | 'computed'
    | 'note'
    /** Left out: no column's, or with a problem. */
    | 'unknown';
  readonly column?: Column;
  /** What is wrong with it stands among the problems. */
  readonly told?: true;
  /** To be written behind each bare number: the heading's unit where it is not the column's, or that of a ±. */
  readonly unit?: string;
}

export interface Headings {
  readonly headings: readonly Heading[];
  readonly problems: readonly CsvProblem[];
  /** Typed columns that no heading names. */
  readonly missing: readonly Column[];
}

export const NOTE_HEADING = '$note';
const COMPUTED = '[computed]';
const TYPED = '[typed]';
const PLUS_MINUS = /^(?:±|\+\/?-)\s*|\s*(?:±|\+\/?-)$/u;
/** Longer than any name, label and unit together; searching more could take for ever. */
const HEADING_CHARACTERS = 500;
const NONE_ASSIGNED: Assigned = new Map();
const NO_UNIT = new Set(['', '-', '–', '1']);

/** The heading under which a column is written: read again, it names the column, its part and its unit. */
export function headingFor(column: Column, role: 'value' | 'plus-minus' | 'override' | 'computed'): string {
  const before = role === 'plus-minus' ? '± ' : '';
  const mark = role === 'computed' ? ` ${COMPUTED}` : role === 'override' ? ` ${TYPED}` : '';
  const unit = column.unit !== '' && !('problem' in parseUnit(column.unit)) ? ` (${column.unit})` : '';
  return `${before}${column.name}${mark}${unit}`;
}

/** Ids of the columns that a person gave to headings, by the place of the heading from 0; '' leaves it out. */
export type Assigned = ReadonlyMap<number, string>;

export function matchHeadings(
  texts: readonly string[],
  table: Table,
  line: number,
  assigned: Assigned = NONE_ASSIGNED,
): Headings {
  const problems: CsvProblem[] = [];
  const taken = new Set<string>();
  const headings = texts.map((text, at): Heading => {
    const chosen = assigned.get(at);
    const found = chosen === undefined ? matchHeading(text, table) : assignedHeading(text, table, chosen);
    if ('found' in found) {
      problems.push({ line, ...found });
      return { text, role: 'unknown', told: true };
    }
    const key = `${found.role} ${found.column?.id ?? ''}`;
    if (found.role !== 'unknown' && taken.has(key)) {
      const column = found.column?.name ?? text;
      problems.push({ line, ...again(text, column) });
      return { text, role: 'unknown', told: true };
    }
    taken.add(key);
    return found;
  });
  const missing = table.columns.filter(
    ({ id, formula }) => formula === undefined && !taken.has(`value ${id}`),
  );
  return { headings, problems, missing };
}

type Trouble = Omit<CsvProblem, 'line'>;

function again(text: string, column: string): Trouble {
  return {
    column,
    found: `a second heading for it, “${text}”`,
    expected: 'one heading for each column',
    suggestion: 'The first was taken. Take one of the two out of the file.',
  };
}

function matchHeading(text: string, table: Table): Heading | Trouble {
  if (text.length > HEADING_CHARACTERS) return { text, role: 'unknown' };
  if (text.trim() === NOTE_HEADING) return { text, role: 'note' };
  const whole = columnCalled(text.trim(), table);
  if (whole)
    return Array.isArray(whole) ? severalCalled(text, whole) : plainHeading(text, whole, text.trim());
  const { words, unit, plusMinus } = parts(text);
  const called = columnCalled(words, table);
  if (called === undefined) return { text, role: 'unknown' };
  if (Array.isArray(called)) return severalCalled(text, called);
  const heading = plainHeading(text, called, words);
  const role = plusMinus && heading.role === 'value' ? 'plus-minus' : heading.role;
  if (unit === undefined || called.type !== 'number' || role === 'computed') return { ...heading, role };
  return withUnit({ ...heading, role }, called, unit);
}

/** The column a person chose: what stands around the words of the heading still tells its unit and its ±. */
function assignedHeading(text: string, table: Table, id: string): Heading | Trouble {
  const column = table.columns.find((each) => each.id === id);
  if (!column) return { text, role: 'unknown' };
  const { unit, plusMinus } = parts(text);
  const role = column.formula !== undefined ? 'override' : plusMinus ? 'plus-minus' : 'value';
  const heading: Heading = { text, role, column };
  const inBrackets = unit !== undefined && /[)\]]\s*(?:±|\+\/?-)?\s*$/u.test(text);
  // After a comma may stand any word: only a unit is taken for one there.
  const isUnit = unit !== undefined && (inBrackets || !('problem' in parseUnit(unit)));
  return column.type === 'number' && isUnit ? withUnit(heading, column, unit) : heading;
}

function plainHeading(text: string, column: Column, words: string): Heading {
  if (column.formula === undefined) return { text, role: 'value', column };
  return { text, role: words.endsWith(TYPED) ? 'override' : 'computed', column };
}

interface Parts {
  readonly words: string;
  readonly unit: string | undefined;
  readonly plusMinus: boolean;
}

/** A ± before or behind, then a unit in brackets, after a comma or after “in”, then a ± behind the words. */
function parts(text: string): Parts {
  const bare = text.trim();
  const outside = bare.replace(PLUS_MINUS, '').trim();
  const { words, unit } = splitUnit(outside);
  const inside = words.replace(PLUS_MINUS, '').trim();
  return { words: inside, unit, plusMinus: outside !== bare || inside !== words };
}

function splitUnit(text: string): { readonly words: string; readonly unit: string | undefined } {
  const last = text.at(-1);
  if ((last === ')' || last === ']') && !text.endsWith(COMPUTED) && !text.endsWith(TYPED)) {
    let depth = 0;
    for (let at = text.length - 1; at > 0; at--) {
      if (')]'.includes(text.charAt(at))) depth++;
      else if ('(['.includes(text.charAt(at))) depth--;
      if (depth === 0) return { words: text.slice(0, at).trim(), unit: text.slice(at + 1, -1).trim() };
    }
  }
  // Behind “in” may stand any word: “cut in half” has no unit.
  const [, words = '', unit = ''] = /^(.+)[\s_]in[\s_](.+)$/iu.exec(text) ?? [];
  if (words !== '' && !('problem' in parseUnit(unit.trim())))
    return { words: words.replace(/[\s,]+$/u, ''), unit: unit.trim() };
  const comma = text.lastIndexOf(',');
  if (comma > 0) return { words: text.slice(0, comma).trim(), unit: text.slice(comma + 1).trim() };
  return { words: text, unit: undefined };
}

/** The column of that name, else of that label; more than one where a label is not alone. */
function columnCalled(words: string, table: Table): Column | Column[] | undefined {
  const wanted = words.replace(COMPUTED, '').replace(TYPED, '').trim();
  const exact = table.columns.find(({ name }) => name === wanted);
  if (exact) return exact;
  const key = plain(wanted);
  if (key === '') return undefined;
  for (const field of ['name', 'label'] as const) {
    const found = table.columns.filter((column) => plain(column[field]) === key);
    if (found.length > 0) return found.length === 1 ? found[0] : found;
  }
  return undefined;
}

/** Capitals, spaces, hyphens and underscores make no difference. */
function plain(words: string): string {
  return words
    .normalize('NFC')
    .toLowerCase()
    .replace(/[\s_-]+/gu, ' ')
    .trim();
}

function severalCalled(text: string, columns: readonly Column[]): Trouble {
  return {
    column: text,
    found: `a heading that fits ${columns.map(({ name }) => name).join(' and ')}`,
    expected: 'a heading that fits one column',
    suggestion: `Head it with the name: ${columns[0]?.name ?? ''}.`,
  };
}

function withUnit(heading: Heading, column: Column, unit: string): Heading | Trouble {
  // A half width may be in another unit than its value, so its own is kept even where it is the column's.
  const named: Heading = heading.role === 'plus-minus' ? { ...heading, unit } : heading;
  if (unit === column.unit) return named;
  const own = parseUnit(column.unit);
  const degrees = 'problem' in own || !/^[FC]$/u.test(unit) ? undefined : meantFor(unit, own);
  // Over a column of temperatures F is no farad.
  if (degrees !== undefined) return withUnit(heading, column, degrees);
  const found = parseUnit(NO_UNIT.has(unit) ? '' : unit);
  const inColumn = column.unit === '' ? 'no unit' : column.unit;
  if ('problem' in found) {
    return {
      column: column.name,
      found: `the unit “${unit}” in the heading: ${found.problem}`,
      expected: `${inColumn}, or another unit of the same kind`,
      suggestion: found.suggestion ?? `The column was left out. Head it “${headingFor(column, 'value')}”.`,
    };
  }
  if ('problem' in own || sameUnit(found, own)) return named;
  const isShare = heading.role === 'plus-minus' && found.symbol === '%';
  const fits =
    found.dimension === own.dimension && (found.reading === own.reading || heading.role === 'plus-minus');
  if (isShare || fits) return { ...heading, unit };
  const meant = meantFor(unit, own);
  return {
    column: column.name,
    found: `the unit ${unit} in the heading, which is ${kindOf(found)}`,
    expected: `${inColumn}, which is ${kindOf(own)}`,
    suggestion:
      meant === undefined
        ? 'The column was left out. Correct the unit in the heading, or choose another column.'
        : `The column was left out. Head it “${column.name} (${meant})”.`,
  };
}

function kindOf(unit: Unit): string {
  if (unit.dimension === DIMENSIONLESS) return 'a plain number';
  return unit.reading ? 'a temperature reading' : describeDimension(unit.dimension);
}

export function sameUnit(a: Unit, b: Unit): boolean {
  return (
    a.dimension === b.dimension && a.factor === b.factor && a.offset === b.offset && a.reading === b.reading
  );
}

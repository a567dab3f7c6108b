/**
 * Where the headings of a file or a pasted block stand. A spreadsheet often has a title above them, or a word that
 * several columns share, and their units in a row of their own below.
 */
import { parseUnit } from '../../engine/index.ts';
import type { Table } from '../document.ts';
import { isBareNumber, type WrittenRecord } from './entries.ts';
import { matchHeadings, type Assigned, type CsvProblem, type Headings } from './heading.ts';

export interface Head extends Headings {
  /** Rows that hold no values: the headings, their units, and what stands above them. */
  readonly height: number;
  /** The row of the headings, from 0. */
  readonly at: number;
  /** How many of the problems tell what stands above: nothing that a table could hold. */
  readonly above: number;
}

/** Rows that may stand above the headings. */
const ABOVE = 3;

/** How many of the fields name a column of the table, whether or not it can be taken. */
export function namedIn(fields: readonly string[], table: Table): number {
  const { headings, problems } = matchHeadings(fields, table, 1);
  return headings.filter(({ role }) => role !== 'unknown').length + problems.length;
}

/** The first rows: what is looked at to find headings. */
export function firstRows<T>(rows: readonly T[]): readonly T[] {
  return rows.slice(0, ABOVE + 1);
}

/**
 * Which of the first rows holds the headings: the first, where it names enough, unless one below names more columns,
 * two at least and half of what is in it.
 */
export function headIn(
  rows: readonly WrittenRecord[],
  table: Table,
  isEnough: (named: number, fields: readonly string[]) => boolean,
): number | undefined {
  const [first] = rows;
  if (!first) return undefined;
  const named = namedIn(first.fields, table);
  for (const [at, { fields }] of firstRows(rows).entries()) {
    if (at === rows.length - 1 || fields.some((field) => isBareNumber(field.trim()))) break;
    const found = at === 0 ? 0 : namedIn(fields, table);
    const filled = fields.filter((field) => field.trim() !== '').length;
    if (found >= 2 && found > named && found * 2 >= filled) return at;
  }
  return isEnough(named, first.fields) ? 0 : undefined;
}

/** The headings in the row of that number, with the units below them; what stands above is told. */
export function headAt(rows: readonly WrittenRecord[], at: number, table: Table, assigned?: Assigned): Head {
  const { fields = [], line = 1 } = rows[at] ?? {};
  const plain = matchHeadings(fields, table, line, assigned);
  const units = unitsBelow(plain, rows[at + 1]?.fields ?? []);
  const named = units
    ? matchHeadings(
        fields.map((field, k) => (units[k] === undefined ? field : `${field.trim()} (${units[k]})`)),
        table,
        line,
        assigned,
      )
    : plain;
  const above = rows.slice(0, at).flatMap((row): CsvProblem[] => {
    const text = row.fields.map((field) => field.trim()).filter(Boolean);
    if (text.length === 0) return [];
    return [
      {
        line: row.line,
        column: '',
        found: `“${text.join(', ').slice(0, 60)}” above the headings`,
        expected: 'the headings first',
        suggestion: 'It was left out.',
      },
    ];
  });
  return {
    ...named,
    problems: [...above, ...named.problems],
    height: at + (units ? 2 : 1),
    at,
    above: above.length,
  };
}

const IN_BRACKETS = /^[([](.*)[)\]]$/u;

/** Units alone, each under a column of numbers whose heading has none: no row of values looks like that. */
function unitsBelow(
  { headings }: Headings,
  fields: readonly string[],
): readonly (string | undefined)[] | undefined {
  if (fields.every((field) => field.trim() === '')) return undefined;
  const units: (string | undefined)[] = [];
  for (const [at, field] of fields.entries()) {
    const text = field.trim();
    const bare = IN_BRACKETS.exec(text)?.[1]?.trim();
    const heading = headings[at];
    const isUnit = bare !== undefined || !('problem' in parseUnit(text));
    if (text !== '' && (heading?.role === 'unknown' ? bare === undefined : !isUnit)) return undefined;
    const takesUnit = heading?.column?.type === 'number' && heading.unit === undefined;
    if (text !== '' && heading?.role !== 'unknown' && !takesUnit) return undefined;
    units.push(text === '' || !takesUnit ? undefined : (bare ?? text));
  }
  return units;
}

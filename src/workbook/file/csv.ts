/** Tables from and to files of separated values (RFC 4180). The only file that knows the package. */
import { counted } from '../counted.ts';
import Papa from 'papaparse';
import type { Column, Row, Table } from '../document.ts';
import { LIMITS, grouped } from '../limits.ts';
import {
  commasFitAsDecimals,
  hasDecimalComma,
  isBareNumber,
  readRecords,
  type Allowed,
  type WrittenRecord,
} from './entries.ts';
import { firstRows, headAt, headIn, namedIn, type Head } from './head.ts';
import {
  headingFor,
  matchHeadings,
  NOTE_HEADING,
  type Assigned,
  type CsvProblem,
  type Heading,
} from './heading.ts';

export type { CsvProblem, Heading } from './heading.ts';

export interface CsvOptions {
  /** The person has said that the file's commas are decimal points. */
  readonly decimalComma?: boolean;
  /** How that is said, where there is no dialog that asks. */
  readonly decimalCommaWay?: string;
  /** Which columns the person gave to the file's headings, where those name none or others. */
  readonly assigned?: Assigned;
  /** What may be chosen in a column whose list stands in another table. */
  readonly allowed?: Allowed;
}

export interface CsvRow {
  /** Column id to text, as rows of the document keep it. */
  readonly entries: Readonly<Record<string, string>>;
  readonly note?: string;
}

export interface CsvReading {
  readonly rows: readonly CsvRow[];
  readonly problems: readonly CsvProblem[];
  /** One for each column of the file, in its order. */
  readonly matched: readonly Heading[];
  /** Typed columns of the table that the file does not have. */
  readonly missing: readonly Column[];
  /** True: every number fits a decimal comma, and the person has to be asked. */
  readonly askDecimalComma: boolean;
  /** True: something that the file holds is not in the rows, as fields past the last heading. */
  readonly lost: boolean;
}

const SEPARATORS = [',', ';', '\t'];

export function readCsv(text: string, table: Table, options: CsvOptions = {}): CsvReading {
  const plain = text.replace(/^\ufeff/, '').replace(/\r\n?/g, '\n');
  const separator = separatorOf(plain, table);
  const { records, problems: broken } = recordsIn(plain, separator);
  const [first] = records;
  const at = headIn(records, table, (named) => named > 0);
  const head =
    at === undefined && first?.fields.some((field) => isBareNumber(field.trim()))
      ? headless(first.fields, table, options.assigned)
      : headAt(records, at ?? 0, table, options.assigned);
  const line = records[head.at]?.line ?? 1;
  const rest = records.slice(head.height);
  const known = head.headings.some(({ role }) => role !== 'unknown');
  const problems = [...broken, ...head.problems];
  if (!known) {
    problems.push(noHeadings(table, first));
    return {
      rows: [],
      problems,
      matched: head.headings,
      missing: head.missing,
      askDecimalComma: false,
      lost: rest.length > 0,
    };
  }
  const body = withinLimit(rest, problems);
  problems.push(...unevenRecords(body, head.headings.length), ...notRead(head.headings, line));
  const decimalComma = options.decimalComma ?? false;
  const ask = separator !== ',' && !decimalComma && commasFitAsDecimals(head.headings, body);
  if (ask) problems.push(commasQuestion(line, options.decimalCommaWay));
  const read = readRecords(head.headings, body, {
    decimalComma,
    commasAsked: ask,
    allowed: options.allowed,
  });
  const rows = read.rows.flatMap(({ texts, note }): CsvRow[] => {
    const entries = Object.fromEntries([...texts].filter(([, entry]) => entry.trim() !== ''));
    // Blank lines, and the blank rows that spreadsheets leave at the end, are no rows.
    if (Object.keys(entries).length === 0 && note === '') return [];
    return [note === '' ? { entries } : { entries, note }];
  });
  return {
    rows,
    problems: [...problems, ...read.problems].sort((a, b) => a.line - b.line),
    matched: head.headings,
    missing: head.missing,
    askDecimalComma: ask,
    lost:
      ask ||
      broken.length + head.problems.length - head.above > 0 ||
      body.length < rest.length ||
      body.some(({ fields }) => hasMoreThan(head.headings.length, fields)),
  };
}

/** How many typed columns of the table the file's headings name: where its rows may belong. */
export function columnsNamed(text: string, table: Table): number {
  const { matched } = readCsv(text.slice(0, 4000), table);
  return matched.filter(({ role }) => role === 'value').length;
}

/**
 * The separator under which most headings of a row name a column; among equals, the one that makes most of them, that
 * divides the first row into most, and that leaves most numbers whole.
 */
function separatorOf(text: string, table: Table): string {
  const [best] = SEPARATORS.map((separator) => {
    const { data } = Papa.parse<string[]>(text, { delimiter: separator, newline: '\n', preview: 8 });
    const rows = firstRows(data.filter((fields) => fields.some((field) => field !== '')));
    const heads = rows.map((fields, at) => {
      // Decimal commas in values make no headings of one field a row of several.
      const below = rows[at + 1]?.length ?? (at === 0 ? fields.length : 0);
      return [namedIn(fields.map(unguarded), table), Math.min(fields.length, below)];
    });
    const fields = rows.flat().map((field) => field.trim());
    const numbers = fields.filter((field) => isBareNumber(field) || hasDecimalComma(field)).length;
    const [head = []] = heads.toSorted(compared);
    return { separator, score: [...head, rows[0]?.length ?? 0, numbers] };
  }).toSorted((a, b) => compared(a.score, b.score));
  return best?.separator ?? ',';
}

/** The greater first, by what comes first in them. */
function compared(a: readonly number[], b: readonly number[]): number {
  const at = a.findIndex((n, k) => n !== b[k]);
  return at < 0 ? 0 : (b[at] ?? 0) - (a[at] ?? 0);
}

interface Records {
  readonly records: readonly WrittenRecord[];
  readonly problems: readonly CsvProblem[];
}

function recordsIn(text: string, separator: string): Records {
  const records: WrittenRecord[] = [];
  const problems: CsvProblem[] = [];
  let line = 1;
  let from = 0;
  Papa.parse<string[]>(text, {
    delimiter: separator,
    newline: '\n',
    step: ({ data, errors, meta }) => {
      for (const error of errors) {
        if (error.type !== 'Quotes') continue;
        const suggestion = 'In a quoted text write each " twice, and end the text with one.';
        problems.push({
          line,
          column: '',
          found: 'a quote that is out of place',
          expected: 'quotes in pairs',
          suggestion,
        });
      }
      if (data.length > 1 || data[0] !== '') records.push({ line, fields: data.map(unguarded) });
      for (let at = text.indexOf('\n', from); at >= 0 && at < meta.cursor; at = text.indexOf('\n', at + 1))
        line++;
      from = meta.cursor;
    },
  });
  return { records, problems };
}

/** The first line holds a number, so it is a row of values: which columns they belong to is for the person to say. */
function headless(fields: readonly string[], table: Table, assigned?: Assigned): Head {
  const texts = fields.map(
    (field, at) => `column ${at + 1}, which begins with ${field.slice(0, 30) || 'a blank'}`,
  );
  const named = matchHeadings(texts, table, 1, assigned ?? new Map(texts.map((_, at) => [at, ''])));
  return { ...named, height: 0, at: 0, above: 0 };
}

function noHeadings(table: Table, first: WrittenRecord | undefined): CsvProblem {
  const typed = table.columns.filter(
    ({ formula, name }) => formula === undefined && name !== table.shownBy?.column,
  );
  const names = typed.map(({ label, name }) => label || name);
  return {
    line: first?.line ?? 1,
    column: '',
    found: first
      ? `a first line without a heading of the table: ${first.fields.slice(0, 6).join(', ').slice(0, 120)}`
      : 'nothing in the file',
    expected: `headings such as ${names.slice(0, 6).join(', ')}`,
    suggestion: first
      ? 'Say where each column goes, or put the headings in the first line.'
      : 'Save it again with its rows, or choose another file.',
  };
}

function withinLimit(records: readonly WrittenRecord[], problems: CsvProblem[]): readonly WrittenRecord[] {
  const over = records[LIMITS.rows];
  if (!over) return records;
  problems.push({
    line: over.line,
    column: '',
    found: `${grouped(records.length)} rows`,
    expected: `at most ${grouped(LIMITS.rows)}`,
    suggestion: 'The rows from here on were left out. Split the file.',
  });
  return records.slice(0, LIMITS.rows);
}

function unevenRecords(records: readonly WrittenRecord[], width: number): CsvProblem[] {
  return records.flatMap(({ line, fields }) => {
    const extra = hasMoreThan(width, fields);
    if (!extra && fields.length >= width) return [];
    if (fields.every((field) => field === '')) return [];
    const found = counted(fields.length, 'field');
    const suggestion = extra
      ? 'What is past the last heading was left out. A text with a separator in it has to stand in quotes.'
      : 'What is missing at the end was taken as blank.';
    return [
      { line, column: '', found, expected: `${String(width)} fields, as in the first line`, suggestion },
    ];
  });
}

function hasMoreThan(width: number, fields: readonly string[]): boolean {
  return fields.slice(width).some((field) => field !== '');
}

/** Calculated columns of a file from elsewhere: the person should know that their numbers were not taken. */
function notRead(headings: readonly Heading[], line: number): CsvProblem[] {
  return headings.flatMap(({ role, column, text }) => {
    if (role !== 'computed' || !column || text.includes('[computed]')) return [];
    return [
      {
        line,
        column: column.name,
        found: `values for ${column.name}`,
        expected: 'none, because the table calculates it',
        suggestion: `They were left out. To have them instead of the formula, head them “${headingFor(column, 'override')}”.`,
      },
    ];
  });
}

function commasQuestion(
  line: number,
  way = 'If the commas are decimal points, say so, and they are read as such.',
): CsvProblem {
  return {
    line,
    column: '',
    found: 'a comma in numbers, where a decimal point could stand',
    expected: 'decimals with a point',
    suggestion: way,
  };
}

/** Typed values, and the results of calculated columns as `cellText` gives them. Read again, it is the same table. */
export function writeCsv(table: Table, cellText: (row: Row, column: Column) => string): string {
  const columns = table.columns.flatMap((column) => fieldsOf(table, column, cellText));
  if (table.rows.some(({ note }) => note !== undefined)) {
    columns.push({ heading: NOTE_HEADING, text: ({ note }) => note ?? '' });
  }
  const lines = [
    columns.map(({ heading }) => guarded(heading)),
    ...table.rows.map((row) => columns.map(({ text }) => guarded(text(row)))),
  ];
  const text = `${Papa.unparse(lines, { newline: '\r\n' })}\r\n`;
  // Spreadsheets take a file without the mark for an older encoding, and spoil ± and ³.
  return /[^\x20-\x7e\t\r\n]/.test(text) ? `\ufeff${text}` : text;
}

interface WrittenColumn {
  readonly heading: string;
  readonly text: (row: Row) => string;
}

const WITH_HALF = /^(\S+) ± (\S+)$/u;

/** `30.1` and `0.5` of `30.1 ± 0.5`, only where joining them again gives the same text. */
function halves(text: string): readonly [string, string] | undefined {
  const [, value = '', half = ''] = WITH_HALF.exec(text) ?? [];
  return isBareNumber(value) && isBareNumber(half) ? [value, half] : undefined;
}

function fieldsOf(
  table: Table,
  column: Column,
  cellText: (row: Row, column: Column) => string,
): WrittenColumn[] {
  const typed = (row: Row) => row.entries[column.id] ?? '';
  const some = (test: (text: string) => boolean) => table.rows.some((row) => test(typed(row)));
  const role = column.formula === undefined ? 'value' : 'override';
  const written: WrittenColumn[] = [];
  if (role === 'override') {
    written.push({ heading: headingFor(column, 'computed'), text: (row) => cellText(row, column) });
    if (!some((text) => text !== '')) return written;
  }
  if (role === 'override' || column.type !== 'number' || !some((text) => halves(text) !== undefined)) {
    return [...written, { heading: headingFor(column, role), text: typed }];
  }
  return [
    { heading: headingFor(column, 'value'), text: (row) => halves(typed(row))?.[0] ?? typed(row) },
    { heading: headingFor(column, 'plus-minus'), text: (row) => halves(typed(row))?.[1] ?? '' },
  ];
}

/**
 * Spreadsheets run a field that begins with one of these as a formula (OWASP, CSV Injection). A guarded field
 * begins with an apostrophe. Fields with outer spaces are guarded too, so that these outlive reading.
 */
const RISKY = /^'*[\s=+\-@＝＋－＠]|\s$/u;

export function guarded(text: string): string {
  return RISKY.test(text) && !isPlainNumber(text) ? `'${text}` : text;
}

export function unguarded(field: string): string {
  const text = field.slice(1);
  return field.startsWith("'") && RISKY.test(text) ? text : field.trim();
}

function isPlainNumber(text: string): boolean {
  return text.trim() === text && isBareNumber(text);
}

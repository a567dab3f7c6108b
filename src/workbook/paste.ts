/** What was copied from a spreadsheet, and where it goes in a table. Nothing is changed here: the person looks first. */
import type { Column, Row, Table } from './document.ts';
import type { EntryChange } from './edit-kinds.ts';
import {
  commasFitAsDecimals,
  isBareNumber,
  readRecords,
  type Allowed,
  type ReadRow,
  type WrittenRecord,
} from './file/entries.ts';
import { headAt, headIn, type Head } from './file/head.ts';
import type { CsvProblem, Heading } from './file/heading.ts';
import { newRowIds } from './identity.ts';
import { grouped, LIMITS } from './limits.ts';

/**
 * Rows of fields from `text/plain`: tabs between fields, a field with tabs, line ends or quotes in quotes. Exactly
 * one line end at the end is no row. A quote that does not close is a character like any other: 12" is a length.
 */
export function readPaste(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let at = 0;
  const body = text.replace(/\r\n?/g, '\n').replace(/\n$/, '');
  for (;;) {
    const quoted = quotedField(body, at);
    const end = quoted?.end ?? endOfField(body, at);
    row.push(quoted?.field ?? body.slice(at, end));
    if (body.charAt(end) !== '\t') {
      rows.push(row);
      row = [];
      if (end >= body.length) return rows;
    }
    at = end + 1;
  }
}

function endOfField(text: string, at: number): number {
  const tab = text.indexOf('\t', at);
  const line = text.indexOf('\n', at);
  return Math.min(tab < 0 ? text.length : tab, line < 0 ? text.length : line);
}

function quotedField(text: string, at: number): { readonly field: string; readonly end: number } | undefined {
  if (text.charAt(at) !== '"') return undefined;
  let field = '';
  let from = at + 1;
  for (;;) {
    const quote = text.indexOf('"', from);
    if (quote < 0) return undefined;
    field += text.slice(from, quote);
    const next = text.charAt(quote + 1);
    if (next === '"') {
      field += '"';
      from = quote + 2;
    } else {
      return next === '' || next === '\t' || next === '\n' ? { field, end: quote + 1 } : undefined;
    }
  }
}

export interface PasteTarget {
  readonly table: Table;
  /** Rows and columns as they are shown now, which need not be all. */
  readonly rows: readonly Row[];
  readonly columns: readonly Column[];
  /** Place of the first field among them. */
  readonly row: number;
  readonly column: number;
  /** What every new row holds besides, column id to text: a table that shows only rows of one test gives it. */
  readonly preset?: Readonly<Record<string, string>>;
  /** The commas in numbers are decimal points, where every number of the block can be read so. */
  readonly decimalComma?: boolean;
  /** Where commas are decimal points, 1.234 may be twelve hundred and thirty-four: the person chooses. */
  readonly pointsMayGroup?: boolean;
  /** What may be chosen in a column whose list stands in another table. */
  readonly allowed?: Allowed;
}

export interface Pasted {
  readonly entries: readonly EntryChange[];
  /** Entries in calculated columns: to be made only when the person says so. */
  readonly overrides: readonly EntryChange[];
  /** To be put behind the last row. */
  readonly added: readonly Row[];
  readonly problems: readonly CsvProblem[];
  /** Where the first rows named columns; then the fields went to those and not to the place. */
  readonly headings: readonly Heading[] | undefined;
  /** Rows of the block before the first of values. */
  readonly head: number;
  /** True: numbers of the block hold commas, and all of them can be decimal ones. */
  readonly commasFit: boolean;
}

export function pasteInto(target: PasteTarget, grid: readonly (readonly string[])[]): Pasted {
  const all = grid.map((fields, index) => ({
    line: index + 1,
    fields: fields.map((field) => field.trim()),
  }));
  const named = headOf(target.table, all);
  const headings = named?.headings ?? columnsFrom(target, grid);
  const problems: CsvProblem[] = [...(named?.problems ?? [])];
  const head = named?.height ?? 0;
  const records = all.slice(head);
  problems.push(...leftOut(headings, records));
  const commasFit = commasFitAsDecimals(headings, records, target.pointsMayGroup);
  const decimalComma = commasFit && target.decimalComma === true;
  const read = readRecords(headings, records, {
    decimalComma,
    commasAsked: false,
    allowed: target.allowed,
  });
  problems.push(...read.problems);
  const free = LIMITS.rows - target.table.rows.length;
  const kept = withoutEmpty(target, headings, read.rows, problems);
  const placed = place(target, kept, free);
  if (placed.over > 0) {
    problems.push({
      line: grid.length - placed.over + 1,
      column: '',
      found: `${grouped(placed.over)} rows too many`,
      expected: `at most ${grouped(LIMITS.rows)} rows in a table`,
      suggestion: 'They were left out.',
    });
  }
  return { ...placed.changes, problems, headings: named?.headings, head, commasFit };
}

/** The first row is one of headings when at least half of it names columns and none of it is a number. */
function headOf(table: Table, rows: readonly WrittenRecord[]): Head | undefined {
  const [first, second] = rows;
  if (!first || !second || first.fields.some(isBareNumber)) return undefined;
  const at = headIn(rows, table, (named, { length }) => named > 0 && named * 2 >= length);
  return at === undefined ? undefined : headAt(rows, at, table);
}

function columnsFrom(target: PasteTarget, grid: readonly (readonly string[])[]): Heading[] {
  const width = Math.max(0, ...grid.map((fields) => fields.length));
  return Array.from({ length: width }, (_, index): Heading => {
    const column = target.columns[target.column + index];
    if (!column) return { text: '', role: 'unknown' };
    return { text: column.name, role: column.formula === undefined ? 'value' : 'override', column };
  });
}

/** Fields with something in them that have no column to go to. */
function leftOut(
  headings: readonly Heading[],
  records: readonly { readonly line: number; readonly fields: readonly string[] }[],
): CsvProblem[] {
  for (const { line, fields } of records) {
    const at = fields.findIndex((field, index) => {
      const role = headings[index]?.role ?? 'unknown';
      return field !== '' && (role === 'unknown' || role === 'computed' || role === 'note');
    });
    if (at < 0) continue;
    const heading = headings[at];
    const computed = heading?.role === 'computed';
    return [
      {
        line,
        column: heading?.column?.name ?? heading?.text ?? '',
        found: `“${fields[at]?.slice(0, 60) ?? ''}” ${computed ? 'for a calculated column' : 'without a column to go to'}`,
        expected: computed
          ? 'typed columns only'
          : 'as many columns as the table has from here, or headings that name them',
        suggestion: 'It was left out, and whatever stands below it.',
      },
    ];
  }
  return [];
}

/** A new row of calculated values alone would be an empty one. */
function withoutEmpty(
  { row, rows }: PasteTarget,
  headings: readonly Heading[],
  read: readonly ReadRow[],
  problems: CsvProblem[],
): readonly ReadRow[] {
  const old = Math.max(0, rows.length - row);
  const beyond = read[old];
  if (!beyond || headings.some(({ role }) => role === 'value' || role === 'plus-minus')) return read;
  if (headings.some(({ role }) => role === 'override'))
    problems.push({
      line: beyond.line,
      column: '',
      found: 'calculated columns only',
      expected: 'a value that is typed, for a new row',
      suggestion: 'These columns are calculated: no row is added.',
    });
  return read.slice(0, old);
}

interface Placed {
  readonly changes: Pick<Pasted, 'entries' | 'overrides' | 'added'>;
  readonly over: number;
}

function place(target: PasteTarget, read: readonly ReadRow[], free: number): Placed {
  const calculated = new Set(
    target.table.columns.flatMap(({ id, formula }) => (formula === undefined ? [] : [id])),
  );
  const entries: EntryChange[] = [];
  const overrides: EntryChange[] = [];
  const beyond = Math.max(0, target.row + read.length - target.rows.length);
  const count = Math.min(beyond, Math.max(0, free));
  const ids = newRowIds(target.table, count);
  const added: Row[] = [];
  for (const [index, { texts }] of read.entries()) {
    const old = target.rows[target.row + index];
    const id = old?.id ?? ids[added.length];
    if (id === undefined) break;
    const typed = [...texts].filter(([column]) => !calculated.has(column));
    for (const [column, text] of texts) {
      if (calculated.has(column)) {
        if (old || text !== '') overrides.push(change(id, column, text));
      } else if (old) entries.push(change(id, column, text));
    }
    if (!old) {
      const filled = typed.filter(([, text]) => text !== '');
      added.push({ id, entries: { ...target.preset, ...Object.fromEntries(filled) } });
    }
  }
  return { changes: { entries, overrides, added }, over: beyond - count };
}

function change(row: string, column: string, text: string): EntryChange {
  return text === '' ? { row, column } : { row, column, text };
}

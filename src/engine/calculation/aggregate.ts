/** Sums, mean, least, greatest and count of a column, from the partial results that the column keeps. */
import type { Fault } from '../formula/library.ts';
import { OP } from '../formula/tape.ts';
import type { AggregateName } from '../formula/typed.ts';
import type { AggregateData, ColumnData, GraphNode } from './node.ts';
import { greatestOf, leastOf, Parts, total } from './parts.ts';
import { BLANK, FAULT, VALUE, WAITING, type Cause, type SlotState } from './storage.ts';

/** Rows of column arguments side by side. */
export interface Gathered {
  readonly lists: number[][];
  readonly rows: number[];
  /** The first row that no condition leaves out and that is blank all the same. */
  readonly blank: { readonly row: number; readonly cause: Cause | undefined } | undefined;
}

export interface Combined {
  readonly value: number;
  readonly state: SlotState;
  readonly cause?: Cause;
}

/** No row at all, or a condition chose none. */
export const NO_ROW: Cause = { reason: 'no row for it yet' };

/** Brings an aggregate of a column up to date with whatever rows changed; `code` holds the column's formula. */
export function combine({ name, offset }: AggregateData, column: GraphNode, code: Int32Array): Combined {
  const field = column.data?.fields[offset];
  if (!field) return { value: NaN, state: BLANK, cause: NO_ROW };
  field.parts ??= new Parts(field.values.length);
  field.parts.find(name, field);
  const { sums, least, greatest, tally } = field.parts;
  const { count, faulty } = tally;
  if (faulty >= 0) return faultyRow(column, faulty);
  if (name === 'count') return { value: count, state: VALUE };
  if (name === 'sum') return { value: total(sums, 0, sums.length), state: VALUE };
  if (count === 0 || name === 'full_sum') {
    const { hidden, text, key, formula, table = '', data } = column;
    const filtered = hidden && chooses(code, column.codeStart, column.codeEnd);
    const blank = count === data?.rows ? -1 : firstBlank(data, field.states, filtered);
    if (blank >= 0 || count === 0) {
      const over = hidden
        ? { table, column: columnIn(text), filtered }
        : { table, column: key, typed: !formula, filtered: false };
      const cause = whyBlank(name, over, blank, data?.causes.get(blank));
      return { value: NaN, state: BLANK, cause };
    }
    return { value: total(sums, 0, sums.length), state: VALUE };
  }
  if (name === 'mean') return { value: total(sums, 0, sums.length) / count, state: VALUE };
  const chunks = sums.length;
  const value = name === 'min' ? leastOf(least, 0, chunks) : greatestOf(greatest, 0, chunks);
  return { value, state: VALUE };
}

/** The first row that is blank, and not left out by a condition; -1 if there is none. */
function firstBlank(data: ColumnData | undefined, states: Uint8Array, filtered: boolean): number {
  if (!filtered) return states.indexOf(BLANK);
  let first = -1;
  for (const row of data?.causes.keys() ?? [])
    if (states[row] === BLANK && (first < 0 || row < first)) first = row;
  return first;
}

/** Whether a condition chooses among the rows of a column argument. */
export function chooses(code: Int32Array, start: number, end: number): boolean {
  for (let pc = start; pc < end; pc += 4) if (code[pc] === OP.where) return true;
  return false;
}

/** What an aggregate goes over. */
interface Over {
  readonly table: string;
  /** Of the column, where it is one as it stands. */
  readonly column: string | undefined;
  /** Its entries are typed; undefined where nobody looked. */
  readonly typed?: boolean;
  readonly filtered: boolean;
}

/** Why nothing comes of it: `row` is the first that is blank, -1 if there is none. */
export function whyBlank(name: AggregateName, over: Over, row: number, cause: Cause | undefined): Cause {
  if (row < 0) return NO_ROW;
  const { table, column, filtered } = over;
  const type = over.typed ? ': type it there' : '';
  if (name === 'full_sum') {
    const blank =
      column === undefined
        ? `row ${row + 1} of ${table} gives nothing for it`
        : `${column} has nothing in row ${row + 1}`;
    return { reason: cause?.reason ?? `${blank} yet${type}` };
  }
  const rows = filtered ? 'every row for it' : 'every row';
  return { reason: `${rows}${column === undefined ? '' : ` of ${column}`} is blank yet${type}` };
}

/** The column that a hidden one takes its rows from, where it is one as it stands. */
function columnIn(text: string): string | undefined {
  return /^\s*(?:where\s*\(\s*)?(\w+\.\w+)\s*(?:,|$)/u.exec(text)?.[1];
}

/** Of rows that are values; `undefined`: what none of them gives. */
export function overRows(name: AggregateName, rows: readonly number[]): number | undefined {
  if (name === 'count') return rows.length;
  if (rows.length === 0) return name === 'sum' ? 0 : undefined;
  if (name === 'min') return rows.reduce((a, b) => Math.min(a, b));
  if (name === 'max') return rows.reduce((a, b) => Math.max(a, b));
  const sum = rows.reduce((a, b) => a + b, 0);
  return name === 'mean' ? sum / rows.length : sum;
}

/** A faulty row makes its readers wait for the root; a mistake in the argument itself is the reader's own. */
function faultyRow(column: GraphNode, row: number): Combined {
  const cause = column.data?.causes.get(row);
  if (column.hidden && cause?.fault)
    return { value: NaN, state: FAULT, cause: { fault: inRow(cause.fault, row, column.table ?? '') } };
  const root = cause?.waitingFor ?? `${column.key}, row ${row + 1}`;
  return { value: NaN, state: WAITING, cause: { waitingFor: root } };
}

export function inRow(why: Fault, row: number, table: string): Fault {
  return { ...why, fault: `${why.fault} (row ${row + 1} of ${table})` };
}

/** The rows whose values make up a result, and how much of each goes into it. */
export function contributing(
  aggregate: AggregateData,
  column: ColumnData,
  result: number,
): { readonly rows: readonly number[]; readonly factor: number } {
  const { name, offset } = aggregate;
  const field = column.fields[offset];
  if (!field || name === 'count') return { rows: [], factor: 0 };
  const rows: number[] = [];
  for (let row = 0; row < column.rows; row++) if (field.states[row] === VALUE) rows.push(row);
  if (name === 'min' || name === 'max')
    return { rows: rows.filter((row) => field.values[row] === result).slice(0, 1), factor: 1 };
  return { rows, factor: name === 'mean' ? 1 / rows.length : 1 };
}

/** What is blank, and where to type; a formula that gives a blank has its own reason. */
export function blankReason(column: GraphNode, row: number): string {
  const why = column.data?.causes.get(row)?.reason;
  if (why !== undefined) return why;
  return column.formula
    ? `${column.key} has nothing in row ${row + 1}`
    : `${column.key} is empty in row ${row + 1}: type it there`;
}

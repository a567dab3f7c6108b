/** Sum, mean, least, greatest and count of a column, from the partial results that the column keeps. */
import type { Fault } from '../formula/library.ts';
import type { AggregateData, ColumnData, GraphNode } from './node.ts';
import { greatestOf, leastOf, Parts, total } from './parts.ts';
import { BLANK, FAULT, VALUE, WAITING, type Cause, type SlotState } from './storage.ts';

export interface Combined {
  readonly value: number;
  readonly state: SlotState;
  readonly cause?: Cause;
}

const EMPTY: Cause = { reason: 'no row for it yet' };

/** Brings an aggregate of a column up to date with whatever rows changed. */
export function combine({ name, offset }: AggregateData, column: GraphNode): Combined {
  const field = column.data?.fields[offset];
  if (!field) return { value: NaN, state: BLANK, cause: EMPTY };
  field.parts ??= new Parts(field.values.length);
  field.parts.find(name, field);
  const { sums, least, greatest, tally } = field.parts;
  const { count, faulty } = tally;
  if (faulty >= 0) return faultyRow(column, faulty);
  if (name === 'count') return { value: count, state: VALUE };
  if (name === 'sum') return { value: total(sums, 0, sums.length), state: VALUE };
  if (count === 0) return { value: NaN, state: BLANK, cause: EMPTY };
  if (name === 'mean') return { value: total(sums, 0, sums.length) / count, state: VALUE };
  const chunks = sums.length;
  const value = name === 'min' ? leastOf(least, 0, chunks) : greatestOf(greatest, 0, chunks);
  return { value, state: VALUE };
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

/** Turns slots and their states into what a cell shows. */
import type { Span } from '../formula/diagnostic.ts';
import { fault, type Fault } from '../formula/library.ts';
import type { Type } from '../formula/type.ts';
import { plainWords } from '../quantity/index.ts';
import type { Book } from './book.ts';
import type { GraphNode, PlusMinusMeaning } from './node.ts';
import type { Spread } from './sources.ts';
import type { CellState } from './state.ts';
import type { Doubt } from './switches.ts';
import { BLANK, FAULT, VALUE, type Cause } from './storage.ts';

export type FieldName = string;

/** Divisors from a typed half width to a standard uncertainty (JCGM 100:2008, 4.3.4 and 4.3.7). */
export const DIVISOR: Readonly<Record<PlusMinusMeaning, number>> = {
  standard: 1,
  '95': 1.959963984540054,
  limits: Math.sqrt(3),
};

/** Whoever knows spreads (calculation/uncertainty.ts). */
export interface Spreads {
  /** Standard uncertainty; undefined for what is exact. */
  plusMinus(node: GraphNode, offset: number): number | undefined;
  rowPlusMinus(node: GraphNode, row: number, offset: number): number | undefined;
  ofCell(node: GraphNode, offset: number): Spread;
  ofRow(node: GraphNode, row: number, offset: number): Spread;
  doubt(node: GraphNode, row: number, offset: number): Doubt | undefined;
}

export function readCell(
  book: Book,
  node: GraphNode,
  field: FieldName | undefined,
  spreads: Spreads,
): CellState {
  const wrong = statusOf(node);
  if (wrong) return wrong;
  const place = fieldPlace(node, field);
  if ('state' in place) return place;
  const { type, offset } = place;
  const { values, states, causes } = book.storage;
  const slot = node.slot + offset;
  if (type.kind === 'record') return record(node, slot, book);
  const kind = states[slot]!;
  const typed = !node.formula;
  if (kind !== VALUE) return state(book, type, kind, NaN, causes.get(slot), typed);
  const plusMinus = spreads.plusMinus(node, offset);
  return state(
    book,
    type,
    VALUE,
    values[slot]!,
    undefined,
    typed,
    plusMinus,
    spreads.doubt(node, -1, offset),
  );
}

export function readRow(
  book: Book,
  node: GraphNode,
  row: number,
  field: FieldName | undefined,
  spreads: Spreads,
): CellState {
  const wrong = statusOf(node);
  if (wrong) return wrong;
  const place = fieldPlace(node, field);
  if ('state' in place) return place;
  const data = node.data;
  const values = data?.fields[place.offset];
  if (!data || !values || row < 0 || row >= data.rows) return { state: 'blank', type: place.type };
  const { type, offset } = place;
  const cause = data.causes.get(row);
  if (type.kind === 'record') {
    const states = data.fields.map((f) => f.states[row]!);
    if (states.some((s) => s === VALUE)) return { state: 'value', type, value: wordsFor(type), typed: false };
    return state(book, type, states[0] ?? BLANK, NaN, cause, false);
  }
  const kind = values.states[row]!;
  const overtyped = data.overrides.has(row);
  const typed = !node.formula || overtyped;
  if (kind !== VALUE) return state(book, type, kind, NaN, cause, typed);
  const plusMinus = spreads.rowPlusMinus(node, row, offset);
  const doubt = overtyped ? undefined : spreads.doubt(node, row, offset);
  return state(book, type, VALUE, values.values[row]!, cause, typed, plusMinus, doubt);
}

function statusOf(node: GraphNode): CellState | undefined {
  if (node.kind === 'unknown')
    return {
      state: 'invalid',
      diagnostic: {
        code: 'unknown-name',
        message: `nothing is named ${node.key}`,
        span: { start: 0, end: 0 },
      },
    };
  if (!node.status) return undefined;
  return 'invalid' in node.status
    ? { state: 'invalid', diagnostic: node.status.invalid }
    : { state: 'waiting', for: node.status.waitingFor };
}

function fieldPlace(
  node: GraphNode,
  field: FieldName | undefined,
): { type: Type; offset: number } | CellState {
  const type = node.type;
  if (type === undefined) return { state: 'waiting', for: node.key };
  if (field === undefined) return { type, offset: 0 };
  let offset = 0;
  if (type.kind === 'record')
    for (const [name, fieldType] of type.fields) {
      if (name === field) return { type: fieldType, offset };
      offset++;
    }
  return {
    state: 'invalid',
    diagnostic: {
      code: 'unknown-field',
      message: `${node.key} has no field ${field}`,
      span: { start: 0, end: 0 },
    },
  };
}

function record(node: GraphNode, slot: number, book: Book): CellState {
  const { states, causes } = book.storage;
  for (let k = 0; k < node.width; k++)
    if (states[slot + k] === VALUE)
      return { state: 'value', type: node.type!, value: wordsFor(node.type!), typed: false };
  return state(book, node.type!, states[slot]!, NaN, causes.get(slot), false);
}

function wordsFor(type: Type): string {
  return type.kind === 'record' ? `a record of ${type.fields.size} values` : '';
}

function state(
  book: Book,
  type: Type,
  kind: number,
  value: number,
  cause: Cause | undefined,
  typed: boolean,
  plusMinus?: number,
  doubt?: Doubt,
): CellState {
  switch (kind) {
    case VALUE: {
      if (!Number.isFinite(value))
        return { state: 'fault', fault: 'the result is too large to hold', suggestion: 'check the units' };
      if (type.kind !== 'text')
        return shown(type, type.kind === 'logical' ? value === 1 : value, typed, plusMinus, doubt);
      const said = shown(type, book.storage.textOf(value), typed, plusMinus, doubt);
      const numerals = typed ? undefined : book.storage.numeralsOf(value);
      return numerals ? { ...said, numerals } : said;
    }
    case BLANK:
      return { state: 'blank', type, ...(cause?.reason === undefined ? {} : { reason: cause.reason }) };
    case FAULT: {
      return faulty(cause?.fault ?? fault('no value'), cause?.span);
    }
    default:
      return { state: 'waiting', for: cause?.waitingFor ?? 'another cell' };
  }
}

function faulty(why: Fault, span: Span | undefined): CellState {
  const message = plainWords(why.fault);
  const way = why.suggestion === undefined ? undefined : plainWords(why.suggestion);
  const numerals = {
    ...(message.numerals && { fault: message.numerals }),
    ...(way?.numerals && { suggestion: way.numerals }),
  };
  return {
    state: 'fault',
    fault: message.text,
    ...(way && { suggestion: way.text }),
    ...(span && { span }),
    ...((message.numerals ?? way?.numerals) && { numerals }),
  };
}

/** Written out, since thousands are made after an edit: what is put together by spreading takes three times as long. */
function shown(
  type: Type,
  value: number | string | boolean,
  typed: boolean,
  plusMinus: number | undefined,
  doubt: Doubt | undefined,
): Extract<CellState, { state: 'value' }> {
  if (plusMinus === undefined)
    return doubt === undefined
      ? { state: 'value', type, value, typed }
      : { state: 'value', type, value, typed, doubt };
  return doubt === undefined
    ? { state: 'value', type, value, typed, plusMinus }
    : { state: 'value', type, value, typed, plusMinus, doubt };
}

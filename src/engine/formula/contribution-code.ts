/**
 * Machine code for rows of contributions, one for every formula: that of each source to its standard uncertainty.
 * Formulas stand one after the other as records of integers: shape, address of the next record, address of the row,
 * number of terms, then for each term the address of its row, and for each operand of the shape the addresses of its
 * value and of the slope it adds to. The slopes are found (slope-code.ts), and then the row is the sum of the rows
 * of the terms, each times its slope, two sources at a time.
 */
import { FOREIGN, instanceOf } from './operation-code.ts';
import type { Shapes } from './shape.ts';
import { slopeBody } from './slope-code.ts';
import { EMPTY, F64, f64, FILL, I32, i32, unsigned, V, V128, W } from './wasm-module.ts';
import type { FunctionCode } from './wasm-module.ts';

/** In a record: where each stands, in bytes, and how long its head is. */
const SHAPE = 0;
const NEXT = 4;
const ROW = 8;
const TERMS = 12;
const RECORD_HEAD = 16;

/** A formula of more terms is for the general way. */
export const MOST_TERMS = 64;
/** Slopes by what is exact go here, and nobody reads them. */
export const UNREAD = 0;
/** Slopes of the formula at hand, in the order of its terms. */
export const SLOPES = 16;
/** Those that are not 0, and the addresses of their rows. */
const KEPT = SLOPES + 8 * MOST_TERMS;
const ROWS = KEPT + 8 * MOST_TERMS;
/** Memory from here on is for values, rows and records. */
export const FREE = ROWS + 4 * MOST_TERMS;

/** Types of functions, beside that of two doubles. */
const OF_ONE_ADDRESS = 0;
const SUM = 2;
const RUN = 3;

export interface ContributionCode {
  readonly memory: ArrayBuffer;
  /** Works out the records from one address up to another, over rows of so many bytes. */
  readonly run: (from: number, to: number, width: number) => void;
}

/**
 * With so many bytes of memory. What cancels but for `rounding` times the sizes of its terms becomes 0. Undefined
 * where a page may not make code, or there is no room for it.
 */
export function contributionCode(
  shapes: Shapes,
  bytes: number,
  rounding: number,
): ContributionCode | undefined {
  const functions = Array.from({ length: shapes.count }, (_, shape): FunctionCode => ({
    type: OF_ONE_ADDRESS,
    ...slopeBody(shapes.steps(shape)),
  }));
  const first = FOREIGN.size;
  const sum = first + functions.length;
  const parts = {
    types: [
      [[I32], []],
      [[F64, F64], [F64]],
      [[I32, I32], []],
      [[I32, I32, I32], []],
    ],
    functions: [...functions, summing(rounding), runner(sum)],
    exported: sum + 1,
    table: functions.map((_, shape) => first + shape),
  } as const;
  return instanceOf(parts, bytes);
}

/** Words of a record that starts at this address. */
export function recordOf(
  shape: number,
  start: number,
  row: number,
  terms: readonly number[],
  operands: readonly { readonly value: number; readonly slope: number }[],
): number[] {
  const next = start + RECORD_HEAD + 4 * (terms.length + 2 * operands.length);
  return [
    ...[shape, next, row, terms.length, ...terms],
    ...operands.map(({ value }) => value),
    ...operands.map(({ slope }) => slope),
  ];
}

type Bytes = readonly number[];
const get = (local: number): Bytes => [W.get, local];
const set = (local: number): Bytes => [W.set, local];
const tee = (local: number): Bytes => [W.tee, local];
/** From the address on the stack, so many bytes further on. */
const word = (offset: number): Bytes => [W.loadI32, 2, ...unsigned(offset)];
const double = (offset: number): Bytes => [W.loadF64, 3, ...unsigned(offset)];
const splat = (offset: number): Bytes => [...V.loadSplat, 3, ...unsigned(offset)];
const pair: Bytes = [...V.load, 3, 0];
const plus = (bytes: number): Bytes => [...i32(bytes), W.addI32];
/** Times a power of two. */
const shifted = (by: number): Bytes => [...i32(by), W.shlI32];
const zeros: Bytes = [...f64(0), ...V.splat];
/** Goes around while `inside` leaves something other than 0 on the stack. */
const again = (inside: Bytes): Bytes => [W.loop, EMPTY, ...inside, W.brIf, 0, W.end];
/** Goes around up to an address, in steps of so many bytes. */
const upTo = (last: number, local: number, step: number, inside: Bytes): Bytes => [
  ...[W.block, EMPTY, W.loop, EMPTY, ...get(local), ...get(last), W.geI32, W.brIf, 1],
  ...[...inside, ...get(local), ...plus(step), ...set(local), W.br, 0, W.end, W.end],
];

/** From record to record: slopes are found, and then the row. */
function runner(sum: number): FunctionCode {
  const [at, end, width, terms] = [0, 1, 2, 3];
  const cleared = [...i32(SLOPES), ...i32(0), ...get(terms), ...shifted(3), ...FILL];
  const operands = [...get(at), ...plus(RECORD_HEAD), ...get(terms), ...shifted(2), W.addI32];
  return {
    type: RUN,
    locals: [[1, I32]],
    body: [
      ...again([
        ...[...get(at), ...word(TERMS), ...set(terms), ...cleared, ...operands],
        ...[...get(at), ...word(SHAPE), W.callIndirect, OF_ONE_ADDRESS, 0],
        ...[...get(at), ...get(width), W.call, ...unsigned(sum)],
        ...[...get(at), ...word(NEXT), ...tee(at), ...get(end), W.ltI32],
      ]),
    ],
  };
}

/** The row of one record, of terms whose slope is not 0. */
function summing(rounding: number): FunctionCode {
  const [at, width, term, last, slope, n, place, a, b, to] = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9];
  const [sum, size, part, s, t] = [10, 11, 12, 13, 14];
  /** What the terms come to at one place, and the sum of their sizes, into the row; true: there are more places. */
  const stored = [
    ...[...get(to), ...get(place), W.addI32, ...get(sum), ...get(sum), ...V.abs],
    ...[
      ...get(size),
      ...f64(rounding),
      ...V.splat,
      ...V.mul,
      ...V.lessOrEqual,
      ...V.andNot,
      ...V.store,
      3,
      0,
    ],
    ...[...get(place), ...plus(16), ...tee(place), ...get(width), W.ltI32],
  ];
  const counting = upTo(last, term, 4, [
    ...[...get(slope), ...double(0), ...f64(0), W.ne, W.if, EMPTY],
    ...[...get(n), ...shifted(3), ...get(slope), ...double(0), W.storeF64, 3, ...unsigned(KEPT)],
    ...[...get(n), ...shifted(2), ...get(term), ...word(0), W.storeI32, 2, ...unsigned(ROWS)],
    ...[...get(n), ...plus(1), ...set(n), W.end],
    ...[...get(slope), ...plus(8), ...set(slope)],
  ]);
  const times = (row: number, by: number): Bytes => [
    ...[...get(row), ...get(place), W.addI32, ...pair, ...get(by), ...V.mul],
  ];
  const ofTwo = again([
    ...[...times(a, s), ...tee(part), ...times(b, t), ...tee(size), ...V.add, ...set(sum)],
    ...[...get(part), ...V.abs, ...get(size), ...V.abs, ...V.add, ...set(size), ...stored],
  ]);
  const ofMany = again([
    ...[...zeros, ...tee(sum), ...set(size), ...i32(0), ...set(term)],
    ...upTo(last, term, 4, [
      ...[...get(term), ...shifted(1), ...splat(KEPT)],
      ...[...get(term), ...word(ROWS), ...get(place), W.addI32, ...pair, ...V.mul, ...tee(part)],
      ...[...get(sum), ...V.add, ...set(sum), ...get(part), ...V.abs, ...get(size), ...V.add, ...set(size)],
    ]),
    ...stored,
  ]);
  return {
    type: SUM,
    locals: [
      [8, I32],
      [5, V128],
    ],
    body: [
      ...[
        ...get(at),
        ...plus(RECORD_HEAD),
        ...tee(term),
        ...get(at),
        ...word(TERMS),
        ...shifted(2),
        W.addI32,
      ],
      ...[...set(last), ...i32(SLOPES), ...set(slope), ...counting, ...get(at), ...word(ROW), ...set(to)],
      // Two, as a rule.
      ...[...get(n), ...i32(2), W.eqI32, W.if, EMPTY],
      ...[...i32(KEPT), ...splat(0), ...set(s), ...i32(KEPT), ...splat(8), ...set(t)],
      ...[...i32(ROWS), ...word(0), ...set(a), ...i32(ROWS), ...word(4), ...set(b), ...ofTwo],
      ...[W.else, ...get(n), ...shifted(2), ...set(last), ...ofMany, W.end],
    ],
  };
}

/**
 * Partial results for every 512 rows of a column, which its aggregates share: an edit of one row touches one chunk,
 * and the mean is the sum over the count. The chunk size is fixed: another would change the last digit of sums.
 */
import type { AggregateName } from '../formula/typed.ts';
import { CHUNK } from './kernel.ts';
import { BLANK, VALUE } from './storage.ts';

/** What is known of a chunk. */
const TOTAL = 1;
const LEAST = 2;
const GREATEST = 4;
const EXTREME: Readonly<Record<AggregateName, number>> = {
  sum: 0,
  full_sum: 0,
  mean: 0,
  count: 0,
  min: LEAST,
  max: GREATEST,
};

/** The arrays of a field of a column. */
export interface Rows {
  readonly values: Float64Array;
  readonly states: Uint8Array;
}

/** What whole chunks of a column came to: by chunk, from one up to another. */
export interface ChunkResults {
  readonly from: number;
  readonly to: number;
  readonly sums: Float64Array;
  readonly least: Float64Array;
  readonly greatest: Float64Array;
  /** Every row of them is a finite number. */
  readonly isSound: boolean;
}

export interface Tally {
  readonly count: number;
  readonly faulty: number;
}

/** The partial results of one field of a column. */
export class Parts {
  readonly #rows: number;
  readonly #known: Uint8Array;
  /** What is known of every chunk. */
  #everywhere = 0;
  #tally: Tally | undefined;
  readonly sums: Float64Array;
  readonly least: Float64Array;
  readonly greatest: Float64Array;
  /** Rows that are values. */
  readonly counts: Int32Array;
  /** First faulty row, or -1. */
  readonly faulty: Int32Array;

  constructor(rows: number) {
    const chunks = Math.ceil(rows / CHUNK);
    this.#rows = rows;
    this.#known = new Uint8Array(chunks);
    this.sums = new Float64Array(chunks);
    this.least = new Float64Array(chunks);
    this.greatest = new Float64Array(chunks);
    this.counts = new Int32Array(chunks);
    this.faulty = new Int32Array(chunks);
  }

  /** Rows `from` up to `to` are no longer what they were. */
  forget(from: number, to: number): void {
    this.#known.fill(0, Math.floor(from / CHUNK), Math.ceil(to / CHUNK));
    this.#reopen();
  }

  /** The sum of a whole chunk, all of it values, as somebody else happened to find it. */
  learn(chunk: number, sum: number): void {
    this.#known[chunk] = TOTAL;
    this.sums[chunk] = sum;
    this.counts[chunk] = Math.min(CHUNK, this.#rows - chunk * CHUNK);
    this.faulty[chunk] = -1;
    this.#reopen();
  }

  /** Everything about chunks `from` up to `to` of 512 values each. */
  learnAll(from: number, to: number, { sums, least, greatest }: ChunkResults): void {
    this.#known.fill(TOTAL | LEAST | GREATEST, from, to);
    this.sums.set(sums.subarray(from, to), from);
    this.least.set(least.subarray(from, to), from);
    this.greatest.set(greatest.subarray(from, to), from);
    this.counts.fill(CHUNK, from, to);
    this.faulty.fill(-1, from, to);
    this.#reopen();
  }

  /** What was said of all chunks together holds no longer. */
  #reopen(): void {
    this.#everywhere = 0;
    this.#tally = undefined;
  }

  /** How many rows are values, and the first faulty one, or -1; of what was found. */
  get tally(): Tally {
    this.#tally ??= this.#counted();
    return this.#tally;
  }

  #counted(): Tally {
    let count = 0;
    for (let chunk = 0; chunk < this.counts.length; chunk++) {
      if (this.faulty[chunk]! >= 0) return { count, faulty: this.faulty[chunk]! };
      count += this.counts[chunk]!;
    }
    return { count, faulty: -1 };
  }

  /** Finds what an aggregate needs and is not known. */
  find(name: AggregateName, field: Rows): void {
    const known = this.#known;
    const wanted = TOTAL | EXTREME[name];
    if ((wanted & ~this.#everywhere) === 0) return;
    for (let chunk = 0; chunk < known.length; chunk++) {
      const missing = wanted & ~known[chunk]!;
      if (missing === 0) continue;
      const start = chunk * CHUNK;
      const end = Math.min(this.#rows, start + CHUNK);
      if (missing & TOTAL) this.#total(chunk, field, start, end);
      const sound = this.counts[chunk] === end - start;
      if (missing & LEAST)
        this.least[chunk] = sound ? leastOf(field.values, start, end) : extreme(Math.min, field, start, end);
      if (missing & GREATEST)
        this.greatest[chunk] = sound
          ? greatestOf(field.values, start, end)
          : extreme(Math.max, field, start, end);
      known[chunk]! |= wanted;
    }
    this.#everywhere |= wanted;
  }

  #total(chunk: number, { values, states }: Rows, start: number, end: number): void {
    let sum = total(values, start, end);
    let count = end - start;
    let faulty = -1;
    if (sum !== sum) {
      // Some row is no value: the same again, looking at each.
      sum = 0;
      for (let i = start; i < end; i++) {
        const state = states[i];
        if (state === VALUE) {
          sum += values[i]!;
          continue;
        }
        count--;
        if (state !== BLANK && faulty < 0) faulty = i;
      }
    }
    this.sums[chunk] = sum;
    this.counts[chunk] = count;
    this.faulty[chunk] = faulty;
  }
}

/**
 * Not a number where some row is none. Four sums side by side: none waits for the one before it, which takes a third
 * of the time (tests/bench), and their order is fixed by the place of a row alone.
 */
export function total(values: Float64Array, from: number, to: number): number {
  let a = 0;
  let b = 0;
  let c = 0;
  let d = 0;
  let i = from;
  for (const last = to - 3; i < last; i += 4) {
    a += values[i]!;
    b += values[i + 1]!;
    c += values[i + 2]!;
    d += values[i + 3]!;
  }
  for (; i < to; i++) a += values[i]!;
  return a + b + (c + d);
}

export function leastOf(values: Float64Array, from: number, to: number): number {
  let a = Infinity;
  let b = Infinity;
  let i = from;
  for (const last = to - 1; i < last; i += 2) {
    const v = values[i]!;
    const w = values[i + 1]!;
    if (v < a) a = v;
    if (w < b) b = w;
  }
  return Math.min(a, b, i < to ? values[i]! : Infinity);
}

export function greatestOf(values: Float64Array, from: number, to: number): number {
  let a = -Infinity;
  let b = -Infinity;
  let i = from;
  for (const last = to - 1; i < last; i += 2) {
    const v = values[i]!;
    const w = values[i + 1]!;
    if (v > a) a = v;
    if (w > b) b = w;
  }
  return Math.max(a, b, i < to ? values[i]! : -Infinity);
}

function extreme(
  choose: (a: number, b: number) => number,
  { values, states }: Rows,
  from: number,
  to: number,
): number {
  let result = choose(Infinity, -Infinity) === Infinity ? -Infinity : Infinity;
  for (let i = from; i < to; i++) if (states[i] === VALUE) result = choose(result, values[i]!);
  return result;
}

/**
 * Sources of uncertainty: each has an identity, so that two results that rest on the same source correlate exactly.
 * A result's spread is its contribution from every source (sensitivity × standard uncertainty, signed), as in
 * JCGM 100:2008, 5.1.3 and 5.2.2; sources are independent of each other.
 */

import { NO_SOURCES, SourceSets, type SourceSet } from './source-set.ts';
import { ROUNDING } from './weighted-sum.ts';

export type SourceKind =
  /** A ± typed with a value. */
  | 'typed'
  /** One error that all entries of a column share: their instrument. */
  | 'shared'
  /** The scatter of data about a fit. */
  | 'scatter';

export interface Source {
  readonly id: number;
  readonly key: string;
  readonly kind: SourceKind;
  /** Name of the cell, or of the column with its row. */
  readonly label: string;
  /** Standard uncertainty, SI; 1 for the components of a fit's scatter. */
  u: number;
  /** Degrees of freedom; infinite for a typed ±. */
  dof: number;
  /** Components of one estimate of scatter share their group, and its degrees of freedom. */
  readonly group: string;
}

/** Contributions of each source of a set, in the result's SI unit. */
export class Spread {
  readonly set: SourceSet;
  readonly parts: Float64Array;
  /** Some sensitivity was found by differences, not exactly. */
  readonly approximate: boolean;
  /** How far the result was seen to move though nothing is left to first order (displaced.ts); else 0. */
  readonly moved: number;
  #norm = NaN;

  constructor(set: SourceSet, parts: Float64Array, approximate = false, moved = 0) {
    this.set = set;
    this.parts = parts;
    this.approximate = approximate;
    this.moved = moved;
  }

  /** Nothing is left to first order, though the result does move with its sources. */
  get flat(): boolean {
    return this.moved !== 0;
  }

  /** Standard uncertainty, worked out when first asked for: most results on the way to a shown one never are. */
  get uncertainty(): number {
    if (this.#norm !== this.#norm) this.#norm = normOf(this.parts);
    return this.#norm;
  }
}

export const CERTAIN: Spread = new Spread(NO_SOURCES, new Float64Array(0));

export function flatSpread(moved: number): Spread {
  return moved === 0 ? CERTAIN : new Spread(NO_SOURCES, CERTAIN.parts, false, moved);
}

export class Sources {
  readonly sets = new SourceSets();
  readonly #byKey = new Map<string, Source>();
  readonly #all: Source[] = [];

  get count(): number {
    return this.#all.length;
  }

  /** The source of that key, made when there is none; its size is brought up to date. */
  intern(key: string, kind: SourceKind, label: string, u: number, dof = Infinity, group = key): Source {
    let source = this.#byKey.get(key);
    if (!source) {
      source = { id: this.#all.length, key, kind, label, u, dof, group };
      this.#byKey.set(key, source);
      this.#all.push(source);
    }
    source.u = u;
    source.dof = dof;
    return source;
  }

  get(id: number): Source {
    const source = this.#all[id];
    if (!source) throw new Error(`no source ${id}`);
    return source;
  }
}

/** Adds up contributions of several spreads, source by source. */
export class Accumulator {
  readonly #sets: SourceSets;
  /** Of all that was added. */
  #set = NO_SOURCES;
  /** By source. */
  #sum = new Float64Array(64);
  /** Sum of the sizes of what was added, to tell what cancelled from what is small. */
  #size = new Float64Array(64);
  #approximate = false;
  /** By what is flat. */
  #moved = 0;

  constructor(sets: SourceSets) {
    this.#sets = sets;
  }

  begin(): void {
    this.#set = NO_SOURCES;
    this.#approximate = false;
    this.#moved = 0;
  }

  addOne(id: number, part: number): void {
    this.#take(this.#sets.single(id));
    this.#sum[id]! += part;
    this.#size[id]! += Math.abs(part);
  }

  add(spread: Spread, factor: number): void {
    const { parts, set } = spread;
    this.#take(set);
    const { ids } = set;
    const sums = this.#sum;
    const sizes = this.#size;
    for (let k = 0; k < ids.length; k++) {
      const id = ids[k]!;
      const part = parts[k]! * factor;
      sums[id]! += part;
      sizes[id]! += Math.abs(part);
    }
    if (spread.approximate) this.#approximate = true;
    if (spread.flat) this.#moved += spread.moved * factor;
  }

  markApproximate(): void {
    this.#approximate = true;
  }

  /** Contributions that cancel (x − x) become exact zeros, and stay, so that a budget can say so. */
  end(): Spread {
    const { ids } = this.#set;
    if (ids.length === 0) return flatSpread(this.#moved);
    const sums = this.#sum;
    const sizes = this.#size;
    const parts = new Float64Array(ids.length);
    for (let k = 0; k < ids.length; k++) {
      const id = ids[k]!;
      const sum = sums[id]!;
      parts[k] = Math.abs(sum) <= ROUNDING * sizes[id]! ? 0 : sum;
      // For the next sum.
      sums[id] = 0;
      sizes[id] = 0;
    }
    if (this.#moved !== 0 && parts.every((part) => part === 0)) return flatSpread(this.#moved);
    return new Spread(this.#set, parts, this.#approximate);
  }

  /** Sources that are about to be added to. */
  #take(set: SourceSet): void {
    if (set === this.#set) return;
    const both = this.#sets.union(this.#set, set);
    this.#set = both;
    const last = both.ids.at(-1) ?? 0;
    if (last < this.#sum.length) return;
    const sum = new Float64Array(2 * (last + 1));
    sum.set(this.#sum);
    this.#sum = sum;
    const size = new Float64Array(2 * (last + 1));
    size.set(this.#size);
    this.#size = size;
  }
}

/**
 * Sum of squares, each carried with its rounding error (Knuth's TwoSum): sources may stand in another order after an
 * undo, and the last digit of a ± must not tell of it.
 */
export function sumOfSquares(parts: ArrayLike<number>, from = 0, to = parts.length): number {
  let sum = 0;
  let lost = 0;
  for (let k = from; k < to; k++) {
    const square = parts[k]! * parts[k]!;
    const next = sum + square;
    const taken = next - sum;
    lost += sum - (next - taken) + (square - taken);
    sum = next;
  }
  return sum < Infinity ? sum + lost : sum;
}

/** Root of the sum of squares, also where the squares pass the range of doubles while the root does not. */
export function normOf(parts: Float64Array, from = 0, to = parts.length): number {
  const sum = sumOfSquares(parts, from, to);
  if (sum > 1e-280 && sum < Infinity) return Math.sqrt(sum);
  let largest = 0;
  for (let k = from; k < to; k++) largest = Math.max(largest, Math.abs(parts[k]!));
  if (!(largest > 0 && largest < Infinity)) return largest;
  return largest * Math.sqrt(sumOfSquares(parts.slice(from, to).map((part) => part / largest)));
}

/** Effective degrees of freedom (Welch–Satterthwaite; JCGM 100:2008, G.4.1), by groups of one estimate. */
export function effectiveDof(spread: Spread, sources: Sources): number {
  const groups = new Map<string, { parts: number[]; dof: number }>();
  const { ids } = spread.set;
  for (let k = 0; k < ids.length; k++) {
    const source = sources.get(ids[k]!);
    if (!Number.isFinite(source.dof)) continue;
    const group = groups.get(source.group) ?? { parts: [], dof: source.dof };
    group.parts.push(spread.parts[k]!);
    groups.set(source.group, group);
  }
  // Of each group the square over the root of its freedom, which is squared once more in the sum.
  const shares = [...groups.values()].map(({ parts, dof }) => sumOfSquares(parts) / Math.sqrt(dof));
  const sum = sumOfSquares(shares);
  return sum === 0 ? Infinity : sumOfSquares(spread.parts) ** 2 / sum;
}

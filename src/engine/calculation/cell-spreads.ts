/**
 * Spreads of cells that hold one value, in one array. Those of plain formulas are found here, thousands between two
 * keystrokes (tests/bench/uncertainty.bench.ts): the code runs forward, then backward for the sensitivities to what
 * it reads, and the contributions are added up.
 */
import { run } from '../formula/tape.ts';
import { runBack } from './backward.ts';
import type { Book } from './book.ts';
import {
  CODE,
  CODE_END,
  COUNT,
  HEAD,
  LAST_PART,
  LAST_UNION,
  LAST_WHOLE,
  LEAF,
  type Leaves,
  OWNER,
  RESULT,
  SLOT,
} from './leaves.ts';
import type { Sites } from './sites.ts';
import { NO_SOURCES, type SourceSet, type SourceSets } from './source-set.ts';
import { displacedBy, displacement, flatMovement } from './displaced.ts';
import { CERTAIN, flatSpread, normOf, Spread } from './sources.ts';
import { weightedSum } from './weighted-sum.ts';

/** A sum of slots, of which each is taken so many times. */
export type Seeds = readonly { readonly slot: number; readonly slope: number }[];

/** Whether a distance is within reach; `flat`: the slope does not tell (trials.ts). */
export type Within = 'yes' | 'no' | 'flat';

/** A formula has at most so many parts, and so many terms. */
const MOST_TERMS = 8192;

export class CellSpreads {
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #sets: SourceSets;
  readonly #leaves: Leaves;
  /** Contributions of all cells; the beginning is for a sum that no cell keeps. */
  #parts = new Float64Array(4096);
  #used = 0;
  /** By node id: the number of the set of sources, where the contributions begin and how many have room. */
  #set = new Int32Array(0);
  #start = new Int32Array(0);
  #room = new Int32Array(0);
  #approximate = new Uint8Array(0);
  /** By node id: how far what is flat was seen to move, 0 for what is not. */
  #moved = new Float64Array(0);
  /** By node id: standard uncertainty, NaN where nobody asked yet. */
  #norm = new Float64Array(0);
  #slopes = new Float64Array(0);
  /** Of the formula at hand. */
  readonly #terms = {
    starts: new Int32Array(MOST_TERMS),
    factors: new Float64Array(MOST_TERMS),
    sets: [] as SourceSet[],
    owners: new Int32Array(MOST_TERMS),
  };
  #count = 0;
  /** Whether something flat goes into it. */
  #anyFlat = false;

  constructor(book: Book, sites: Sites, sets: SourceSets, leaves: Leaves) {
    this.#book = book;
    this.#sites = sites;
    this.#sets = sets;
    this.#leaves = leaves;
  }

  /** Formulas came or went, or a ± where there was none. */
  forget(): void {
    this.#used = 0;
    this.#room.fill(0);
  }

  /** Makes room for as many nodes as there are. */
  grow(count: number): void {
    if (this.#set.length >= count) return;
    const size = 2 * count;
    this.#set = longer(this.#set, new Int32Array(size));
    this.#start = longer(this.#start, new Int32Array(size));
    this.#room = longer(this.#room, new Int32Array(size));
    this.#approximate = longer(this.#approximate, new Uint8Array(size));
    this.#moved = longer(this.#moved, new Float64Array(size));
    this.#norm = longer(this.#norm, new Float64Array(size));
  }

  /** Keeps a spread that was found elsewhere. */
  put(id: number, spread: Spread): void {
    this.#begin(id, spread.set, spread.approximate);
    this.#parts.set(spread.parts, this.#start[id]);
    this.#moved[id] = spread.moved;
  }

  isCertain(id: number): boolean {
    return this.#set[id] === NO_SOURCES.number && this.#moved[id] === 0;
  }

  isFlat(id: number): boolean {
    return this.#moved[id] !== 0;
  }

  get(id: number): Spread {
    const set = this.#sets.numbered(this.#set[id]!);
    if (set === NO_SOURCES) return this.isFlat(id) ? flatSpread(this.#moved[id]!) : CERTAIN;
    const start = this.#start[id]!;
    return new Spread(set, this.#parts.subarray(start, start + set.ids.length), this.#approximate[id] === 1);
  }

  uncertaintyOf(id: number): number {
    let norm = this.#norm[id]!;
    if (norm !== norm) {
      const start = this.#start[id]!;
      norm = normOf(this.#parts, start, start + this.#sets.numbered(this.#set[id]!).ids.length);
      this.#norm[id] = norm;
    }
    return norm;
  }

  /** Finds the spread of a plain formula, `at` its place in the leaves; those of what it reads must be known. */
  find(id: number, at: number): void {
    const { table } = this.#leaves;
    this.runForward(at);
    this.#slopes[table[at + RESULT]!] = 1;
    const set = this.#gather(at, table[at + CODE_END]!);
    const anyFlat = this.#anyFlat;
    this.#begin(id, set, this.#anyApproximate());
    if (this.#count > 0) {
      weightedSum(this.#parts, this.#start[id]!, set, this.#terms, this.#count);
      // What is flat counts only where all else cancels.
      if (!anyFlat || this.uncertaintyOf(id) !== 0) return;
    }
    const moved = this.#movement(at, [{ slot: table[at + RESULT]!, slope: 1 }]);
    if (moved !== 0) this.put(id, flatSpread(moved));
  }

  /** How far a sum of slots without any contribution moves when what the formula reads does. */
  #movement(at: number, seeds: Seeds): number {
    const { table } = this.#leaves;
    const { values } = this.#book.storage;
    const read: {
      readonly slot: number;
      readonly value: number;
      readonly by: number;
      readonly flat: boolean;
    }[] = [];
    for (let k = at + HEAD, last = k + LEAF * table[at + COUNT]!; k < last; k += LEAF) {
      const owner = table[k + OWNER]!;
      if (owner < 0 || this.isCertain(owner)) continue;
      const slot = table[k + SLOT]!;
      const spread = this.get(owner);
      read.push({ slot, value: values[slot]!, by: displacement(spread), flat: spread.flat });
    }
    if (read.length === 0) return 0;
    const result = table[at + RESULT]!;
    const nominal = values[result]!;
    const moved = flatMovement(sumOf(seeds, values), (times) => {
      for (const { slot, value, by, flat } of read) values[slot] = value + displacedBy(by, flat, times);
      run(this.#book.code, values, table[at + CODE]!, table[at + CODE_END]!, this.#sites);
      return sumOf(seeds, values);
    });
    for (const { slot, value } of read) values[slot] = value;
    values[result] = nominal;
    return moved;
  }

  /** Temporaries are shared: they are filled before the code is run backwards. */
  runForward(at: number): void {
    const { table } = this.#leaves;
    const { values } = this.#book.storage;
    if (this.#slopes.length < values.length) this.#slopes = new Float64Array(values.length);
    const start = table[at + CODE]!;
    const end = table[at + CODE_END]!;
    if (end - start > 4) run(this.#book.code, values, start, end, this.#sites);
  }

  /**
   * Whether so many standard uncertainties of a sum of slots, as they stand before instruction `end`, come up to a
   * distance; after `runForward`.
   */
  reaches(at: number, seeds: Seeds, end: number, times: number, distance: number): Within {
    for (const { slot, slope } of seeds) this.#slopes[slot]! += slope;
    const set = this.#gather(at, end);
    const { owners, factors } = this.#terms;
    // No sum is less certain than its terms are together, and where they cancel no further away.
    let most = 0;
    for (let j = 0; j < this.#count; j++) most += Math.abs(factors[j]!) * this.uncertaintyOf(owners[j]!);
    if (most > 0) {
      if (distance >= times * most * (1 + 1e-9) && !this.#anyFlat) return 'no';
      const uncertainty = this.#count === 1 ? most : this.#sum(set);
      if (distance < times * uncertainty) return 'yes';
      if (uncertainty !== 0) return 'no';
    }
    const moves = this.#movement(at, seeds) !== 0;
    this.runForward(at);
    return moves ? 'flat' : 'no';
  }

  /** Standard uncertainty of the sum at hand. */
  #sum(set: SourceSet): number {
    const n = set.ids.length;
    const to = this.#reserve(n);
    weightedSum(this.#parts, to, set, this.#terms, this.#count);
    this.#used = to;
    return normOf(this.#parts, to, to + n);
  }

  /** Runs back from an instruction, and lists what contributes; gives the sources of all. */
  #gather(at: number, end: number): SourceSet {
    const { table } = this.#leaves;
    const slopes = this.#slopes;
    runBack(this.#book.code, table[at + CODE]!, end, this.#book.storage.values, slopes);
    const { starts, factors, sets, owners } = this.#terms;
    let count = 0;
    let whole = NO_SOURCES;
    this.#anyFlat = false;
    for (let k = at + HEAD, last = k + LEAF * table[at + COUNT]!; k < last; k += LEAF) {
      const slot = table[k + SLOT]!;
      const s = slopes[slot]!;
      if (s === 0) continue;
      slopes[slot] = 0;
      const owner = table[k + OWNER]!;
      if (owner < 0) continue;
      const set = this.#sets.numbered(this.#set[owner]!);
      if (set === NO_SOURCES) {
        if (this.isFlat(owner)) this.#anyFlat = true;
        continue;
      }
      starts[count] = this.#start[owner]!;
      factors[count] = s;
      sets[count] = set;
      owners[count++] = owner;
      if (set === whole) continue;
      // The same two as the last time, as a rule.
      if (table[k + LAST_WHOLE] === whole.number && table[k + LAST_PART] === set.number)
        whole = this.#sets.numbered(table[k + LAST_UNION]!);
      else {
        table[k + LAST_WHOLE] = whole.number;
        table[k + LAST_PART] = set.number;
        whole = this.#sets.union(whole, set);
        table[k + LAST_UNION] = whole.number;
      }
    }
    this.#count = count;
    return whole;
  }

  #anyApproximate(): boolean {
    for (let j = 0; j < this.#count; j++) if (this.#approximate[this.#terms.owners[j]!] === 1) return true;
    return false;
  }

  #begin(id: number, set: SourceSet, approximate: boolean): void {
    const n = set.ids.length;
    if (this.#room[id]! < n) {
      this.#start[id] = this.#reserve(n);
      this.#room[id] = n;
    }
    this.#set[id] = set.number;
    this.#approximate[id] = approximate ? 1 : 0;
    this.#moved[id] = 0;
    this.#norm[id] = NaN;
  }

  #reserve(n: number): number {
    const start = this.#used;
    this.#used += n;
    if (this.#used > this.#parts.length) this.#parts = longer(this.#parts, new Float64Array(2 * this.#used));
    return start;
  }
}

/** What a sum of slots comes to. */
export function sumOf(seeds: Seeds, values: Float64Array): number {
  let sum = 0;
  for (const { slot, slope } of seeds) sum += slope * values[slot]!;
  return sum;
}

function longer<T extends Int32Array | Uint8Array | Float64Array>(from: T, to: T): T {
  to.set(from);
  return to;
}

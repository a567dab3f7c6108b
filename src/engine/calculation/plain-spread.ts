/**
 * Spreads of plain formulas: straight code over cells and constants, without calls and jumps. Most formulas are, and
 * a page of them is brought up to date between two keystrokes (tests/bench/uncertainty.bench.ts).
 */
import { OP, run } from '../formula/tape.ts';
import { operands, stepBack } from './backward.ts';
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import type { Sites } from './sites.ts';
import { placesIn, type SourceSet, type SourceSets } from './source-set.ts';
import type { Reach } from './reach.ts';
import { CERTAIN, normOf, ROUNDING, standardUncertainty, type Spread } from './sources.ts';

/** A sum of slots, of which each is taken so many times. */
export type Seeds = readonly { readonly slot: number; readonly slope: number }[];

/** Of each slot that a formula reads the slot, the cell that holds it (-1 for a constant), and its field. */
type Leaves = Int32Array;

interface OwnSpread {
  set: SourceSet;
  parts: Float64Array;
  approximate: boolean;
  uncertainty: number;
}

export class PlainSpreads {
  /** By node id: spreads of cells that hold one value, as far as they are known. */
  readonly known: (Spread | undefined)[] = [];
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #sets: SourceSets;
  readonly #reach: Reach;
  readonly #ofCell: (id: number, offset: number) => Spread;
  /** By node id; null where the formula is not plain. */
  #leaves: (Leaves | null | undefined)[] = [];
  /** By node id: arrays that are filled again at every edit. */
  #kept: (OwnSpread | undefined)[] = [];
  #scratch: OwnSpread | undefined;
  #slopes = new Float64Array(0);
  readonly #found: Spread[] = [];
  readonly #factors = new Float64Array(8192);

  constructor(
    book: Book,
    sites: Sites,
    sets: SourceSets,
    reach: Reach,
    ofCell: (id: number, offset: number) => Spread,
  ) {
    this.#book = book;
    this.#sites = sites;
    this.#sets = sets;
    this.#reach = reach;
    this.#ofCell = ofCell;
  }

  /** Formulas came or went, or a ± where there was none. */
  forget(): void {
    this.known.length = 0;
    this.#leaves = [];
    this.#kept = [];
  }

  isPlain(node: GraphNode): boolean {
    return this.#leavesOf(node) !== null;
  }

  /** The spread of a plain cell; those of what it reads must be known. Good until the next edit. */
  of(node: GraphNode): Spread {
    this.runForward(node);
    this.#slopes[node.slot] = 1;
    const kept = this.#before(node, node.codeEnd, this.#kept[node.id]);
    if (!kept) return CERTAIN;
    this.#kept[node.id] = kept;
    return kept;
  }

  /** Temporaries are shared: they are filled before the code is run backwards. */
  runForward(node: GraphNode): void {
    const { values } = this.#book.storage;
    if (this.#slopes.length < values.length) this.#slopes = new Float64Array(values.length);
    if (node.codeEnd - node.codeStart > 4)
      run(this.#book.code, values, node.codeStart, node.codeEnd, this.#sites);
  }

  /** The standard uncertainty of a sum of slots as they stand before instruction `end`, after `runForward`. */
  before(node: GraphNode, seeds: Seeds, end: number): number {
    for (const { slot, slope } of seeds) this.#slopes[slot]! += slope;
    this.#scratch = this.#before(node, end, this.#scratch) ?? this.#scratch;
    return this.#found.length === 0 ? 0 : (this.#scratch?.uncertainty ?? 0);
  }

  #before(node: GraphNode, end: number, kept: OwnSpread | undefined): OwnSpread | undefined {
    const { code, storage } = this.#book;
    const { values } = storage;
    const slopes = this.#slopes;
    for (let pc = end - 4; pc >= node.codeStart; pc -= 4) stepBack(code, pc, values, slopes);
    const leaves = this.#leavesOf(node)!;
    const found = this.#found;
    found.length = 0;
    let set: SourceSet | undefined;
    for (let k = 0; k < leaves.length; k += 3) {
      const slot = leaves[k]!;
      const s = slopes[slot]!;
      if (s === 0) continue;
      slopes[slot] = 0;
      const owner = leaves[k + 1]!;
      if (owner < 0) continue;
      const spread = this.known[owner] ?? this.#ofCell(owner, leaves[k + 2]!);
      if (spread.parts.length === 0) continue;
      this.#factors[found.length] = s;
      found.push(spread);
      set = set === undefined || set === spread.set ? spread.set : this.#sets.union(set, spread.set);
    }
    return set && this.#added(set, kept);
  }

  #added(set: SourceSet, kept: OwnSpread | undefined): OwnSpread {
    const n = set.ids.length;
    const own =
      kept?.parts.length === n
        ? kept
        : { set, parts: new Float64Array(n), approximate: false, uncertainty: 0 };
    own.set = set;
    own.approximate = false;
    const { parts } = own;
    let bound = 0;
    let isBegun = false;
    for (let j = 0; j < this.#found.length; j++) {
      const from = this.#found[j]!;
      const s = this.#factors[j]!;
      if (from.approximate) own.approximate = true;
      bound += Math.abs(s) * standardUncertainty(from);
      if (!isBegun && from.set === set) {
        scale(parts, from.parts, s, n);
        isBegun = true;
        continue;
      }
      if (!isBegun) parts.fill(0);
      isBegun = true;
      if (from.set === set) add(parts, from.parts, s, n);
      else addAt(parts, from.parts, s, placesIn(set, from.set));
    }
    own.uncertainty = this.#norm(own, bound * ROUNDING);
    return own;
  }

  /** What is left of terms that cancel but for rounding is nothing; none is larger than `rounding`. */
  #norm(own: OwnSpread, rounding: number): number {
    const { parts } = own;
    for (let k = 0; k < parts.length; k++) {
      const part = parts[k]!;
      if (part <= rounding && part >= -rounding && part !== 0) this.#roundOff(own, k);
    }
    return normOf(parts);
  }

  #roundOff({ set, parts }: OwnSpread, k: number): void {
    let size = 0;
    for (let j = 0; j < this.#found.length; j++) {
      const from = this.#found[j]!;
      const at = from.set === set ? k : from.set.ids.indexOf(set.ids[k]!);
      if (at >= 0) size += Math.abs(from.parts[at]! * this.#factors[j]!);
    }
    if (Math.abs(parts[k]!) <= ROUNDING * size) parts[k] = 0;
  }

  #leavesOf(node: GraphNode): Leaves | null {
    let leaves = this.#leaves[node.id];
    if (leaves === undefined) {
      leaves = this.#find(node);
      this.#leaves[node.id] = leaves;
    }
    return leaves;
  }

  #find(node: GraphNode): Leaves | null {
    const { code, storage } = this.#book;
    if (node.kind !== 'cell' || !node.formula || node.width !== 1) return null;
    const slots = new Set<number>();
    for (let pc = node.codeStart; pc < node.codeEnd; pc += 4) {
      const op = code[pc]!;
      if (MINDFUL.has(op)) return null;
      for (let k = 2; k < 2 + operands(op); k++) {
        const slot = code[pc + k]!;
        if (!storage.isTemporary(slot)) slots.add(slot);
      }
    }
    const leaves: number[] = [];
    for (const slot of slots) {
      const owner = this.#book.ownerOf(slot);
      if (owner === node || this.#book.literals.has(slot)) return null;
      const reached = owner !== undefined && this.#reach.has(owner.id);
      leaves.push(slot, reached ? owner.id : -1, reached ? slot - owner.slot : 0);
    }
    return Int32Array.from(leaves);
  }
}

/** Calls, jumps, and what may make a value of something that is none: these need the careful way. */
const MINDFUL: ReadonlySet<number> = new Set([
  OP.call,
  OP.jump,
  OP.jumpIfNot,
  OP.and,
  OP.or,
  OP.isBlank,
  OP.otherwise,
  OP.where,
]);

function scale(to: Float64Array, a: Float64Array, s: number, n: number): void {
  for (let k = 0; k < n; k++) to[k] = a[k]! * s;
}

function add(to: Float64Array, a: Float64Array, s: number, n: number): void {
  for (let k = 0; k < n; k++) to[k]! += a[k]! * s;
}

function addAt(to: Float64Array, a: Float64Array, s: number, places: Int32Array): void {
  for (let k = 0; k < places.length; k++) to[places[k]!]! += a[k]! * s;
}

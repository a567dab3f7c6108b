/**
 * Spreads of plain formulas: straight code over cells and constants, without calls and jumps. Most formulas are, and
 * a page of them is brought up to date between two keystrokes (tests/bench/uncertainty.bench.ts).
 */
import { OP, run } from '../formula/tape.ts';
import { operands, runBack } from './backward.ts';
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import type { Sites } from './sites.ts';
import { NO_SOURCES, type SourceSet, type SourceSets } from './source-set.ts';
import type { Reach } from './reach.ts';
import { CERTAIN, Spread } from './sources.ts';
import { weightedSum } from './weighted-sum.ts';

/** A sum of slots, of which each is taken so many times. */
export type Seeds = readonly { readonly slot: number; readonly slope: number }[];

/** Of each slot that a formula reads the slot, the cell that holds it (-1 for a constant), and its field. */
type Leaves = Int32Array;

export class PlainSpreads {
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #sets: SourceSets;
  readonly #reach: Reach;
  /** By node id: spreads of cells that hold one value, as far as they are known. */
  readonly #known: readonly (Spread | undefined)[];
  readonly #ofField: (id: number, offset: number) => Spread;
  /** By node id; null where the formula is not plain. */
  #leaves: (Leaves | null | undefined)[] = [];
  /** By node id: filled again at every edit. */
  #kept: (Spread | undefined)[] = [];
  readonly #scratch = new Spread(NO_SOURCES, new Float64Array(0));
  #slopes = new Float64Array(0);
  /** Terms of the sum at hand, with their factors. */
  readonly #terms: Spread[] = [];
  readonly #factors = new Float64Array(8192);

  constructor(
    book: Book,
    sites: Sites,
    sets: SourceSets,
    reach: Reach,
    known: readonly (Spread | undefined)[],
    ofField: (id: number, offset: number) => Spread,
  ) {
    this.#book = book;
    this.#sites = sites;
    this.#sets = sets;
    this.#reach = reach;
    this.#known = known;
    this.#ofField = ofField;
  }

  /** Formulas came or went, or a ± where there was none. */
  forget(): void {
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
    const kept = (this.#kept[node.id] ??= new Spread(NO_SOURCES, new Float64Array(0)));
    return this.#before(node, node.codeEnd, kept);
  }

  /** Temporaries are shared: they are filled before the code is run backwards. */
  runForward(node: GraphNode): void {
    const { values } = this.#book.storage;
    if (this.#slopes.length < values.length) this.#slopes = new Float64Array(values.length);
    this.#findFields(this.#leavesOf(node)!);
    if (node.codeEnd - node.codeStart > 4)
      run(this.#book.code, values, node.codeStart, node.codeEnd, this.#sites);
  }

  /** The standard uncertainty of a sum of slots as they stand before instruction `end`, after `runForward`. */
  before(node: GraphNode, seeds: Seeds, end: number): number {
    for (const { slot, slope } of seeds) this.#slopes[slot]! += slope;
    return this.#before(node, end, this.#scratch).uncertainty;
  }

  #before(node: GraphNode, end: number, into: Spread): Spread {
    const { code, storage } = this.#book;
    const slopes = this.#slopes;
    runBack(code, node.codeStart, end, storage.values, slopes);
    const leaves = this.#leavesOf(node)!;
    const terms = this.#terms;
    let count = 0;
    let set: SourceSet = NO_SOURCES;
    let approximate = false;
    for (let k = 0; k < leaves.length; k += 3) {
      const slot = leaves[k]!;
      const s = slopes[slot]!;
      if (s === 0) continue;
      slopes[slot] = 0;
      const owner = leaves[k + 1]!;
      if (owner < 0) continue;
      const spread = this.#known[owner] ?? this.#ofField(owner, leaves[k + 2]!);
      if (spread.parts.length === 0) continue;
      if (spread.approximate) approximate = true;
      this.#factors[count] = s;
      terms[count++] = spread;
      set = spread.set === set ? set : this.#sets.union(set, spread.set);
    }
    if (count === 0) return CERTAIN;
    into.renew(set, approximate);
    weightedSum(into.parts, set, terms, this.#factors, count);
    return into;
  }

  /** Fields of records are found when asked for, in the temporaries that all formulas share. */
  #findFields(leaves: Leaves): void {
    for (let k = 0; k < leaves.length; k += 3) {
      const owner = leaves[k + 1]!;
      if (owner >= 0 && this.#known[owner] === undefined) this.#ofField(owner, leaves[k + 2]!);
    }
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

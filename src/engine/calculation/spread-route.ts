/**
 * Standard uncertainties of thousands of plain formulas by machine code, for an edit that comes again and again as
 * on a route (route.ts): a row of contributions of every source for every formula, in order of calculation. Only
 * what changed is worked out again. What is no plain formula gives a row that was found otherwise; and where a row
 * does not tell (all its contributions are 0, or one is not finite) its formula is for the general way, too.
 */
import { FREE, MOST_TERMS } from '../formula/contribution-code.ts';
import { runBack } from './backward.ts';
import type { Book } from './book.ts';
import type { Seeds, Within } from './cell-spreads.ts';
import { CODE, COUNT, HEAD, LEAF, type Leaves, OWNER, SLOT } from './leaves.ts';
import type { GraphNode } from './node.ts';
import { normOf, type Spread } from './sources.ts';
import { DOUBLE, NO_ROW, type SpreadPlan } from './spread-plan.ts';
import { sumOfWhole } from './weighted-sum.ts';

export class SpreadRoute {
  readonly #book: Book;
  readonly #leaves: Leaves;
  readonly #spreadOf: (node: GraphNode) => Spread;
  readonly #plan: SpreadPlan;
  readonly #rowOf: Int32Array;
  readonly #slots: Int32Array;
  readonly #values: Float64Array;
  /** Contributions; the last row is for a sum that no formula keeps. */
  readonly #rows: Float64Array;
  readonly #width: number;
  /** By row. */
  readonly #stale: Uint8Array;
  #anyStale = true;
  #running = false;
  /** By row: standard uncertainty, 0 where the row does not tell, NaN where nobody asked. */
  readonly #norms: Float64Array;
  #slopes = new Float64Array(0);
  /** Of such a sum. */
  readonly #terms = { starts: new Int32Array(MOST_TERMS), factors: new Float64Array(MOST_TERMS) };

  constructor(book: Book, leaves: Leaves, spreadOf: (node: GraphNode) => Spread, plan: SpreadPlan) {
    const { ids, slots, width, firstRow, code } = plan;
    this.#book = book;
    this.#leaves = leaves;
    this.#spreadOf = spreadOf;
    this.#plan = plan;
    this.#rowOf = plan.rowOf;
    this.#slots = Int32Array.from(slots);
    this.#width = width;
    this.#values = new Float64Array(code.memory, FREE, slots.length);
    this.#rows = new Float64Array(code.memory, firstRow, (ids.length + 1) * width);
    this.#stale = new Uint8Array(ids.length).fill(1);
    this.#norms = new Float64Array(ids.length).fill(NaN);
  }

  get formulas(): number {
    return this.#plan.formulas;
  }

  /** Whether the answer for a node is known. */
  has(id: number): boolean {
    const row = this.#rowOf[id] ?? NO_ROW;
    return row >= 0 && this.#norms[row]! > 0;
  }

  forget(ids: Int32Array): void {
    for (let k = 0; k < ids.length; k++) {
      const row = this.#rowOf[ids[k]!] ?? NO_ROW;
      if (row < 0) continue;
      this.#stale[row] = 1;
      this.#norms[row] = NaN;
      this.#anyStale = true;
    }
  }

  /** Standard uncertainty of a cell; undefined where it is not told. */
  of(id: number): number | undefined {
    const row = this.#rowOf[id] ?? NO_ROW;
    if (row < 0 || row >= this.#plan.formulas || !this.#refresh()) return undefined;
    const norm = this.#normOf(row);
    return isTold(norm) ? norm : undefined;
  }

  /**
   * Whether so many standard uncertainties of a sum of slots, as they stand before instruction `end` of the plain
   * formula that is at this place of the leaves, come up to a distance; after `CellSpreads.runForward`.
   */
  reaches(at: number, seeds: Seeds, end: number, times: number, distance: number): Within | undefined {
    // What is found otherwise may ask for others in turn.
    if (this.#running) return undefined;
    const count = this.#gather(at, seeds, end);
    if (count === 0 || !this.#refresh()) return undefined;
    const { starts, factors } = this.#terms;
    const width = this.#width;
    // No sum is less certain than its terms are together.
    let most = 0;
    for (let j = 0; j < count; j++) {
      const norm = this.#normOf(starts[j]! / width);
      most += Math.abs(factors[j]!) * (isTold(norm) ? norm : Infinity);
    }
    if (distance >= times * most * (1 + 1e-9)) return 'no';
    const to = this.#plan.ids.length * width;
    sumOfWhole(this.#rows, to, width, this.#terms, count);
    const norm = normOf(this.#rows, to, to + width);
    if (!isTold(norm)) return undefined;
    return distance < times * norm ? 'yes' : 'no';
  }

  /** Lists the terms of a sum of slots; 0: there are none, or one that has no row. */
  #gather(at: number, seeds: Seeds, end: number): number {
    const { code, storage } = this.#book;
    const { table } = this.#leaves;
    if (this.#slopes.length < storage.values.length) this.#slopes = new Float64Array(storage.values.length);
    const bySlot = this.#slopes;
    for (const { slot, slope } of seeds) bySlot[slot]! += slope;
    runBack(code, table[at + CODE]!, end, storage.values, bySlot);
    const { starts, factors } = this.#terms;
    let count = 0;
    let all = true;
    for (let k = at + HEAD, last = k + LEAF * table[at + COUNT]!; k < last; k += LEAF) {
      const slot = table[k + SLOT]!;
      const s = bySlot[slot]!;
      bySlot[slot] = 0;
      const owner = table[k + OWNER]!;
      if (s === 0 || owner < 0) continue;
      const row = this.#rowOf[owner] ?? NO_ROW;
      if (row < 0 || count === MOST_TERMS) all = false;
      else {
        starts[count] = row * this.#width;
        factors[count++] = s;
      }
    }
    return all ? count : 0;
  }

  /** 0 where it is not told. */
  #normOf(row: number): number {
    let norm = this.#norms[row]!;
    if (norm !== norm) {
      norm = normOf(this.#rows, row * this.#width, (row + 1) * this.#width);
      this.#norms[row] = isTold(norm) ? norm : 0;
    }
    return norm;
  }

  /** Works out what changed; false where a source came up that the rows have no place for. */
  #refresh(): boolean {
    if (!this.#anyStale) return true;
    if (this.#running) return false;
    this.#running = true;
    const found = this.#fillOutside();
    this.#running = false;
    if (!found) return false;
    const { values } = this.#book.storage;
    const slots = this.#slots;
    for (let k = 0; k < slots.length; k++) this.#values[k] = values[slots[k]!]!;
    const stale = this.#stale;
    const { formulas, records, code } = this.#plan;
    for (let row = 0; row < formulas; row++) {
      if (stale[row] === 0) continue;
      const from = row;
      while (row < formulas && stale[row] === 1) stale[row++] = 0;
      code.run(records[from]!, records[row]!, this.#width * DOUBLE);
    }
    this.#anyStale = false;
    return true;
  }

  #fillOutside(): boolean {
    const { ids, formulas, columnOf } = this.#plan;
    for (let row = formulas; row < ids.length; row++) {
      if (this.#stale[row] === 0) continue;
      const { set, parts } = this.#spreadOf(this.#book.node(ids[row]!));
      const start = row * this.#width;
      this.#rows.fill(0, start, start + this.#width);
      for (let k = 0; k < parts.length; k++) {
        const column = columnOf.get(set.ids[k]!);
        if (column === undefined) return false;
        this.#rows[start + column] = parts[k]!;
      }
      this.#stale[row] = 0;
    }
    return true;
  }
}

/** Whether the contributions of a row tell how uncertain a result is. */
function isTold(norm: number): boolean {
  return norm > 0 && norm < Infinity;
}

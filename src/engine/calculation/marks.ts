/** What is to be worked out again, by rank: nothing, some rows of a column, everything. */
import type { Book } from './book.ts';
import { rowsConcerned } from './keyed-reads.ts';
import type { GraphNode } from './node.ts';

export const CLEAN = 0;
export const ALL = 1;
const RANGE = 2;

export class Marks {
  readonly #book: Book;
  dirty = new Uint8Array(0);
  /** Of columns that are marked by rows: from and to. */
  low = new Int32Array(0);
  high = new Int32Array(0);
  highest = -1;

  constructor(book: Book) {
    this.#book = book;
  }

  /** Every mark is gone by the end of a run; only the room may have become too small. */
  begin(count: number): void {
    this.highest = -1;
    if (this.dirty.length >= count) return;
    this.dirty = new Uint8Array(count * 2);
    this.low = new Int32Array(count * 2);
    this.high = new Int32Array(count * 2);
  }

  one(rank: number): void {
    this.dirty[rank] = ALL;
    if (rank > this.highest) this.highest = rank;
  }

  /** Whatever reads a node as a whole. */
  readers(rank: number): void {
    const { dependentStart, dependents } = this.#book;
    for (let k = dependentStart[rank]!, end = dependentStart[rank + 1]!; k < end; k++)
      this.one(dependents[k]!);
  }

  /** Whatever reads a column row by row. */
  rowReaders(column: GraphNode, from: number, to: number): void {
    for (const reader of column.rowDependents) this.rows(reader, from, to);
  }

  /** Whatever reads a column as a whole, of which these rows are another; under a key, no more than its rows. */
  wholeReaders(column: GraphNode, rank: number, from: number, to: number): void {
    const { dependentStart, dependents, nodeAt } = this.#book;
    for (let k = dependentStart[rank]!, end = dependentStart[rank + 1]!; k < end; k++) {
      const reader = dependents[k]!;
      if (this.dirty[reader] === ALL) continue;
      const rows = rowsConcerned(this.#book, this.#book.node(nodeAt[reader]!), column.id, from, to);
      if (rows === 'all') this.one(reader);
      else if (rows !== 'none') this.rows(reader, rows[0], rows[1]);
    }
  }

  /** Some rows of a column. */
  rows(rank: number, from: number, to: number): void {
    if (this.dirty[rank] === CLEAN) {
      this.dirty[rank] = RANGE;
      this.low[rank] = from;
      this.high[rank] = to;
    } else if (this.dirty[rank] === RANGE) {
      this.low[rank] = Math.min(this.low[rank]!, from);
      this.high[rank] = Math.max(this.high[rank]!, to);
    }
    if (rank > this.highest) this.highest = rank;
  }
}

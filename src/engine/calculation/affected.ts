/** Everything that rests on some nodes: marked from rank to rank, without recursion and without making anything. */
import type { Book } from './book.ts';

export class Affected {
  readonly #book: Book;
  /** By rank. */
  #marks = new Uint8Array(0);
  #ids = new Int32Array(0);

  constructor(book: Book) {
    this.#book = book;
  }

  /** Ids of the nodes and of all that read them, directly or not. Good until the next call. */
  by(seeds: Iterable<number>): Int32Array {
    const { nodes, nodeAt, rankOf, slotAt, dependentStart, dependents } = this.#book;
    if (this.#marks.length < nodeAt.length) this.#marks = new Uint8Array(2 * nodeAt.length);
    if (this.#ids.length < 2 * nodes.length) this.#ids = new Int32Array(4 * nodes.length);
    const marks = this.#marks;
    const ids = this.#ids;
    let count = 0;
    let lowest = nodeAt.length;
    let highest = -1;
    for (const id of seeds) {
      const rank = nodes[id] ? (rankOf[id] ?? -1) : -1;
      if (rank < 0) ids[count++] = id;
      else {
        marks[rank] = 1;
        if (rank < lowest) lowest = rank;
        if (rank > highest) highest = rank;
      }
    }
    for (let rank = lowest; rank <= highest; rank++) {
      if (marks[rank] === 0) continue;
      marks[rank] = 0;
      const id = nodeAt[rank]!;
      ids[count++] = id;
      for (let k = dependentStart[rank]!, end = dependentStart[rank + 1]!; k < end; k++) {
        const reader = dependents[k]!;
        // In a circle of cells, which have no values, some stand before what they read.
        if (reader <= rank) continue;
        marks[reader] = 1;
        if (reader > highest) highest = reader;
      }
      if (slotAt[rank]! >= 0) continue;
      for (const reader of nodes[id]!.rowDependents) {
        if (reader <= rank) continue;
        marks[reader] = 1;
        if (reader > highest) highest = reader;
      }
    }
    return ids.subarray(0, count);
  }
}

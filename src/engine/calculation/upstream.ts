/** What a node rests on, in order of calculation: marked from rank to rank, without recursion and without sorting. */
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import type { Reach } from './reach.ts';

export class Upstream {
  readonly #book: Book;
  readonly #reach: Reach;
  /** By rank. */
  #marks = new Uint8Array(0);

  constructor(book: Book, reach: Reach) {
    this.#book = book;
    this.#reach = reach;
  }

  /**
   * Ids, in order, of what this node reads, directly or not, itself last: of uncertain nodes that are not `known` (by id), and
   * nothing is sought past those that are. Undefined where only the node itself is wanted.
   */
  unknown(node: GraphNode, known: Uint8Array): Int32Array | undefined {
    const { nodes, nodeAt, rankOf } = this.#book;
    const top = rankOf[node.id]!;
    if (this.#marks.length < nodeAt.length) this.#marks = new Uint8Array(2 * nodeAt.length);
    const marks = this.#marks;
    marks[top] = 1;
    let lowest = top;
    let count = 0;
    for (let rank = top; rank >= lowest; rank--) {
      if (marks[rank] === 0) continue;
      count++;
      const { references } = nodes[nodeAt[rank]!]!;
      for (let k = 0; k < references.length; k++) {
        const from = references[k]!;
        const at = rankOf[from]!;
        // In a circle of cells, which have no values, some stand before what they read.
        if (at >= rank || known[from] !== 0 || marks[at] === 1 || !this.#reach.has(from)) continue;
        marks[at] = 1;
        if (at < lowest) lowest = at;
      }
    }
    if (count === 1) {
      marks[top] = 0;
      return undefined;
    }
    const ids = new Int32Array(count);
    for (let rank = lowest, n = 0; rank <= top; rank++) {
      if (marks[rank] === 0) continue;
      marks[rank] = 0;
      ids[n++] = nodeAt[rank]!;
    }
    return ids;
  }
}

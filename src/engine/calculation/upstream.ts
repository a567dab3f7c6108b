/** What a node rests on, in order of calculation: marked from rank to rank, without recursion and without sorting. */
import type { Book } from './book.ts';
import { COUNT, HEAD, LEAF, OWNER, type Leaves } from './leaves.ts';
import type { GraphNode } from './node.ts';
import type { Reach } from './reach.ts';

export class Upstream {
  readonly #book: Book;
  readonly #reach: Reach;
  readonly #leaves: Leaves;
  /** By rank. */
  #marks = new Uint8Array(0);

  constructor(book: Book, reach: Reach, leaves: Leaves) {
    this.#book = book;
    this.#reach = reach;
    this.#leaves = leaves;
  }

  /**
   * Ids, in order, of what this node reads, directly or not, itself last: of uncertain nodes that are not `known` (by id), and
   * nothing is sought past those that are. Undefined where only the node itself is wanted.
   */
  unknown(node: GraphNode, known: Uint8Array): Int32Array | undefined {
    const { nodeAt, rankOf } = this.#book;
    const top = rankOf[node.id]!;
    if (this.#marks.length < nodeAt.length) this.#marks = new Uint8Array(2 * nodeAt.length);
    const marks = this.#marks;
    marks[top] = 1;
    let lowest = top;
    let count = 0;
    for (let rank = top; rank >= lowest; rank--) {
      if (marks[rank] === 0) continue;
      count++;
      lowest = Math.min(lowest, this.#mark(rank, known));
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

  /** Marks what one node reads; gives the lowest rank that is marked now, or its own. */
  #mark(rank: number, known: Uint8Array): number {
    const { nodes, nodeAt, rankOf } = this.#book;
    const marks = this.#marks;
    const id = nodeAt[rank]!;
    let lowest = rank;
    const at = this.#leaves.of(id);
    if (at >= 0) {
      const { table } = this.#leaves;
      for (let k = at + HEAD, end = k + LEAF * table[at + COUNT]!; k < end; k += LEAF) {
        const from = table[k + OWNER]!;
        if (from < 0 || known[from] !== 0) continue;
        const below = rankOf[from]!;
        marks[below] = 1;
        if (below < lowest) lowest = below;
      }
      return lowest;
    }
    for (const from of nodes[id]!.references) {
      const below = rankOf[from]!;
      // In a circle of cells, which have no values, some stand before what they read.
      if (below >= rank || known[from] !== 0 || !this.#reach.has(from)) continue;
      marks[below] = 1;
      if (below < lowest) lowest = below;
    }
    return lowest;
  }
}

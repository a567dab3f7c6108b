/** What a node rests on, in order of calculation: marked from rank to rank, without recursion and without sorting. */
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';

const NO_MARKS = new Uint8Array(0);

export class Upstream {
  readonly #book: Book;
  #marks: Uint8Array = NO_MARKS;

  constructor(book: Book) {
    this.#book = book;
  }

  /** Hands each node that this one reads, directly or not, to `visit`, itself last; nothing is sought past `isKnown`. */
  each(node: GraphNode, isKnown: (id: number) => boolean, visit: (node: GraphNode) => void): void {
    const { nodes, nodeAt, rankOf } = this.#book;
    const top = rankOf[node.id]!;
    // A visit may begin another walk: the marks are taken away meanwhile.
    const marks = this.#marks.length > top ? this.#marks : new Uint8Array(nodeAt.length);
    this.#marks = NO_MARKS;
    marks[top] = 1;
    let lowest = top;
    for (let rank = top; rank >= lowest; rank--) {
      if (marks[rank] === 0) continue;
      for (const from of nodes[nodeAt[rank]!]!.references) {
        const at = rankOf[from]!;
        if (marks[at] === 1 || isKnown(from)) continue;
        marks[at] = 1;
        if (at < lowest) lowest = at;
      }
    }
    for (let rank = lowest; rank <= top; rank++) {
      if (marks[rank] === 0) continue;
      marks[rank] = 0;
      visit(nodes[nodeAt[rank]!]!);
    }
    this.#marks = marks;
  }
}

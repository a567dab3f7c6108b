/** Everything that rests on some nodes, found without recursion and without making anything. */
import type { Book } from './book.ts';

export class Affected {
  readonly #book: Book;
  #seen = new Uint8Array(0);
  #queue = new Int32Array(0);

  constructor(book: Book) {
    this.#book = book;
  }

  /** Ids of the nodes and of all that read them, directly or not. Good until the next call. */
  by(ids: Iterable<number>): Int32Array {
    const { nodes, nodeAt, rankOf, dependentStart, dependents } = this.#book;
    if (this.#seen.length < nodes.length) {
      this.#seen = new Uint8Array(2 * nodes.length);
      this.#queue = new Int32Array(2 * nodes.length);
    }
    const seen = this.#seen;
    const queue = this.#queue;
    let last = 0;
    for (const id of ids) {
      if (seen[id] === 1) continue;
      seen[id] = 1;
      queue[last++] = id;
    }
    for (let at = 0; at < last; at++) {
      const id = queue[at]!;
      const node = nodes[id];
      const rank = rankOf[id] ?? -1;
      if (!node || rank < 0) continue;
      for (let k = dependentStart[rank]!, end = dependentStart[rank + 1]!; k < end; k++) {
        const next = nodeAt[dependents[k]!]!;
        if (seen[next] === 1) continue;
        seen[next] = 1;
        queue[last++] = next;
      }
      for (const reader of node.rowDependents) {
        const next = nodeAt[reader]!;
        if (seen[next] === 1) continue;
        seen[next] = 1;
        queue[last++] = next;
      }
    }
    for (let k = 0; k < last; k++) seen[queue[k]!] = 0;
    return queue.subarray(0, last);
  }
}

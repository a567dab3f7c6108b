import type { Book } from './book.ts';

/** Names are worked out when somebody asks: a wide edit changes thousands, of which a screen shows a few. */
export class LazyNames {
  readonly #book: Book;
  readonly #ids: Int32Array;
  readonly #removed: readonly string[];
  #names: Set<string> | undefined;

  constructor(book: Book, ids: Int32Array, removed: readonly string[]) {
    this.#book = book;
    this.#ids = ids;
    this.#removed = removed;
  }

  set(): ReadonlySet<string> {
    if (!this.#names) {
      this.#names = new Set(this.#removed);
      for (const id of this.#ids) {
        const node = this.#book.nodes[id];
        if (node && !node.hidden) this.#names.add(node.key);
      }
    }
    return this.#names;
  }
}

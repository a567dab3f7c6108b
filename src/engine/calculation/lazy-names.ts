import type { Book } from './book.ts';

/** Names are worked out when somebody asks: a wide edit changes thousands, of which a screen shows a few. */
export class LazyNames {
  readonly #book: Book;
  readonly #ids: Int32Array;
  readonly #spread: ArrayLike<number>;
  readonly #removed: readonly string[];
  #names: Set<string> | undefined;

  /** `ids` are of nodes whose value or state changed, `spread` of those whose ± may be another. */
  constructor(book: Book, ids: Int32Array, spread: ArrayLike<number>, removed: readonly string[]) {
    this.#book = book;
    this.#ids = ids;
    this.#spread = spread;
    this.#removed = removed;
  }

  set(): ReadonlySet<string> {
    if (!this.#names) {
      this.#names = new Set(this.#removed);
      this.#add(this.#names, this.#ids);
      this.#add(this.#names, this.#spread);
    }
    return this.#names;
  }

  #add(names: Set<string>, ids: ArrayLike<number>): void {
    for (let k = 0; k < ids.length; k++) {
      const node = this.#book.nodes[ids[k]!];
      if (node && !node.hidden) names.add(node.key);
    }
  }
}

/** Which nodes some source of uncertainty reaches at all. All others are exact, and nobody need ask further. */
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';

export class Reach {
  readonly #book: Book;
  /** By id. */
  #reached = new Uint8Array(0);
  #known = false;

  constructor(book: Book) {
    this.#book = book;
  }

  /** Formulas came or went. */
  forget(): void {
    this.#known = false;
  }

  /** Takes note that what was typed at a node changed; true: it was exact, and is so no more. */
  gains(id: number): boolean {
    const node = this.#book.nodes[id];
    if (!this.#known || !node) return false;
    const source = isSource(node);
    const reached = this.#reached[id] === 1;
    if (source ? !reached : reached && !node.formula) this.#known = false;
    return source && !reached;
  }

  has(id: number): boolean {
    if (!this.#known) this.#find();
    return this.#reached[id] === 1;
  }

  #find(): void {
    const { nodes, nodeAt } = this.#book;
    const reached = new Uint8Array(nodes.length);
    for (const id of nodeAt) {
      const node = nodes[id];
      if (!node) continue;
      let found = isSource(node);
      if (!found) for (const from of node.references) if (reached[from] === 1) found = true;
      if (found) reached[id] = 1;
    }
    this.#reached = reached;
    this.#known = true;
  }
}

function isSource(node: GraphNode): boolean {
  if (node.ownSpread || (node.plusMinus !== undefined && node.plusMinus !== 0)) return true;
  return (
    node.data !== undefined &&
    (node.data.plusMinus.size > 0 || node.each !== undefined || node.shared !== undefined)
  );
}

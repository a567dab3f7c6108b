/** Flags results that hang on a switch within reach of their uncertainty. */
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import type { Sites } from './sites.ts';
import { standardUncertainty, type Spread } from './sources.ts';
import { hasSwitch, switchAt, type Doubt } from './switches.ts';

interface Spreads {
  forward(code: Int32Array, from: number, to: number): number[];
  spreadBefore(
    node: GraphNode,
    row: number,
    seeds: readonly { readonly slot: number; readonly slope: number }[],
    end: number,
  ): Spread;
}

export class Doubts {
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #spreads: Spreads;
  readonly #known = new Map<number, Map<number, Doubt | 'none'>>();

  constructor(book: Book, sites: Sites, spreads: Spreads) {
    this.#book = book;
    this.#sites = sites;
    this.#spreads = spreads;
  }

  forget(id: number): void {
    this.#known.delete(id);
  }

  forgetAll(): void {
    this.#known.clear();
  }

  /**
   * Where a formula's result hangs on a switch that its own uncertainty may turn: a comparison of two values closer
   * than twice the standard uncertainty of their difference, or a corner (min, max, abs, whole steps) as near.
   */
  of(node: GraphNode, row: number): Doubt | undefined {
    if (!node.formula || node.type === undefined || node.kind === 'aggregate') return undefined;
    const { code } = this.#book;
    const { values } = this.#book.storage;
    if (!hasSwitch(code, node.codeStart, node.codeEnd)) return undefined;
    const known = this.#known.get(node.id)?.get(row);
    if (known !== undefined) return known === 'none' ? undefined : known;
    if (row >= 0) this.#sites.enterRow(node.inputs, row);
    const switches = this.#spreads.forward(code, node.codeStart, node.codeEnd).flatMap((pc) => {
      const at = switchAt(code, values, pc);
      return at ? [{ pc, ...at }] : [];
    });
    let found: Doubt | undefined;
    for (const { pc, doubt, distance, seeds } of switches) {
      // Where one side is no number, the comparison stands in a branch that is not taken.
      if (Number.isNaN(distance)) continue;
      if (row >= 0) this.#sites.enterRow(node.inputs, row);
      if (distance >= 2 * standardUncertainty(this.#spreads.spreadBefore(node, row, seeds, pc))) continue;
      if (doubt === 'undecided') found = doubt;
      else found ??= doubt;
    }
    const rows = this.#known.get(node.id) ?? new Map<number, Doubt | 'none'>();
    rows.set(row, found ?? 'none');
    this.#known.set(node.id, rows);
    return found;
  }
}

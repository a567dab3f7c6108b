/** Flags results that hang on a switch within reach of their uncertainty. */
import type { Tape } from '../formula/tape.ts';
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import type { PlainSpreads, Seeds } from './plain-spread.ts';
import type { Sites } from './sites.ts';
import { standardUncertainty, type Spread } from './sources.ts';
import { hasSwitch, switchAt, type Doubt } from './switches.ts';

interface Spreads {
  forward(tape: Tape, text: string, from: number, to: number): number[];
  spreadBefore(node: GraphNode, row: number, seeds: Seeds, end: number): Spread;
}

export class Doubts {
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #spreads: Spreads;
  readonly #plain: PlainSpreads;
  /** By node id. */
  #cells: (Doubt | 'none' | undefined)[] = [];
  #rows = new Map<number, Map<number, Doubt | 'none'>>();
  #switched: (boolean | undefined)[] = [];

  constructor(book: Book, sites: Sites, spreads: Spreads, plain: PlainSpreads) {
    this.#book = book;
    this.#sites = sites;
    this.#spreads = spreads;
    this.#plain = plain;
  }

  forget(id: number): void {
    this.#cells[id] = undefined;
    if (this.#rows.size > 0) this.#rows.delete(id);
  }

  forgetAll(): void {
    this.#cells = [];
    this.#rows.clear();
    this.#switched = [];
  }

  /**
   * Where a formula's result hangs on a switch that its own uncertainty may turn: a comparison of two values closer
   * than twice the standard uncertainty of their difference, or a corner (min, max, abs, whole steps) as near.
   */
  of(node: GraphNode, row: number): Doubt | undefined {
    if (!node.formula || node.type === undefined || node.kind === 'aggregate') return undefined;
    this.#switched[node.id] ??= hasSwitch(this.#book.code, node.codeStart, node.codeEnd);
    if (this.#switched[node.id] !== true) return undefined;
    const known = row < 0 ? this.#cells[node.id] : this.#rows.get(node.id)?.get(row);
    if (known !== undefined) return known === 'none' ? undefined : known;
    const found = this.#plain.isPlain(node) ? this.#findPlain(node) : this.#find(node, row);
    if (row < 0) this.#cells[node.id] = found ?? 'none';
    else {
      const rows = this.#rows.get(node.id) ?? new Map<number, Doubt | 'none'>();
      rows.set(row, found ?? 'none');
      this.#rows.set(node.id, rows);
    }
    return found;
  }

  #findPlain(node: GraphNode): Doubt | undefined {
    const { code } = this.#book;
    const { values } = this.#book.storage;
    this.#plain.runForward(node);
    let found: Doubt | undefined;
    for (let pc = node.codeStart; pc < node.codeEnd; pc += 4) {
      const at = switchAt(code, values, pc);
      if (!at || Number.isNaN(at.distance)) continue;
      const near = at.distance < 2 * this.#plain.before(node, at.seeds, pc);
      // Finding a spread may have run other formulas in the temporaries that they share.
      this.#plain.runForward(node);
      if (!near) continue;
      if (at.doubt === 'undecided') found = at.doubt;
      else found ??= at.doubt;
    }
    return found;
  }

  #find(node: GraphNode, row: number): Doubt | undefined {
    const { code } = this.#book;
    const { values } = this.#book.storage;
    if (row >= 0) this.#sites.enterRow(node.inputs, row);
    const switches = this.#spreads
      .forward(this.#book, node.text, node.codeStart, node.codeEnd)
      .flatMap((pc) => {
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
    return found;
  }
}

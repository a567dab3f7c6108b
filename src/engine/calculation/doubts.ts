/** Flags results that hang on a switch within reach of their uncertainty. */
import type { Tape } from '../formula/tape.ts';
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import type { PlainSpreads, Seeds } from './plain-spread.ts';
import type { Sites } from './sites.ts';
import type { Spread } from './sources.ts';
import { hasSwitch, switchAt, type Doubt } from './switches.ts';

interface Spreads {
  forward(tape: Tape, text: string, from: number, to: number): number[];
  before(node: GraphNode, row: number, seeds: Seeds, end: number): Spread;
}

/** What is known of a cell. */
const UNKNOWN = 0;
const NONE = 1;
const DOUBTS: readonly Doubt[] = ['undecided', 'not-smooth'];
const FIRST_DOUBT = 2;

export class Doubts {
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #spreads: Spreads;
  readonly #plain: PlainSpreads;
  /** By node id. */
  #cells = new Uint8Array(0);
  readonly #rows = new Map<number, Map<number, Doubt | 'none'>>();
  /** By node id: whether its formula has a switch at all. */
  #switched: (boolean | undefined)[] = [];

  constructor(book: Book, sites: Sites, spreads: Spreads, plain: PlainSpreads) {
    this.#book = book;
    this.#sites = sites;
    this.#spreads = spreads;
    this.#plain = plain;
  }

  forget(ids: Int32Array): void {
    const cells = this.#cells;
    for (let k = 0; k < ids.length; k++) cells[ids[k]!] = UNKNOWN;
    if (this.#rows.size > 0) for (let k = 0; k < ids.length; k++) this.#rows.delete(ids[k]!);
  }

  forgetAll(): void {
    this.#cells.fill(UNKNOWN);
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
    return row < 0 ? this.#ofCell(node) : this.#ofRow(node, row);
  }

  #ofCell(node: GraphNode): Doubt | undefined {
    const { id } = node;
    if (id >= this.#cells.length) {
      const cells = new Uint8Array(2 * this.#book.nodes.length);
      cells.set(this.#cells);
      this.#cells = cells;
    }
    if (this.#cells[id] === UNKNOWN) {
      const found = this.#plain.isPlain(node) ? this.#findPlain(node) : this.#find(node, -1);
      this.#cells[id] = found === undefined ? NONE : FIRST_DOUBT + DOUBTS.indexOf(found);
    }
    return DOUBTS[this.#cells[id]! - FIRST_DOUBT];
  }

  #ofRow(node: GraphNode, row: number): Doubt | undefined {
    let rows = this.#rows.get(node.id);
    if (!rows) {
      rows = new Map();
      this.#rows.set(node.id, rows);
    }
    let known = rows.get(row);
    if (known === undefined) {
      known = this.#find(node, row) ?? 'none';
      rows.set(row, known);
    }
    return known === 'none' ? undefined : known;
  }

  #findPlain(node: GraphNode): Doubt | undefined {
    const { code } = this.#book;
    const { values } = this.#book.storage;
    this.#plain.runForward(node);
    let found: Doubt | undefined;
    for (let pc = node.codeStart; pc < node.codeEnd; pc += 4) {
      const at = switchAt(code, values, pc);
      if (!at || Number.isNaN(at.distance)) continue;
      if (at.distance >= 2 * this.#plain.before(node, at.seeds, pc)) continue;
      if (at.doubt === 'undecided') return at.doubt;
      found = at.doubt;
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
      if (distance >= 2 * this.#spreads.before(node, row, seeds, pc).uncertainty) continue;
      if (doubt === 'undecided') return doubt;
      found = doubt;
    }
    return found;
  }
}

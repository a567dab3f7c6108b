/** Flags results that hang on a switch within reach of their uncertainty. */
import { forgetRows, type Rows } from './affected.ts';
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import type { CellSpreads, Seeds, Within } from './cell-spreads.ts';
import { COUNT, HEAD, LEAF, OWNER, type Leaves } from './leaves.ts';
import type { Reach } from './reach.ts';
import type { Sites } from './sites.ts';
import type { TapeSpreads } from './tape-spread.ts';
import type { SpreadRoutes } from './spread-routes.ts';
import { switchAt, type Doubt } from './switches.ts';
import type { Trials } from './trials.ts';

/** What is known of a cell. */
const UNKNOWN = 0;
const NONE = 1;
const DOUBTS: readonly Doubt[] = ['undecided', 'not-smooth'];
const FIRST_DOUBT = 2;

export class Doubts {
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #reach: Reach;
  readonly #findCell: (id: number) => void;
  readonly #routes: SpreadRoutes;
  readonly #spreads: TapeSpreads;
  readonly #cellSpreads: CellSpreads;
  readonly #leaves: Leaves;
  readonly #trials: Trials;
  /** By node id. */
  #cells = new Uint8Array(0);
  readonly #rows = new Map<number, Map<number, Doubt | 'none'>>();

  constructor(
    book: Book,
    sites: Sites,
    reach: Reach,
    spreads: TapeSpreads,
    cells: CellSpreads,
    leaves: Leaves,
    trials: Trials,
    routes: SpreadRoutes,
    findCell: (id: number) => void,
  ) {
    this.#book = book;
    this.#sites = sites;
    this.#reach = reach;
    this.#routes = routes;
    this.#findCell = findCell;
    this.#spreads = spreads;
    this.#cellSpreads = cells;
    this.#leaves = leaves;
    this.#trials = trials;
  }

  /** Whether somebody was told of a node on what it hangs, which may be another now though its value is the same. */
  knows(id: number): boolean {
    return (
      (id < this.#cells.length && this.#cells[id] !== UNKNOWN) || (this.#rows.size > 0 && this.#rows.has(id))
    );
  }

  /** Of all rows of a column, but where `rows` says of which. */
  forget(ids: Int32Array, rows: ReadonlyMap<number, Rows>): void {
    const cells = this.#cells;
    for (let k = 0; k < ids.length; k++) cells[ids[k]!] = UNKNOWN;
    if (this.#rows.size > 0) for (const id of ids) forgetRows(this.#rows, id, rows.get(id), 1);
  }

  forgetAll(): void {
    this.#cells.fill(UNKNOWN);
    this.#rows.clear();
  }

  /**
   * Where a formula's result hangs on a switch that its own uncertainty may turn: a comparison of two values closer
   * than twice the standard uncertainty of their difference, or a corner (min, max, abs, whole steps) as near. Where
   * the slope tells nothing of it, that is tried out.
   */
  of(node: GraphNode, row: number): Doubt | undefined {
    if (!node.formula || node.type === undefined || node.kind === 'aggregate') return undefined;
    if (this.#reach.switches(node.id).length === 0) return undefined;
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
      const at = this.#leaves.of(id);
      const found = at >= 0 ? this.#findPlain(node, at) : this.#find(node, -1);
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

  #findPlain(node: GraphNode, place: number): Doubt | undefined {
    const { code } = this.#book;
    const { values } = this.#book.storage;
    let found: Doubt | undefined;
    for (const pc of this.#reach.switches(node.id)) {
      this.#cellSpreads.runForward(place);
      const at = switchAt(code, values, pc);
      if (!at || Number.isNaN(at.distance)) continue;
      const within = this.#within(place, at.seeds, pc, at.distance);
      if (within === 'no' || (within === 'flat' && !this.#trials.turns(node, -1, pc))) continue;
      if (at.doubt === 'undecided') return at.doubt;
      found = at.doubt;
    }
    return found;
  }

  /** Whether twice the standard uncertainty of a sum of slots of a plain formula comes up to a distance. */
  #within(place: number, seeds: Seeds, pc: number, distance: number): Within {
    const told = this.#routes.reaches(place, seeds, pc, 2, distance);
    if (told !== undefined) return told;
    const { table } = this.#leaves;
    for (let k = place + HEAD, end = k + LEAF * table[place + COUNT]!; k < end; k += LEAF)
      if (table[k + OWNER]! >= 0) this.#findCell(table[k + OWNER]!);
    this.#cellSpreads.runForward(place);
    return this.#cellSpreads.reaches(place, seeds, pc, 2, distance);
  }

  #find(node: GraphNode, row: number): Doubt | undefined {
    const { code } = this.#book;
    const { values } = this.#book.storage;
    if (row >= 0) this.#sites.enterRow(node.inputs, row);
    const path = this.#spreads.forward(this.#book, node.text, node.codeStart, node.codeEnd);
    // All are listed while the values of this formula stand: finding a spread may run others in their place.
    const uncertain = this.#reach.switches(node.id);
    const switches = path.flatMap((pc, step) => {
      const at = uncertain.includes(pc) && switchAt(code, values, pc);
      // Where one side is no number, the comparison stands in a branch that is not taken.
      if (!at || Number.isNaN(at.distance)) return [];
      const found = this.#spreads.sensitivities(node, row, path, step, at.seeds);
      return [{ pc, ...at, found }];
    });
    let doubt: Doubt | undefined;
    for (const each of switches) {
      const within = this.#spreads.reaches(each.found, 2, each.distance);
      if (within === 'no' || (within === 'flat' && !this.#mayTurn(node, row, each.pc, each.seeds))) continue;
      if (each.doubt === 'undecided') return each.doubt;
      doubt = each.doubt;
    }
    return doubt;
  }

  #mayTurn(node: GraphNode, row: number, pc: number, seeds: Seeds): boolean {
    return this.#spreads.movement(node, row, seeds) !== 0 && this.#trials.turns(node, row, pc);
  }
}

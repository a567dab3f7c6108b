/** Spreads, found on demand and kept until something they rest on changes. */
import { Affected, forgetRows, type Rows } from './affected.ts';
import { contributing } from './aggregate.ts';
import type { Book } from './book.ts';
import { byDifferences, type ByDifferences } from './by-differences.ts';
import { CellSpreads } from './cell-spreads.ts';
import { Doubts } from './doubts.ts';
import type { GraphNode } from './node.ts';
import { Leaves, RESULT } from './leaves.ts';
import { Reach } from './reach.ts';
import type { Sites } from './sites.ts';
import { Accumulator, CERTAIN, Sources, type Spread } from './sources.ts';
import { SpreadRoutes } from './spread-routes.ts';
import type { Doubt } from './switches.ts';
import { VALUE } from './storage.ts';
import { TapeSpreads } from './tape-spread.ts';
import { Trials, type TrialHost } from './trials.ts';
import { typedCell, typedRow } from './typed-spread.ts';
import { Upstream } from './upstream.ts';

/** What is known of a node; the greater holds where several do. */
const UNKNOWN = 0;
const CERTAIN_SO_FAR = 1;
const UNCERTAIN = 2;

export class Uncertainty {
  readonly sources = new Sources();
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #sum = new Accumulator(this.sources.sets);
  /** By node id. */
  #known = new Uint8Array(0);
  #anyKnown = false;
  /** Of cells and aggregates that hold one value. */
  readonly #cells: CellSpreads;
  readonly #leaves: Leaves;
  /** By node id and field, of cells that hold a record. */
  readonly #fields = new Map<number, Spread[]>();
  /** By node id, then by row and field. */
  readonly #rows = new Map<number, Map<number, Spread>>();
  readonly #tape: TapeSpreads;
  readonly #doubts: Doubts;
  readonly #reach: Reach;
  readonly #upstream: Upstream;
  readonly #affected: Affected;
  readonly #routes: SpreadRoutes;

  /** `again` works one node out again, whatever changed. */
  constructor(book: Book, sites: Sites, again: TrialHost['again']) {
    this.#book = book;
    this.#sites = sites;
    this.#reach = new Reach(book);
    this.#affected = new Affected(book);
    this.#leaves = new Leaves(book, this.#reach);
    this.#upstream = new Upstream(book, this.#reach, this.#leaves);
    this.#tape = new TapeSpreads(book, sites, this.sources, this.#reach, this);
    this.#cells = new CellSpreads(book, sites, this.sources.sets, this.#leaves);
    this.#routes = new SpreadRoutes(book, this.#leaves, (node) => this.ofCell(node, 0));
    const trials = new Trials(book, sites, this.sources, {
      again,
      forward: (node) => this.#tape.forward(book, node.text, node.codeStart, node.codeEnd),
      spread: (node, row) => (row < 0 ? this.ofCell(node, 0) : this.ofRow(node, row, 0)),
    });
    this.#doubts = new Doubts(
      book,
      sites,
      this.#reach,
      this.#tape,
      this.#cells,
      this.#leaves,
      trials,
      this.#routes,
      (id) => {
        if (!this.#known[id]) this.#findUpTo(book.node(id));
      },
    );
  }

  /**
   * Forgets what rests on these nodes, and on those columns of which only some rows are another; gives the ids of all
   * whose ± may be another now.
   */
  forget(seeds: ReadonlySet<number>, rowSeeds: ReadonlyMap<number, Rows>): ArrayLike<number> {
    let appeared = false;
    for (const id of seeds) if (this.#reach.gains(id)) appeared = true;
    for (const id of rowSeeds.keys()) if (this.#reach.gains(id)) appeared = true;
    if (appeared) {
      this.#leaves.forget();
      this.#routes.forgetAll();
    }
    if (!appeared && !this.#anyKnown) return [];
    this.#routes.next(this.#known);
    const affected = appeared
      ? this.#affected.by([...seeds, ...rowSeeds.keys()], new Map())
      : this.#affected.by(seeds, rowSeeds);
    const { rows } = this.#affected;
    const { spreadReaders, mustRun, mustRunRows } = this.#book;
    const known = this.#known;
    const changed = new Int32Array(affected.length);
    let count = 0;
    for (let k = 0; k < affected.length; k++) {
      const id = affected[k]!;
      // What was certain may be so no more, though its value is the same: a choice takes its other side.
      if (appeared || known[id] !== UNKNOWN || this.#routes.has(id) || this.#doubts.knows(id))
        changed[count++] = id;
      // Other rows of the column stay known.
      if (!rows.has(id)) known[id] = UNKNOWN;
    }
    if (spreadReaders.size > 0)
      for (const id of affected) {
        if (!spreadReaders.has(id)) continue;
        const some = rows.get(id);
        if (some) mustRunRows.set(id, some);
        else mustRun.add(id);
      }
    if (this.#fields.size > 0) for (const id of affected) this.#fields.delete(id);
    if (this.#rows.size > 0)
      for (const id of affected)
        forgetRows(this.#rows, id, rows.get(id), Math.max(1, this.#book.nodes[id]?.width ?? 1));
    this.#routes.forget(affected);
    this.#doubts.forget(affected, rows);
    return changed.subarray(0, count);
  }

  forgetAll(): void {
    this.#known.fill(UNKNOWN);
    this.#anyKnown = false;
    this.#cells.forget();
    this.#leaves.forget();
    this.#routes.forgetAll();
    this.#fields.clear();
    this.#rows.clear();
    this.sources.sets.forget();
    this.#doubts.forgetAll();
    this.#reach.forget();
  }

  /** The spread of a cell's value (or of a field of its record). */
  ofCell(node: GraphNode, offset: number): Spread {
    if (!this.#isFound(node)) return CERTAIN;
    return node.width === 1 ? this.#cells.get(node.id) : this.#field(node, offset);
  }

  /** Its standard uncertainty; undefined where no source contributes. */
  plusMinus(node: GraphNode, offset: number): number | undefined {
    if (!this.#reach.has(node.id)) return undefined;
    if (node.width === 1 && !this.#known[node.id]) {
      const told = this.#routes.of(node.id);
      if (told !== undefined) return told;
    }
    if (!this.#isFound(node)) return undefined;
    if (node.width !== 1) return shown(this.#field(node, offset));
    return this.#known[node.id] === UNCERTAIN ? this.#cells.uncertaintyOf(node.id) : undefined;
  }

  /** Of one row of a column. */
  rowPlusMinus(node: GraphNode, row: number, offset: number): number | undefined {
    return shown(this.ofRow(node, row, offset));
  }

  /** Finds what is wanted of a cell; false: no source reaches it at all. */
  #isFound(node: GraphNode): boolean {
    if (!this.#reach.has(node.id)) return false;
    if (!this.#known[node.id]) this.#findUpTo(node);
    return true;
  }

  /** Finds the spreads of cells and aggregates that this one rests on, and then its own, in order of calculation. */
  #findUpTo(node: GraphNode): void {
    this.#room(this.#book.nodes.length);
    const ids = this.#upstream.unknown(node, this.#known);
    this.#routes.found(ids?.length ?? 1);
    if (ids) for (let k = 0; k < ids.length; k++) this.#find(ids[k]!);
    else this.#find(node.id);
  }

  #room(count: number): void {
    this.#anyKnown = true;
    this.#cells.grow(count);
    if (this.#known.length >= count) return;
    const known = new Uint8Array(2 * count);
    known.set(this.#known);
    this.#known = known;
  }

  #find(id: number): void {
    const at = this.#leaves.of(id);
    if (at >= 0 && this.#book.storage.states[this.#leaves.table[at + RESULT]!] === VALUE)
      this.#cells.find(id, at);
    else {
      const node = this.#book.node(id);
      // Rows, and fields of a record, are found only when asked for: those of a fit are costly.
      if (node.kind === 'column' || this.#known[id] !== UNKNOWN) return;
      this.#cells.put(id, node.width === 1 ? this.#ofOne(node) : CERTAIN);
    }
    this.#known[id] = this.#cells.isCertain(id) ? CERTAIN_SO_FAR : UNCERTAIN;
  }

  #note(id: number, spread: Spread): void {
    if (spread.parts.length > 0 || spread.flat) this.#known[id] = UNCERTAIN;
    else if (this.#known[id] === UNKNOWN) this.#known[id] = CERTAIN_SO_FAR;
  }

  #ofOne(node: GraphNode): Spread {
    if (node.type === undefined || node.slot < 0) return CERTAIN;
    if (node.kind === 'aggregate') return this.#aggregate(node);
    if (!node.formula) return typedCell(this.sources, node);
    if (!isMeasure(node) || this.#book.storage.states[node.slot] !== VALUE) return CERTAIN;
    return this.#tape.of(node, -1, node.slot);
  }

  #field(node: GraphNode, offset: number): Spread {
    const { id, slot } = node;
    let fields = this.#fields.get(id);
    if (!fields) {
      fields = [];
      this.#fields.set(id, fields);
    }
    const known = fields[offset];
    if (known) return known;
    const isValue = slot >= 0 && this.#book.storage.states[slot + offset] === VALUE;
    const found = isValue ? this.#tape.of(node, -1, slot + offset) : CERTAIN;
    fields[offset] = found;
    this.#note(id, found);
    return found;
  }

  #aggregate(node: GraphNode): Spread {
    const data = node.aggregate!;
    const column = this.#book.byKey.get(data.column)!;
    const { rows, factor } = contributing(data, column.data!, this.#book.storage.values[node.slot]!);
    const spreads = rows.map((row) => this.ofRow(column, row, data.offset));
    this.#sum.begin();
    for (const spread of spreads) this.#sum.add(spread, factor);
    return this.#sum.end();
  }

  ofRow(node: GraphNode, row: number, offset: number): Spread {
    if (!this.#reach.has(node.id)) return CERTAIN;
    let known = this.#rows.get(node.id);
    if (!known) {
      known = new Map();
      this.#rows.set(node.id, known);
      this.#room(this.#book.nodes.length);
    }
    const key = row * Math.max(1, node.width) + offset;
    let spread = known.get(key);
    if (!spread) {
      spread = this.#computeRow(node, row, offset);
      known.set(key, spread);
      this.#note(node.id, spread);
    }
    return spread;
  }

  #computeRow(node: GraphNode, row: number, offset: number): Spread {
    const data = node.data;
    if (!data || data.fields[offset]?.states[row] !== VALUE) return CERTAIN;
    if (!node.formula || data.overrides.has(row)) return typedRow(this.sources, node, row);
    if (!isMeasure(node)) return CERTAIN;
    for (const id of node.references) {
      const from = this.#book.nodes[id];
      if (from && from.kind !== 'column') this.#isFound(from);
    }
    this.#sites.enterRow(node.inputs, row);
    return this.#tape.of(node, row, node.rowResult + offset);
  }

  /** Which functions on the way to a value have sensitivities that were found by differences. */
  byDifferences(node: GraphNode, row: number, offset: number): ByDifferences[] {
    return byDifferences(
      this.#book,
      { node, row, offset },
      (at) => (at.row < 0 ? this.ofCell(at.node, at.offset) : this.ofRow(at.node, at.row, at.offset)),
      (at, atRow, slot) => this.#tape.directly(at, atRow, slot),
    );
  }

  doubt(node: GraphNode, row: number, offset: number): Doubt | undefined {
    const doubt = this.#doubts.of(node, row);
    return doubt !== 'undecided' && this.#isFlat(node, row, offset) ? 'flat' : doubt;
  }

  #isFlat(node: GraphNode, row: number, offset: number): boolean {
    if (!this.#reach.has(node.id)) return false;
    if (row >= 0) return this.ofRow(node, row, offset).flat;
    return node.width === 1
      ? !this.#routes.has(node.id) && this.#cells.isFlat(node.id)
      : this.#field(node, offset).flat;
  }
}

/** A value without any source is exact and shows no ±; one whose sources cancel shows ± 0. */
function shown(spread: Spread): number | undefined {
  return spread.parts.length === 0 && !spread.flat ? undefined : spread.uncertainty;
}

/** Texts, and answers of yes or no, have no ± of their own: what they hang on is said as a doubt. */
function isMeasure({ type }: GraphNode): boolean {
  return type !== undefined && type.kind !== 'text' && type.kind !== 'logical';
}

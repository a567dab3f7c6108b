/**
 * Recalculation: marks what reads a changed value and walks the ranks upward while marks remain. A result that did
 * not change marks nobody. Every node is worked out at most once. An edit that was made before and changed much goes
 * along a route (route.ts) instead.
 */
import { run } from '../formula/tape.ts';
import { combine } from './aggregate.ts';
import type { Book } from './book.ts';
import { Columns } from './columns.ts';
import { ALL, CLEAN, Marks } from './marks.ts';
import type { GraphNode } from './node.ts';
import type { Route } from './route.ts';
import { Routes } from './routes.ts';
import type { Sites } from './sites.ts';
import { sameCause, VALUE, type Cause } from './storage.ts';

export class Sweep {
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #marks: Marks;
  readonly #routes: Routes;
  readonly #columns: Columns;
  /** Ids of what changed, in order of calculation. */
  #changed = new Int32Array(64);
  #count = 0;
  /** Rows that changed, of columns. */
  readonly rows = new Map<number, readonly [number, number]>();

  constructor(book: Book, sites: Sites) {
    this.#book = book;
    this.#sites = sites;
    this.#marks = new Marks(book);
    this.#routes = new Routes(book);
    this.#columns = new Columns(book, sites, this.#marks, (node, rank, from, to) =>
      this.#rowsChanged(node, rank, from, to),
    );
  }

  /** Runs everything that waits; the ids that changed stand in the result until the next run. */
  run(): Int32Array {
    const book = this.#book;
    const count = book.nodeAt.length;
    this.#marks.begin(count);
    // A node may be told three times: its type, its typed rows, its results.
    if (this.#changed.length < count * 3) this.#changed = new Int32Array(count * 6);
    this.#count = 0;
    this.rows.clear();
    const source = this.#routes.source();
    const route = this.#routes.of(source);
    if (route) this.#follow(source, route);
    else this.#walk(this.#seed());
    this.#routes.note(source, this.#count);
    return this.#changed.subarray(0, this.#count);
  }

  /** From the lowest mark upward, while marks remain. */
  #walk(lowest: number): void {
    const book = this.#book;
    const marks = this.#marks;
    const { dirty } = marks;
    const { slotAt, startAt, endAt, dependentStart, dependents } = book;
    for (let rank = lowest; rank <= marks.highest; rank++) {
      const mark = dirty[rank]!;
      if (mark === CLEAN) continue;
      dirty[rank] = CLEAN;
      const slot = slotAt[rank]!;
      if (slot < 0) {
        this.#other(rank, mark);
        continue;
      }
      const { values, states } = book.storage;
      const before = values[slot]!;
      run(book.code, values, startAt[rank]!, endAt[rank]!, this.#sites);
      const after = values[slot]!;
      if (after - after !== 0 || states[slot] !== VALUE) {
        if (!this.#settleCell(book.nodeAt[rank]!, slot, before)) continue;
      } else if (before === after && (before !== 0 || Object.is(before, after))) continue;
      this.#changed[this.#count++] = book.nodeAt[rank]!;
      for (let k = dependentStart[rank]!, end = dependentStart[rank + 1]!; k < end; k++) {
        const to = dependents[k]!;
        dirty[to] = ALL;
        if (to > marks.highest) marks.highest = to;
      }
    }
  }

  /** Along a route: short formulas are all worked out, without a look at marks; whatever may cost more needs one. */
  #follow(source: number, route: Route): void {
    const book = this.#book;
    const { dirty } = this.#marks;
    const { ids, stretches, markedStart, marked } = route;
    book.changedSources.clear();
    this.#changed[this.#count++] = source;
    for (let k = 0; k < markedStart[0]!; k++) dirty[marked[k]!] = ALL;
    let at = 0;
    for (let k = 0; k < stretches.length; k += 4) {
      for (; at < stretches[k]!; at++) this.#marked(ids[at]!);
      this.#stretch(route, k);
      at = stretches[k + 1]!;
    }
    for (; at < ids.length; at++) this.#marked(ids[at]!);
    // Short formulas may have been marked by costly ones, and nobody looked.
    dirty.fill(CLEAN, 0, book.nodeAt.length);
  }

  /** Has machine code work out the cells of a stretch, and looks at those it lists: all others have changed. */
  #stretch(route: Route, k: number): void {
    const { ids, stretches, list, placeOf, run } = route;
    const { values, states } = this.#book.storage;
    list.clear();
    run(stretches[k + 2]!, stretches[k + 3]!);
    /** From here on all have changed so far. */
    let since = stretches[k]!;
    for (let entry = 0, end = list.length; entry < end; entry++) {
      const slot = list.slot(entry);
      const at = placeOf[slot]!;
      const before = list.before(entry);
      const after = values[slot]!;
      const isSame =
        after - after !== 0 || states[slot] !== VALUE
          ? !this.#settleCell(ids[at]!, slot, before)
          : Object.is(before, after);
      if (!isSame) continue;
      this.#note(route, since, at);
      since = at + 1;
    }
    this.#note(route, since, stretches[k + 1]!);
  }

  /** Places of a route that changed. */
  #note({ ids, marked, markedStart }: Route, from: number, to: number): void {
    if (to <= from) return;
    this.#changed.set(ids.subarray(from, to), this.#count);
    this.#count += to - from;
    const { dirty } = this.#marks;
    for (let m = markedStart[from]!, end = markedStart[to]!; m < end; m++) dirty[marked[m]!] = ALL;
  }

  /** A node on a route that is worked out only when marked. */
  #marked(id: number): void {
    const book = this.#book;
    const { dirty } = this.#marks;
    const rank = book.rankOf[id]!;
    const mark = dirty[rank]!;
    if (mark === CLEAN) return;
    dirty[rank] = CLEAN;
    const slot = book.slotAt[rank]!;
    if (slot < 0) {
      this.#other(rank, mark);
      return;
    }
    const { values, states } = book.storage;
    const before = values[slot]!;
    run(book.code, values, book.startAt[rank]!, book.endAt[rank]!, this.#sites);
    const after = values[slot]!;
    const isOther =
      after - after !== 0 || states[slot] !== VALUE
        ? this.#settleCell(id, slot, before)
        : !Object.is(before, after);
    if (!isOther) return;
    this.#changed[this.#count++] = id;
    this.#marks.readers(rank);
  }

  /**
   * Works one node out again whatever changed, and marks nobody: for sampled runs, which know their order. `odd` notes
   * the rows that the fast run does not get through, which are not tried again.
   */
  again(rank: number, rows: readonly number[], odd: Uint8Array): void {
    const book = this.#book;
    const { values, states, causes } = book.storage;
    const slot = book.slotAt[rank]!;
    if (slot >= 0) {
      run(book.code, values, book.startAt[rank]!, book.endAt[rank]!, this.#sites);
      if (Number.isFinite(values[slot])) states[slot] = VALUE;
      else this.#careful(book.node(book.nodeAt[rank]!));
      return;
    }
    const node = book.node(book.nodeAt[rank]!);
    if (!node.type) return;
    if (node.kind === 'column' && node.formula && node.data) {
      for (let k = 0; k < rows.length; k++) {
        this.#columns.row(node, rows[k]!, odd[k] === 1);
        if (this.#columns.wasOdd) odd[k] = 1;
      }
    } else if (node.kind === 'aggregate') this.#refreshAggregate(node, true);
    else if (node.kind === 'cell' && node.formula) {
      run(book.code, values, node.codeStart, node.codeEnd, this.#sites);
      for (let k = 0; k < node.width; k++) {
        if (!Number.isFinite(values[node.slot + k])) {
          this.#careful(node);
          return;
        }
        states[node.slot + k] = VALUE;
        causes.delete(node.slot + k);
      }
    }
  }

  /** Marks what waits from the last edits; gives the lowest marked rank. */
  #seed(): number {
    const book = this.#book;
    const marks = this.#marks;
    let lowest = book.nodeAt.length;
    for (const id of book.mustRun) {
      const node = book.nodes[id];
      if (!node) continue;
      const rank = book.rankOf[id]!;
      marks.one(rank);
      if (rank < lowest) lowest = rank;
    }
    book.mustRun.clear();
    for (const [id, [from, to]] of book.mustRunRows) {
      if (!book.nodes[id]) continue;
      const rank = book.rankOf[id]!;
      marks.rows(rank, from, to);
      if (rank < lowest) lowest = rank;
    }
    book.mustRunRows.clear();
    for (const id of book.changedSources) {
      if (!book.nodes[id]) continue;
      const rank = book.rankOf[id]!;
      this.#changed[this.#count++] = id;
      marks.readers(rank);
      if (rank < lowest) lowest = rank;
    }
    book.changedSources.clear();
    for (const [id, [from, to]] of book.changedRows) {
      const node = book.nodes[id];
      if (!node?.data) continue;
      this.#rowsChanged(node, book.rankOf[id]!, from, Math.min(to, node.data.rows));
      lowest = Math.min(lowest, book.rankOf[id]!);
    }
    book.changedRows.clear();
    return lowest;
  }

  #rowsChanged(node: GraphNode, rank: number, from: number, to: number): void {
    this.#changed[this.#count++] = node.id;
    const told = this.rows.get(node.id);
    this.rows.set(node.id, told ? [Math.min(told[0], from), Math.max(told[1], to)] : [from, to]);
    if (node.data) {
      this.#sites.columnChanged(node.data);
      for (const field of node.data.fields) field.parts?.forget(from, to);
    }
    this.#marks.wholeReaders(node, rank, from, to);
    this.#marks.rowReaders(node, from, to);
  }

  /** A cell whose fast result is no finite number, or was none before: finds the state. False: nothing changed. */
  #settleCell(id: number, slot: number, before: number): boolean {
    const book = this.#book;
    const { values, states, causes } = book.storage;
    const state = states[slot]!;
    const cause = causes.get(slot);
    if (Number.isFinite(values[slot])) {
      states[slot] = VALUE;
      causes.delete(slot);
    } else {
      this.#careful(book.node(id));
    }
    return (
      states[slot] !== state ||
      !Object.is(values[slot], before) ||
      (state !== VALUE && !sameCause(causes.get(slot), cause))
    );
  }

  #careful(node: GraphNode): void {
    const book = this.#book;
    this.#sites.careful.run(book.code, book.origins, node.text, node.codeStart, node.codeEnd);
  }

  #other(rank: number, mark: number): void {
    const node = this.#book.node(this.#book.nodeAt[rank]!);
    if (node.kind === 'column') this.#columns.run(node, rank, mark);
    else if (node.kind === 'aggregate') this.#aggregate(node, rank);
    else if (node.formula && node.type) this.#wide(node, rank);
    else {
      // Became invalid, unknown, or a typed value: its readers must look again.
      this.#changed[this.#count++] = node.id;
      this.#marks.readers(rank);
    }
  }

  /** A cell that holds a record. */
  #wide(node: GraphNode, rank: number): void {
    const { values, states, causes } = this.#book.storage;
    const before = values.slice(node.slot, node.slot + node.width);
    const statesBefore = states.slice(node.slot, node.slot + node.width);
    const causesBefore: (Cause | undefined)[] = [];
    for (let k = 0; k < node.width; k++) causesBefore.push(causes.get(node.slot + k));
    run(this.#book.code, values, node.codeStart, node.codeEnd, this.#sites);
    let finite = true;
    for (let k = 0; k < node.width; k++) if (!Number.isFinite(values[node.slot + k])) finite = false;
    if (finite)
      for (let k = 0; k < node.width; k++) {
        states[node.slot + k] = VALUE;
        causes.delete(node.slot + k);
      }
    else this.#careful(node);
    for (let k = 0; k < node.width; k++)
      if (
        !Object.is(before[k], values[node.slot + k]) ||
        statesBefore[k] !== states[node.slot + k] ||
        !sameCause(causesBefore[k], causes.get(node.slot + k))
      ) {
        this.#changed[this.#count++] = node.id;
        this.#marks.readers(rank);
        return;
      }
  }

  #aggregate(node: GraphNode, rank: number): void {
    const { values, states, causes } = this.#book.storage;
    const before = values[node.slot]!;
    const state = states[node.slot]!;
    const cause = causes.get(node.slot);
    this.#refreshAggregate(node, false);
    if (
      Object.is(before, values[node.slot]) &&
      state === states[node.slot] &&
      sameCause(cause, causes.get(node.slot))
    )
      return;
    this.#changed[this.#count++] = node.id;
    this.#marks.readers(rank);
  }

  /** `afresh`: whatever the column's partial results say. */
  #refreshAggregate(node: GraphNode, afresh: boolean): void {
    const { values, states, causes } = this.#book.storage;
    const column = node.aggregate && this.#book.byKey.get(node.aggregate.column);
    if (!node.type || !column?.data || !node.aggregate) return;
    if (afresh) column.data.fields[node.aggregate.offset]?.parts?.forget(0, column.data.rows);
    const result = combine(node.aggregate, column, this.#book.code);
    values[node.slot] = result.value;
    states[node.slot] = result.state;
    if (result.cause) causes.set(node.slot, result.cause);
    else causes.delete(node.slot);
  }
}

/**
 * Recalculation: marks what reads a changed value and walks the ranks upward while marks remain. A result that did
 * not change marks nobody. Every node is worked out at most once.
 */
import { run } from '../formula/tape.ts';
import { combine } from './aggregate.ts';
import type { Book } from './book.ts';
import { CHUNK } from './kernel.ts';
import type { GraphNode } from './node.ts';
import { total } from './parts.ts';
import type { Sites } from './sites.ts';
import { sameCause, VALUE, WAITING, type Cause } from './storage.ts';

/** Below this many rows a column is worked out row by row, and rows that did not change are told apart. */
const FEW_ROWS = 64;
/** Marks by rank: nothing, a range of rows, everything. */
const CLEAN = 0;
const RANGE = 2;
const ALL = 1;

export class Sweep {
  readonly #book: Book;
  readonly #sites: Sites;
  #dirty = new Uint8Array(0);
  #low = new Int32Array(0);
  #high = new Int32Array(0);
  #highest = -1;
  /** Ids of what changed, in order of calculation. */
  #changed = new Int32Array(64);
  #count = 0;
  /** Whether the row that was worked out last needed the careful run. */
  #wasOdd = false;
  /** Rows that changed, of columns. */
  readonly rows = new Map<number, readonly [number, number]>();

  constructor(book: Book, sites: Sites) {
    this.#book = book;
    this.#sites = sites;
  }

  /** Runs everything that is marked; the ids that changed stand in the result until the next run. */
  run(): Int32Array {
    const book = this.#book;
    const count = book.nodeAt.length;
    if (this.#dirty.length < count) {
      this.#dirty = new Uint8Array(count * 2);
      this.#low = new Int32Array(count * 2);
      this.#high = new Int32Array(count * 2);
    }
    // A node may be told three times: its type, its typed rows, its results.
    if (this.#changed.length < count * 3) this.#changed = new Int32Array(count * 6);
    this.#count = 0;
    this.#highest = -1;
    this.rows.clear();
    let lowest = this.#seed(count);

    const dirty = this.#dirty;
    const { slotAt, startAt, endAt, dependentStart, dependents } = book;
    for (; lowest <= this.#highest; lowest++) {
      const mark = dirty[lowest]!;
      if (mark === CLEAN) continue;
      dirty[lowest] = CLEAN;
      const slot = slotAt[lowest]!;
      if (slot < 0) {
        this.#other(lowest, mark);
        continue;
      }
      const { values, states } = book.storage;
      const before = values[slot]!;
      run(book.code, values, startAt[lowest]!, endAt[lowest]!, this.#sites);
      const after = values[slot]!;
      if (after - after !== 0 || states[slot] !== VALUE) {
        if (!this.#settleCell(lowest, slot, before)) continue;
      } else if (before === after && (before !== 0 || Object.is(before, after))) continue;
      this.#changed[this.#count++] = book.nodeAt[lowest]!;
      for (let k = dependentStart[lowest]!, end = dependentStart[lowest + 1]!; k < end; k++) {
        const rank = dependents[k]!;
        dirty[rank] = ALL;
        if (rank > this.#highest) this.#highest = rank;
      }
    }
    return this.#changed.subarray(0, this.#count);
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
        this.#row(node, rows[k]!, odd[k] === 1);
        if (this.#wasOdd) odd[k] = 1;
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
  #seed(count: number): number {
    const book = this.#book;
    let lowest = count;
    for (const id of book.mustRun) {
      const node = book.nodes[id];
      if (!node) continue;
      const rank = book.rankOf[id]!;
      this.#dirty[rank] = ALL;
      if (rank > this.#highest) this.#highest = rank;
      if (rank < lowest) lowest = rank;
    }
    book.mustRun.clear();
    for (const id of book.changedSources) {
      if (!book.nodes[id]) continue;
      const rank = book.rankOf[id]!;
      this.#changed[this.#count++] = id;
      this.#markFull(rank);
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

  #markFull(rank: number): void {
    const { dependentStart, dependents } = this.#book;
    for (let k = dependentStart[rank]!, end = dependentStart[rank + 1]!; k < end; k++) {
      const to = dependents[k]!;
      this.#dirty[to] = ALL;
      if (to > this.#highest) this.#highest = to;
    }
  }

  #rowsChanged(node: GraphNode, rank: number, from: number, to: number): void {
    this.#changed[this.#count++] = node.id;
    const told = this.rows.get(node.id);
    this.rows.set(node.id, told ? [Math.min(told[0], from), Math.max(told[1], to)] : [from, to]);
    if (node.data) {
      this.#sites.columnChanged(node.data);
      for (const field of node.data.fields) field.parts?.forget(from, to);
    }
    this.#markFull(rank);
    for (const reader of node.rowDependents) {
      if (this.#dirty[reader] === CLEAN) {
        this.#dirty[reader] = RANGE;
        this.#low[reader] = from;
        this.#high[reader] = to;
      } else if (this.#dirty[reader] === RANGE) {
        this.#low[reader] = Math.min(this.#low[reader]!, from);
        this.#high[reader] = Math.max(this.#high[reader]!, to);
      }
      if (reader > this.#highest) this.#highest = reader;
    }
  }

  /** A cell whose fast result is no finite number, or was none before: finds the state. False: nothing changed. */
  #settleCell(rank: number, slot: number, before: number): boolean {
    const book = this.#book;
    const { values, states, causes } = book.storage;
    const state = states[slot]!;
    const cause = causes.get(slot);
    if (Number.isFinite(values[slot])) {
      states[slot] = VALUE;
      causes.delete(slot);
    } else {
      const node = book.node(book.nodeAt[rank]!);
      this.#careful(node);
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
    if (node.kind === 'column') this.#column(node, rank, mark);
    else if (node.kind === 'aggregate') this.#aggregate(node, rank);
    else if (node.formula && node.type) this.#wide(node, rank);
    else {
      // Became invalid, unknown, or a typed value: its readers must look again.
      this.#changed[this.#count++] = node.id;
      this.#markFull(rank);
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
        this.#markFull(rank);
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
    this.#markFull(rank);
  }

  /** `afresh`: whatever the column's partial results say. */
  #refreshAggregate(node: GraphNode, afresh: boolean): void {
    const { values, states, causes } = this.#book.storage;
    const column = node.aggregate && this.#book.byKey.get(node.aggregate.column);
    if (!node.type || !column?.data || !node.aggregate) return;
    if (afresh) column.data.fields[node.aggregate.offset]?.parts?.forget(0, column.data.rows);
    const result = combine(node.aggregate, column);
    values[node.slot] = result.value;
    states[node.slot] = result.state;
    if (result.cause) causes.set(node.slot, result.cause);
    else causes.delete(node.slot);
  }

  #column(node: GraphNode, rank: number, mark: number): void {
    const data = node.data;
    if (!data) return;
    const from = mark === ALL ? 0 : this.#low[rank]!;
    const to = mark === ALL ? data.rows : Math.min(this.#high[rank]!, data.rows);
    if (!node.formula || (to <= from && mark !== ALL)) {
      if (!node.formula) this.#rowsChanged(node, rank, 0, data.rows);
      return;
    }
    if (node.type === undefined) {
      for (const field of data.fields) {
        field.values.fill(NaN);
        field.states.fill(WAITING);
      }
      data.causes.clear();
      this.#rowsChanged(node, rank, 0, data.rows);
      return;
    }
    if (node.kernel && to - from >= FEW_ROWS) {
      this.#rowsChanged(node, rank, from, to);
      this.#kernel(node, from, to);
      return;
    }
    let low = to;
    let high = from;
    for (let row = from; row < to; row++)
      if (this.#row(node, row)) {
        if (row < low) low = row;
        high = row + 1;
      }
    if (high > low) this.#rowsChanged(node, rank, low, high);
    else if (mark === ALL && data.rows === 0) this.#rowsChanged(node, rank, 0, 0);
  }

  /** Works out one row of a computed column; an `odd` one is known to need the careful run. True: its value or state changed. */
  #row(node: GraphNode, row: number, odd = false): boolean {
    const data = node.data!;
    if (data.overrides.has(row)) return false;
    const { values, states, causes } = this.#book.storage;
    this.#sites.enterRow(node.inputs, row);
    let finite = !odd;
    if (finite) run(this.#book.code, values, node.codeStart, node.codeEnd, this.#sites);
    for (let k = 0; finite && k < node.width; k++) finite = Number.isFinite(values[node.rowResult + k]);
    this.#wasOdd = !finite;
    if (!finite) this.#careful(node);
    let changed = false;
    for (let k = 0; k < node.width; k++) {
      const field = data.fields[k]!;
      const value = values[node.rowResult + k]!;
      const state = finite ? VALUE : states[node.rowResult + k]!;
      if (!Object.is(field.values[row], value) || field.states[row] !== state) {
        field.values[row] = value;
        field.states[row] = state;
        changed = true;
      }
    }
    const known = data.causes.get(row);
    if (finite) {
      if (known) data.causes.delete(row);
      return changed || known !== undefined;
    }
    let cause = undefined;
    for (let k = 0; k < node.width && !cause; k++)
      if (states[node.rowResult + k] !== VALUE) cause = causes.get(node.rowResult + k);
    if (cause) data.causes.set(row, cause);
    else data.causes.delete(row);
    return changed || !sameCause(known, cause);
  }

  #kernel(node: GraphNode, from: number, to: number): void {
    const book = this.#book;
    const data = node.data!;
    const { values } = book.storage;
    const { run: kernel, prelude } = node.kernel!;
    const columns = node.inputs.map((input) => {
      const source = book.node(input.node);
      return source.data!.fields[input.offset]!.values;
    });
    run(prelude, values, 0, prelude.length, this.#sites);
    const { values: out, states, parts } = data.fields[0]!;
    const kept = [...data.overrides].map((row) => [row, out[row]!, states[row]!] as const);
    kernel.run(columns, values, out, from, to);
    states.fill(VALUE, from, to);
    if (data.causes.size)
      for (const row of [...data.causes.keys()])
        if (row >= from && row < to && !data.overrides.has(row)) data.causes.delete(row);
    for (const [row, value, state] of kept) {
      out[row] = value;
      states[row] = state;
    }
    // A sum tells at once whether some row is no value, and the column's aggregates may want it.
    for (let at = from; at < to;) {
      const chunk = Math.floor(at / CHUNK);
      const end = Math.min(to, (chunk + 1) * CHUNK);
      const sum = total(out, at, end);
      if (sum - sum !== 0) this.#odd(node, at, end);
      else if (at === chunk * CHUNK && (end === data.rows || end - at === CHUNK)) parts?.learn(chunk, sum);
      at = end;
    }
  }

  /** Works out singly those of the rows that a kernel gave no finite number for. */
  #odd(node: GraphNode, from: number, to: number): void {
    const out = node.data!.fields[0]!.values;
    for (let row = from; row < to; row++) if (!Number.isFinite(out[row])) this.#row(node, row, true);
  }
}

/** Everything that rests on some nodes: marked from rank to rank, without recursion and without making anything. */
import type { Book } from './book.ts';
import { rowsConcerned } from './keyed-reads.ts';

const CLEAN = 0;
/** Of a column, some rows. */
const ROWS = 1;
const WHOLE = 2;

export type Rows = readonly [from: number, to: number];

export class Affected {
  readonly #book: Book;
  /** By rank. */
  #marks = new Uint8Array(0);
  /** By rank, of what is marked by rows. */
  #low = new Int32Array(0);
  #high = new Int32Array(0);
  #ids = new Int32Array(0);
  /** By id, of columns of which only these rows are affected; of the last call. */
  readonly rows = new Map<number, Rows>();

  constructor(book: Book) {
    this.#book = book;
  }

  /**
   * Ids of the nodes, of those columns of which only some rows are another, and of all that read either, directly or
   * not. Good until the next call.
   */
  by(seeds: Iterable<number>, rowSeeds: ReadonlyMap<number, Rows>): Int32Array {
    const { nodes, nodeAt, rankOf, slotAt, dependentStart, dependents } = this.#book;
    this.#room(nodeAt.length, nodes.length);
    this.rows.clear();
    const marks = this.#marks;
    const ids = this.#ids;
    let count = 0;
    let lowest = nodeAt.length;
    let highest = -1;
    const seed = (id: number, rows: Rows | undefined): void => {
      const rank = nodes[id] ? (rankOf[id] ?? -1) : -1;
      if (rank < 0) {
        ids[count++] = id;
        return;
      }
      if (rows) this.#markRows(rank, rows[0], rows[1]);
      else marks[rank] = WHOLE;
      if (rank < lowest) lowest = rank;
      if (rank > highest) highest = rank;
    };
    for (const id of seeds) seed(id, undefined);
    for (const [id, rows] of rowSeeds) seed(id, rows);
    for (let rank = lowest; rank <= highest; rank++) {
      const mark = marks[rank]!;
      if (mark === CLEAN) continue;
      marks[rank] = CLEAN;
      const id = nodeAt[rank]!;
      ids[count++] = id;
      // Of a cell there are no rows to speak of.
      const node = slotAt[rank]! < 0 ? nodes[id]! : undefined;
      // An aggregate is one value, whatever rows it was marked by.
      const rows: Rows | undefined =
        mark === ROWS && node?.kind === 'column' ? [this.#low[rank]!, this.#high[rank]!] : undefined;
      if (rows) this.rows.set(id, rows);
      for (let k = dependentStart[rank]!, end = dependentStart[rank + 1]!; k < end; k++) {
        const reader = dependents[k]!;
        // In a circle of cells, which have no values, some stand before what they read.
        if (reader <= rank) continue;
        const found = rows
          ? rowsConcerned(this.#book, this.#book.node(nodeAt[reader]!), id, rows[0], rows[1])
          : 'all';
        if (found === 'none') continue;
        if (found === 'all') marks[reader] = WHOLE;
        else this.#markRows(reader, found[0], found[1]);
        if (reader > highest) highest = reader;
      }
      if (!node) continue;
      for (const reader of node.rowDependents) {
        if (reader <= rank) continue;
        if (rows) this.#markRows(reader, rows[0], rows[1]);
        else marks[reader] = WHOLE;
        if (reader > highest) highest = reader;
      }
    }
    return ids.subarray(0, count);
  }

  #markRows(rank: number, from: number, to: number): void {
    if (this.#marks[rank] === WHOLE) return;
    const isFirst = this.#marks[rank] === CLEAN;
    this.#low[rank] = isFirst ? from : Math.min(this.#low[rank]!, from);
    this.#high[rank] = isFirst ? to : Math.max(this.#high[rank]!, to);
    this.#marks[rank] = ROWS;
  }

  #room(ranks: number, nodes: number): void {
    if (this.#marks.length < ranks) {
      this.#marks = new Uint8Array(2 * ranks);
      this.#low = new Int32Array(2 * ranks);
      this.#high = new Int32Array(2 * ranks);
    }
    if (this.#ids.length < 2 * nodes) this.#ids = new Int32Array(4 * nodes);
  }
}

/** Of what is known by node, then by row and field: few rows change at a time, or few are known. */
export function forgetRows(
  byNode: Map<number, Map<number, unknown>>,
  id: number,
  rows: Rows | undefined,
  width: number,
): void {
  const known = byNode.get(id);
  if (!known) return;
  if (!rows) {
    byNode.delete(id);
    return;
  }
  const from = rows[0] * width;
  const to = rows[1] * width;
  if (to - from <= known.size) for (let key = from; key < to; key++) known.delete(key);
  else for (const key of known.keys()) if (key >= from && key < to) known.delete(key);
}

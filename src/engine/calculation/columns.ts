/** Works out computed columns: kernels over many rows, row by row where there are few or one is odd. */
import { run } from '../formula/tape.ts';
import type { Book } from './book.ts';
import { CHUNK } from './kernel.ts';
import type { Coder } from './kernel-run.ts';
import { ALL, type Marks } from './marks.ts';
import type { GraphNode } from './node.ts';
import { total } from './parts.ts';
import { routeCode } from './route-code.ts';
import type { Sites } from './sites.ts';
import { sameCause, VALUE, WAITING } from './storage.ts';

/** Below this many rows a column is worked out row by row, and rows that did not change are told apart. */
const FEW_ROWS = 64;

/** By code that comes late. */
const coder: Coder = (kernel) => {
  const late = routeCode();
  return late && (late.kernelCode(kernel) ?? null);
};

export class Columns {
  readonly #book: Book;
  readonly #sites: Sites;
  readonly #marks: Marks;
  /** Told of rows that changed. */
  readonly #tell: (node: GraphNode, rank: number, from: number, to: number) => void;
  /** Whether the row that was worked out last needed the careful run. */
  wasOdd = false;

  constructor(
    book: Book,
    sites: Sites,
    marks: Marks,
    tell: (node: GraphNode, rank: number, from: number, to: number) => void,
  ) {
    this.#book = book;
    this.#sites = sites;
    this.#marks = marks;
    this.#tell = tell;
  }

  /** A marked column. */
  run(node: GraphNode, rank: number, mark: number): void {
    const data = node.data;
    if (!data) return;
    const from = mark === ALL ? 0 : this.#marks.low[rank]!;
    const to = mark === ALL ? data.rows : Math.min(this.#marks.high[rank]!, data.rows);
    if (!node.formula || (to <= from && mark !== ALL)) {
      if (!node.formula) this.#tell(node, rank, 0, data.rows);
      return;
    }
    if (node.type === undefined) {
      for (const field of data.fields) {
        field.values.fill(NaN);
        field.states.fill(WAITING);
      }
      data.causes.clear();
      this.#tell(node, rank, 0, data.rows);
      return;
    }
    if (node.kernel && to - from >= FEW_ROWS) {
      this.#tell(node, rank, from, to);
      this.#kernel(node, from, to);
      return;
    }
    let low = to;
    let high = from;
    for (let row = from; row < to; row++)
      if (this.row(node, row)) {
        if (row < low) low = row;
        high = row + 1;
      }
    if (high > low) this.#tell(node, rank, low, high);
    else if (mark === ALL && data.rows === 0) this.#tell(node, rank, 0, 0);
  }

  /** Works out one row of a computed column; an `odd` one is known to need the careful run. True: its value or state changed. */
  row(node: GraphNode, row: number, odd = false): boolean {
    const data = node.data!;
    if (data.overrides.has(row)) return false;
    const { values, states, causes } = this.#book.storage;
    this.#sites.enterRow(node.inputs, row);
    let finite = !odd;
    if (finite) run(this.#book.code, values, node.codeStart, node.codeEnd, this.#sites);
    for (let k = 0; finite && k < node.width; k++) finite = Number.isFinite(values[node.rowResult + k]);
    this.wasOdd = !finite;
    if (!finite)
      this.#sites.careful.run(this.#book.code, this.#book.origins, node.text, node.codeStart, node.codeEnd);
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
    const chunks = kernel.run(columns, values, out, from, to, coder);
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
      if (chunks?.isSound && chunk === chunks.from && kept.length === 0) {
        parts?.learnAll(chunk, chunks.to, chunks);
        at = chunks.to * CHUNK;
        continue;
      }
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
    for (let row = from; row < to; row++) if (!Number.isFinite(out[row])) this.row(node, row, true);
  }
}

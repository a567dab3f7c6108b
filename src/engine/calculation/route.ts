/**
 * Routes: how a wide edit that comes again and again is worked out. Marking every reader of every changed cell, and
 * going through instructions in ever another pattern, costs several times the arithmetic itself; so what one source
 * reaches is ordered once more, formulas of one shape side by side, and these are run as machine code. Only their
 * slots come from a workbook, and where a page may not make code everything goes on as before.
 */
import { HEAD, List, machineCode, operandsOf, type RunStretches } from '../formula/machine-code.ts';
import { Shapes } from '../formula/shape.ts';
import type { Book } from './book.ts';

/** Of the shapes of formulas that are ready, so many are looked through for the most frequent one. */
const LOOKED_THROUGH = 32;
/** Shape of what is no single cell, or calls, jumps or is long, and may be costly. */
const COSTLY = -1;

export interface Route {
  /** Nodes that the source reaches, in an order of calculation. */
  readonly ids: Int32Array;
  /** Four numbers each: places from and to that lie side by side, and the addresses of their machine code. */
  readonly stretches: Int32Array;
  /** By place, into `marked`: the readers that need a mark when this changed. */
  readonly markedStart: Int32Array;
  /** Ranks; those that the source marks come first. */
  readonly marked: Int32Array;
  /** The engine's values, on which its machine code works; a route is none where they lie elsewhere by now. */
  readonly values: Float64Array;
  readonly run: RunStretches;
  readonly list: List;
  /** By slot: its place. */
  readonly placeOf: Int32Array;
}

/** Undefined where a circle of cells is reached, which has no order, or machine code cannot be made. */
export function routeFrom(book: Book, source: number): Route | undefined {
  const { slotAt, startAt, endAt, nodeAt } = book;
  const shapes = new Shapes();
  const { starts, readers } = readersOf(book);
  const { reached, open } = reachedFrom(source, starts, readers);
  const shapeAt = new Int32Array(nodeAt.length).fill(COSTLY);
  for (const rank of reached)
    if (slotAt[rank]! >= 0) shapeAt[rank] = shapes.of(book.code, startAt[rank]!, endAt[rank]!);
  const count = reached.length;
  const ids = new Int32Array(count);
  const placeOf = new Int32Array(book.storage.used);
  const marked: number[] = [];
  const markedStart = new Int32Array(count + 1);
  const stretches: number[] = [];
  const words = new Words(book, shapes, reached, shapeAt);
  if (!words.memory) return undefined;
  const ready = new Map<number, number[]>();
  const pass = (rank: number): void => {
    for (let k = starts[rank]!; k < starts[rank + 1]!; k++) {
      const to = readers[k]!;
      const shape = shapeAt[to]!;
      if (shape === COSTLY) marked.push(to);
      if (--open[to]! > 0) continue;
      const list = ready.get(shape);
      if (list) list.push(to);
      else ready.set(shape, [to]);
    }
  };
  pass(source);
  markedStart[0] = marked.length;
  for (let at = 0; at < count;) {
    const shape = mostFrequent(ready);
    const ranks = ready.get(shape);
    if (!ranks) return undefined;
    ready.delete(shape);
    if (shape !== COSTLY) {
      const [from, to] = words.stretch(shape, ranks);
      // Stretches that follow each other are one for whoever walks the route.
      if (stretches.length > 0 && stretches.at(-3) === at)
        stretches.splice(-3, 3, at + ranks.length, stretches.at(-2)!, to);
      else stretches.push(at, at + ranks.length, from, to);
    }
    for (const rank of ranks) {
      ids[at] = nodeAt[rank]!;
      if (shape !== COSTLY) placeOf[slotAt[rank]!] = at;
      pass(rank);
      markedStart[++at] = marked.length;
    }
  }
  words.put(words.memory);
  const list = new List(words.memory, words.end);
  const run = machineCode(shapes, words.memory, list);
  if (!run) return undefined;
  return {
    ids,
    stretches: Int32Array.from(stretches),
    markedStart,
    marked: Int32Array.from(marked),
    values: book.storage.values,
    run,
    list,
    placeOf,
  };
}

const DOUBLE = 8;
const WORD = 4;

/** The stretches of a route as machine code reads them: behind the values, in their order. */
class Words {
  readonly #book: Book;
  readonly #places: (readonly number[])[];
  readonly #start: number;
  readonly #words: number[] = [];
  /** None where the page may have none. */
  readonly memory: WebAssembly.Memory | undefined;

  constructor(book: Book, shapes: Shapes, reached: readonly number[], shapeAt: Int32Array) {
    this.#book = book;
    this.#places = Array.from({ length: shapes.count }, (_, shape) => operandsOf(shapes.tree(shape)));
    let bytes = List.bytes(reached.length);
    for (const rank of reached)
      if (shapeAt[rank] !== COSTLY) bytes += HEAD + WORD * (1 + this.#places[shapeAt[rank]!]!.length);
    const shared = book.storage.share(bytes);
    this.memory = shared?.memory;
    this.#start = shared?.address ?? 0;
  }

  /** Address behind all that was written. */
  get end(): number {
    return this.#start + this.#words.length * WORD;
  }

  /** Formulas of one shape side by side; gives the addresses of their code. */
  stretch(shape: number, ranks: readonly number[]): [from: number, to: number] {
    const { slotAt, startAt, code } = this.#book;
    const words = this.#words;
    const places = this.#places[shape]!;
    const from = this.end;
    const to = from + HEAD + ranks.length * WORD * (1 + places.length);
    words.push(shape, to);
    for (const rank of ranks) {
      words.push(slotAt[rank]! * DOUBLE);
      for (const place of places) words.push(code[startAt[rank]! + place]! * DOUBLE);
    }
    return [from, to];
  }

  put(memory: WebAssembly.Memory): void {
    new Int32Array(memory.buffer).set(this.#words, this.#start / WORD);
  }
}

/** Of the shapes that are ready, or the first few of them. */
function mostFrequent(ready: ReadonlyMap<number, readonly number[]>): number {
  let most = 0;
  let its = COSTLY;
  let looked = 0;
  for (const [shape, list] of ready) {
    if (list.length > most) {
      most = list.length;
      its = shape;
    }
    if (++looked === LOOKED_THROUGH) break;
  }
  return its;
}

/** By rank, whoever reads a node as a whole or row by row. */
function readersOf(book: Book): { starts: Int32Array; readers: Int32Array } {
  const { dependentStart, dependents, nodeAt, nodes } = book;
  const count = nodeAt.length;
  const rows = new Map<number, Int32Array>();
  let more = 0;
  for (let rank = 0; rank < count; rank++) {
    const list = nodes[nodeAt[rank]!]?.rowDependents;
    if (!list || list.length === 0) continue;
    rows.set(rank, list);
    more += list.length;
  }
  if (more === 0) return { starts: dependentStart, readers: dependents };
  const starts = new Int32Array(count + 1);
  const readers = new Int32Array(dependents.length + more);
  let at = 0;
  for (let rank = 0; rank < count; rank++) {
    starts[rank] = at;
    const whole = dependents.subarray(dependentStart[rank], dependentStart[rank + 1]);
    readers.set(whole, at);
    at += whole.length;
    const list = rows.get(rank);
    if (!list) continue;
    readers.set(list, at);
    at += list.length;
  }
  starts[count] = at;
  return { starts, readers };
}

/** Ranks that a change of one may reach, and by rank how many readings of these and of the one there are. */
function reachedFrom(
  source: number,
  starts: Int32Array,
  readers: Int32Array,
): { reached: number[]; open: Int32Array } {
  const open = new Int32Array(starts.length - 1);
  const reached: number[] = [];
  for (let from = source, k = 0; ; from = reached[k++]!) {
    for (let r = starts[from]!; r < starts[from + 1]!; r++)
      if (open[readers[r]!]!++ === 0) reached.push(readers[r]!);
    if (k === reached.length) return { reached, open };
  }
}

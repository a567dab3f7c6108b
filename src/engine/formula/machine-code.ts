/**
 * Machine code for shapes of formulas, which works on the engine's own values. Formulas of one shape that stand side
 * by side are a stretch: the number of the shape, where it ends, and for each formula the addresses of its result and
 * of its operands. Every operation is the tape's, so that results are the same to the last bit; one that is not finite
 * is NaN, and for the careful run to explain. What came out the same or is no value, now or before, goes into a list.
 */
import type { Made, Operand, Shapes } from './shape.ts';
import { callForeign, codeOfTwice, FOREIGN, instanceOf, ONE, plainCode } from './operation-code.ts';
import { OP } from './tape.ts';
import { EMPTY, F64, f64, I32, i32, unsigned, W, type FunctionCode } from './wasm-module.ts';

/** Type of functions that go through addresses. */
const THROUGH = 0;

/** Their parameters: where the addresses begin and end. */
const AT = 0;
const END = 1;

/** Runs stretches from one address up to another. */
export type RunStretches = (from: number, to: number) => void;

/** Bytes of an entry of a list: the address of the result, and as a double what it was before. */
const LISTED = 16;
const BEFORE = 8;

/** What a run lists: results that are the same as before or no value, and those that were none before. */
export class List {
  readonly #integers: Int32Array;
  readonly #doubles: Float64Array;
  /** Address of the word that says where the list goes on, and of the first entry. */
  readonly end: number;
  readonly #first: number;

  /** Bytes that one of so many entries takes, wherever it begins. */
  static bytes(entries: number): number {
    return LISTED * (entries + 2);
  }

  constructor(memory: WebAssembly.Memory, address: number) {
    this.#integers = new Int32Array(memory.buffer);
    this.#doubles = new Float64Array(memory.buffer);
    this.end = address;
    this.#first = Math.ceil((address + 4) / LISTED) * LISTED;
  }

  clear(): void {
    this.#integers[this.end / 4] = this.#first;
  }

  get length(): number {
    return ((this.#integers[this.end / 4] ?? 0) - this.#first) / LISTED;
  }

  /** Slot of the result. */
  slot(entry: number): number {
    return (this.#integers[(this.#first + LISTED * entry) / 4] ?? NaN) / 8;
  }

  before(entry: number): number {
    return this.#doubles[(this.#first + LISTED * entry + BEFORE) / 8] ?? NaN;
  }
}

/** Over a memory with values and stretches. Undefined where a page may not make code. */
export function machineCode(
  shapes: Shapes,
  memory: WebAssembly.Memory,
  list: List,
): RunStretches | undefined {
  const functions: FunctionCode[] = [];
  for (let shape = 0; shape < shapes.count; shape++)
    functions.push(new ShapeWriter(shapes.tree(shape), list.end).finish());
  const first = FOREIGN.size;
  const parts = {
    types: [
      [[I32, I32], []],
      [[F64, F64], [F64]],
    ],
    functions: [...functions, RUNNER],
    exported: first + functions.length,
    table: functions.map((_, shape) => first + shape),
  } as const;
  return instanceOf(parts, () => memory)?.run;
}

/** Bytes that the head of a stretch takes: its shape, and the address where it ends. */
export const HEAD = 8;
/** Addresses of one formula: its result, then the slots it reads in the order of the tree. */
export function operandsOf(tree: Made): number[] {
  const places: number[] = [];
  const visit = (of: Operand | undefined): void => {
    if (of === undefined) return;
    if (typeof of === 'number') {
      places.push(of);
      return;
    }
    visit(of.a);
    visit(of.b);
    visit(of.otherwise);
  };
  visit(tree);
  return places;
}

/** Goes from stretch to stretch, and has each worked out by the function of its shape. */
const RUNNER: FunctionCode = {
  type: THROUGH,
  locals: [[1, I32]],
  body: [
    ...[W.block, EMPTY, W.loop, EMPTY],
    ...[W.get, AT, W.get, END, W.geI32, W.brIf, 1],
    ...[W.get, AT, ...i32(HEAD), W.addI32],
    ...[W.get, AT, W.loadI32, 2, 4, W.tee, 2],
    ...[W.get, AT, W.loadI32, 2, 0, W.callIndirect, THROUGH, 0],
    ...[W.get, 2, W.set, AT, W.br, 0],
    ...[W.end, W.end],
  ],
};

/** Locals of the functions of shapes: addresses of the result and of the next entry of the list; then doubles. */
const RESULT = 2;
const NEXT = 3;
const DOUBLES = 4;

class ShapeWriter {
  readonly #tree: Made;
  readonly #listEnd: number;
  readonly #body: number[] = [];
  /** Locals for doubles that are in use. */
  #locals = 0;
  #next = 0;

  constructor(tree: Made, listEnd: number) {
    this.#tree = tree;
    this.#listEnd = listEnd;
  }

  finish(): FunctionCode {
    const width = 4 * (1 + operandsOf(this.#tree).length);
    this.#emit(W.loop, EMPTY, W.get, AT, W.loadI32, 2, 0, W.set, RESULT);
    const after = [W.get, ...unsigned(this.#kept(this.#tree))];
    const old = DOUBLES + this.#locals++;
    const before = [W.get, ...unsigned(old)];
    const apart = DOUBLES + this.#locals++;
    this.#emit(W.get, RESULT, W.loadF64, 3, 0, W.set, ...unsigned(old));
    this.#emit(W.get, RESULT, ...after, W.storeF64, 3, 0);
    this.#emit(...after, ...before, W.sub, W.abs, W.tee, ...unsigned(apart), ...f64(0), W.greater);
    this.#emit(W.get, ...unsigned(apart), ...f64(Infinity), W.less, W.andI32, W.eqzI32, W.if, EMPTY);
    // An endless result is none for its readers, who could make a number of it again.
    this.#emit(...after, ...after, W.sub, ...f64(0), W.ne, W.if, EMPTY);
    this.#emit(W.get, RESULT, ...f64(NaN), W.storeF64, 3, 0, W.end);
    const end = i32(this.#listEnd);
    this.#emit(...end, W.loadI32, 2, 0, W.tee, NEXT, W.get, RESULT, W.storeI32, 2, 0);
    this.#emit(W.get, NEXT, ...before, W.storeF64, 3, BEFORE);
    this.#emit(...end, W.get, NEXT, ...i32(LISTED), W.addI32, W.storeI32, 2, 0, W.end);
    this.#emit(W.get, END, W.get, AT, ...i32(width), W.addI32, W.tee, AT, W.gtI32, W.brIf, 0, W.end);
    return {
      type: THROUGH,
      locals: [
        [DOUBLES - RESULT, I32],
        [this.#locals, F64],
      ],
      body: this.#body,
    };
  }

  #emit(...bytes: number[]): void {
    this.#body.push(...bytes);
  }

  /** Leaves an operand on the stack. */
  #put(of: Operand): void {
    if (typeof of === 'number') {
      this.#next += 4;
      this.#emit(W.get, AT, W.loadI32, 2, ...unsigned(this.#next), W.loadF64, 3, 0);
      return;
    }
    const { op, a, b } = of;
    const plain = plainCode(op, ONE);
    if (plain !== undefined) {
      this.#put(a);
      if (b !== undefined) this.#put(b);
      this.#emit(...plain);
    } else if (op === OP.select) this.#choice(of);
    else if (FOREIGN.has(op)) {
      this.#put(a);
      if (b === undefined) this.#emit(...f64(0));
      else this.#put(b);
      this.#emit(...callForeign(op));
    } else {
      const x = this.#kept(a);
      const y = b === undefined ? x : this.#kept(b);
      this.#emit(...codeOfTwice(op, [W.get, ...unsigned(x)], [W.get, ...unsigned(y)], ONE));
    }
  }

  /** An operand in a local of its own. */
  #kept(of: Operand): number {
    this.#put(of);
    const local = DOUBLES + this.#locals++;
    this.#emit(W.set, ...unsigned(local));
    return local;
  }

  #choice({ a, b, otherwise }: Made): void {
    if (b === undefined || otherwise === undefined) throw new Error('a choice without its sides');
    const condition = this.#kept(a);
    const known = [W.get, ...unsigned(condition)];
    this.#emit(...known, ...f64(1), W.eq, W.if, F64);
    this.#put(b);
    this.#emit(W.else, ...known, ...f64(0), W.eq, W.if, F64);
    this.#put(otherwise);
    this.#emit(W.else, ...f64(NaN), W.end, W.end);
  }
}

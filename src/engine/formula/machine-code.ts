/**
 * Machine code for shapes of formulas. Values lie in a memory of their own; formulas of one shape that stand side by
 * side are a stretch: the number of the shape, how many there are, and for each the addresses of its result and of
 * its operands. Every operation is the tape's, so that results are the same to the last bit; one that is not finite
 * is NaN, and for the careful run to explain.
 */
import type { Made, Operand, Shapes } from './shape.ts';
import { callForeign, codeOfTwice, FOREIGN, instanceOf, PLAIN } from './operation-code.ts';
import { OP } from './tape.ts';
import { EMPTY, F64, f64, I32, i32, unsigned, W, type FunctionCode } from './wasm-module.ts';

/** Type of functions that go through addresses. */
const THROUGH = 0;

/** Their parameters: where the addresses begin and end. */
const AT = 0;
const END = 1;

export interface MachineCode {
  /** Values and stretches. */
  readonly memory: ArrayBuffer;
  /** Runs stretches from one address up to another. */
  readonly run: (from: number, to: number) => void;
}

/** With so many bytes of memory. Undefined where a page may not make code, or there is no room for it. */
export function machineCode(shapes: Shapes, bytes: number): MachineCode | undefined {
  const functions: FunctionCode[] = [];
  for (let shape = 0; shape < shapes.count; shape++)
    functions.push(new ShapeWriter(shapes.tree(shape)).finish());
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
  return instanceOf(parts, bytes);
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

class ShapeWriter {
  readonly #tree: Made;
  readonly #body: number[] = [];
  /** Locals for doubles that are in use, behind the two parameters. */
  #locals = 0;
  #next = 0;

  constructor(tree: Made) {
    this.#tree = tree;
  }

  finish(): FunctionCode {
    const width = 4 * (1 + operandsOf(this.#tree).length);
    this.#emit(W.loop, EMPTY);
    this.#emit(W.get, AT, W.loadI32, 2, 0);
    const result = this.#kept(this.#tree);
    // An endless result is none for its readers, who could make a number of it again.
    const get = [W.get, ...unsigned(result)];
    this.#emit(...get, ...get, W.sub, ...f64(0), W.ne, W.if, EMPTY, ...f64(NaN));
    this.#emit(W.set, ...unsigned(result), W.end, ...get, W.storeF64, 3, 0);
    this.#emit(W.get, END, W.get, AT, ...i32(width), W.addI32, W.tee, AT, W.gtI32, W.brIf, 0, W.end);
    return { type: THROUGH, locals: [[this.#locals, F64]], body: this.#body };
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
    const plain = PLAIN.get(op);
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
      this.#emit(...codeOfTwice(op, [W.get, ...unsigned(x)], [W.get, ...unsigned(y)]));
    }
  }

  /** An operand in a local of its own. */
  #kept(of: Operand): number {
    this.#put(of);
    const local = 2 + this.#locals++;
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

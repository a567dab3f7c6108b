/**
 * Machine code for a column kernel: four rows at a time, two to a register, with the partial results of each chunk on
 * the way. Columns are copied in and out by blocks that stay in a near cache. Every operation is that of the loops
 * (kernel-loops.ts), and sums are added up in the order of parts.ts, so that results are the same to the last bit.
 */
import { memoryOf } from '../formula/memory.ts';
import {
  codeOfChoice,
  codeOfTwice,
  FOREIGN,
  instanceOf,
  plainCode,
  TWO,
  type Instructions,
} from '../formula/operation-code.ts';
import { OP, operands } from '../formula/tape.ts';
import { EMPTY, F64, I32, i32, unsigned, V, V128, W } from '../formula/wasm-module.ts';
import { CHOICE, CHUNK, MOST_CHUNKS, SHAPE, type Kernel, type Step } from './kernel.ts';
import type { Doubles } from './kernel-loops.ts';
import { total, type ChunkResults } from './parts.ts';

/** Chunks that are worked out between copying in and copying out. */
const CHUNKS = 16;
const ROWS = CHUNKS * CHUNK;
/** Bytes of a block of one column, of a chunk, and of four rows. */
const BLOCK = 8 * ROWS;
const PART = 8 * CHUNK;
const FOUR = 32;
/** Sums of the chunks, their least values, and their greatest. */
const RESULTS = 3;

/** More columns or operations than these are left to the loops. */
const MOST_INPUTS = 16;
const MOST_STEPS = 96;

export class KernelCode {
  readonly #inputs: number;
  readonly #memory: Doubles;
  readonly #run: (end: number, results: number) => void;
  /** Slots of the scalars, in their order in memory. */
  readonly #scalars: readonly number[];
  #sums = new Float64Array(0);
  #least = new Float64Array(0);
  #greatest = new Float64Array(0);

  constructor(inputs: number, scalars: readonly number[], memory: Doubles, run: (...ends: number[]) => void) {
    this.#inputs = inputs;
    this.#scalars = scalars;
    this.#memory = memory;
    this.#run = run;
  }

  /** Works out chunks `from` up to `to`, no more than MOST_CHUNKS; what they come to stands there until the next run. */
  run(
    columns: readonly Doubles[],
    values: Float64Array,
    out: Doubles,
    from: number,
    to: number,
  ): ChunkResults {
    const memory = this.#memory;
    const inputs = this.#inputs;
    this.#scalars.forEach((slot, k) => (memory[SCALARS / 8 + k] = values[slot]!));
    for (let chunk = from; chunk < to; chunk += CHUNKS) {
      const chunks = Math.min(CHUNKS, to - chunk);
      const start = chunk * CHUNK;
      const end = start + chunks * CHUNK;
      for (let k = 0; k < inputs; k++) memory.set(columns[k]!.subarray(start, end), BLOCKS / 8 + k * ROWS);
      this.#run(chunks * PART, 8 * (chunk - from));
      const made = BLOCKS / 8 + inputs * ROWS;
      out.set(memory.subarray(made, made + end - start), start);
    }
    if (this.#sums.length < to) {
      this.#sums = new Float64Array(to);
      this.#least = new Float64Array(to);
      this.#greatest = new Float64Array(to);
    }
    const [sums, least, greatest] = [this.#sums, this.#least, this.#greatest];
    sums.set(memory.subarray(0, to - from), from);
    least.set(memory.subarray(MOST_CHUNKS, MOST_CHUNKS + to - from), from);
    greatest.set(memory.subarray(2 * MOST_CHUNKS, 2 * MOST_CHUNKS + to - from), from);
    return { from, to, sums, least, greatest, isSound: Number.isFinite(total(sums, from, to)) };
  }
}

/** In memory: results, scalars (three at the most for each operation), blocks. */
const SCALARS = 8 * RESULTS * MOST_CHUNKS;
const BLOCKS = SCALARS + 8 * 3 * MOST_STEPS;
const BYTES = BLOCKS + (MOST_INPUTS + 1) * BLOCK;
let memory: WebAssembly.Memory | undefined;
/** Of all kernels: each copies in what it needs, and takes out what it made. */
const shared = (): WebAssembly.Memory | undefined => (memory ??= memoryOf(BYTES));

/** Undefined where a page may not make code, or there is none for one of the kernel's operations. */
export function kernelCode(kernel: Kernel): KernelCode | undefined {
  const inputs = kernel.inputs.length;
  if (inputs > MOST_INPUTS || kernel.steps.length === 0 || kernel.steps.length > MOST_STEPS) return undefined;
  const writer = new KernelWriter(kernel);
  const body = writer.finish();
  if (!body) return undefined;
  const parts = {
    types: [
      [[I32, I32], []],
      [[F64, F64], [F64]],
    ],
    functions: [{ type: 0, ...body }],
    exported: FOREIGN.size,
    table: [],
  } as const;
  const made = instanceOf(parts, shared);
  return made && new KernelCode(inputs, writer.scalars, new Float64Array(made.memory), made.run);
}

type Bytes = readonly number[];

/** Parameters: how far to go in bytes, and where the results go; then how far it is, and where the chunk ends. */
const END = 0;
const RESULT = 1;
const AT = 2;
const STOP = 3;
const FIRST_PAIR = 4;

const get = (local: number): Bytes => [W.get, ...unsigned(local)];
const set = (local: number): Bytes => [W.set, ...unsigned(local)];
const tee = (local: number): Bytes => [W.tee, ...unsigned(local)];

class KernelWriter {
  readonly #kernel: Kernel;
  readonly #body: number[] = [];
  #pairs = 0;
  /** Slots of scalars, and the local that holds each; the same as divisors, where none is zero. */
  readonly scalars: number[] = [];
  readonly #scalar = new Map<number, number>();
  readonly #divisor = new Map<number, number>();
  readonly #broadcast: ReadonlyMap<number, number>;
  /** Constants stand in locals, which are set before the loops begin. */
  readonly #set: Instructions;
  /** Locals of the registers, for both pairs of rows. */
  readonly #registers: readonly [Map<number, number>, Map<number, number>] = [new Map(), new Map()];

  constructor(kernel: Kernel) {
    this.#kernel = kernel;
    this.#broadcast = new Map(kernel.broadcasts.map(({ register, slot }) => [register, slot]));
    const known = new Map(
      [0, 1, NaN].map((value) => {
        const local = this.#local();
        this.#emit(...TWO.constant(value), ...set(local));
        return [value, get(local)];
      }),
    );
    this.#set = { ...TWO, constant: (value) => known.get(value) ?? TWO.constant(value) };
  }

  finish():
    | { readonly locals: readonly (readonly [number, number])[]; readonly body: readonly number[] }
    | undefined {
    const { inputs, steps, result } = this.#kernel;
    for (const step of steps) if (!this.#readScalars(step)) return undefined;
    const sums = [this.#local(), this.#local()] as const;
    const [least, greatest] = [this.#local(), this.#local()];
    const [a, b] = sums;
    this.#emit(W.loop, EMPTY);
    this.#emit(...get(AT), ...i32(PART), W.addI32, ...set(STOP));
    this.#emit(...this.#set.constant(0), ...tee(a), ...set(b));
    this.#emit(...TWO.constant(Infinity), ...set(least), ...TWO.constant(-Infinity), ...set(greatest));
    this.#emit(W.loop, EMPTY);
    for (const half of [0, 1] as const)
      for (let k = 0; k < inputs.length; k++) {
        const local = this.#local();
        this.#registers[half].set(k, local);
        this.#emit(...get(AT), ...V.load, 3, ...unsigned(BLOCKS + k * BLOCK + 16 * half), ...set(local));
      }
    for (const step of steps) for (const half of [0, 1] as const) this.#step(step, half);
    for (const half of [0, 1] as const) {
      const made = get(this.#register(result, half));
      this.#emit(...get(AT), ...made, ...V.store, 3, ...unsigned(BLOCKS + inputs.length * BLOCK + 16 * half));
      this.#emit(...get(sums[half]), ...made, ...V.add, ...set(sums[half]));
      this.#emit(...get(least), ...made, ...V.lesser, ...set(least));
      this.#emit(...get(greatest), ...made, ...V.greatest, ...set(greatest));
    }
    this.#emit(...get(AT), ...i32(FOUR), W.addI32, ...tee(AT), ...get(STOP), W.ltI32, W.brIf, 0, W.end);
    const lanes = (local: number): Bytes => [...get(local), ...V.lane, 0, ...get(local), ...V.lane, 1];
    const kept = [
      [...lanes(a), W.add, ...lanes(b), W.add, W.add],
      [...lanes(least), W.min],
      [...lanes(greatest), W.max],
    ];
    kept.forEach((value, k) => {
      this.#emit(...get(RESULT), ...value, W.storeF64, 3, ...unsigned(8 * MOST_CHUNKS * k));
    });
    this.#emit(...get(RESULT), ...i32(8), W.addI32, ...set(RESULT));
    this.#emit(...get(AT), ...get(END), W.ltI32, W.brIf, 0, W.end);
    return {
      locals: [
        [FIRST_PAIR - AT, I32],
        [this.#pairs, V128],
      ],
      body: this.#body,
    };
  }

  #emit(...bytes: readonly number[]): void {
    this.#body.push(...bytes);
  }

  #local(): number {
    return FIRST_PAIR + this.#pairs++;
  }

  /** Has the scalars of a step in locals before the loops begin; false: the step has an operation without code. */
  #readScalars({ op, shape, a, b, c, s }: Step): boolean {
    if (FOREIGN.has(op)) return false;
    for (const register of op === CHOICE ? [a, b, c] : [a, b]) {
      const slot = this.#broadcast.get(register);
      if (slot !== undefined) this.#read(slot);
    }
    if (shape === SHAPE.vv) return true;
    const local = this.#read(s);
    if (op !== OP.divide || shape !== SHAPE.vs || this.#divisor.has(s)) return true;
    const divisor = this.#local();
    this.#divisor.set(s, divisor);
    const { constant, ne, select } = this.#set;
    const isSound = [...get(local), ...constant(0), ...ne];
    this.#emit(...get(local), ...constant(NaN), ...isSound, ...select, ...set(divisor));
    return true;
  }

  #read(slot: number): number {
    const known = this.#scalar.get(slot);
    if (known !== undefined) return known;
    const local = this.#local();
    const at = SCALARS + 8 * this.scalars.length;
    this.scalars.push(slot);
    this.#scalar.set(slot, local);
    this.#emit(...i32(0), ...V.loadSplat, 3, ...unsigned(at), ...set(local));
    return local;
  }

  #register(register: number, half: 0 | 1): number {
    const slot = this.#broadcast.get(register);
    return slot === undefined ? this.#registers[half].get(register)! : this.#scalar.get(slot)!;
  }

  #step(step: Step, half: 0 | 1): void {
    const { shape, s } = step;
    const column = this.#register(step.a, half);
    const other = shape === SHAPE.vv ? this.#register(step.b, half) : this.#scalar.get(s)!;
    const [x, y] = shape === SHAPE.sv ? [other, column] : [column, other];
    const to = this.#local();
    this.#registers[half].set(step.to, to);
    this.#emit(...this.#operation(step, get(x), get(y), half), ...set(to));
  }

  #operation({ op, shape, c, s }: Step, x: Bytes, y: Bytes, half: 0 | 1): Bytes {
    if (op === CHOICE) return codeOfChoice(x, y, get(this.#register(c, half)), this.#set);
    if (op === OP.divide && shape === SHAPE.vs) return [...x, ...get(this.#divisor.get(s)!), ...V.div];
    const plain = plainCode(op, this.#set);
    if (plain) return [...x, ...(operands(op) === 2 ? y : []), ...plain];
    return codeOfTwice(op, x, y, this.#set);
  }
}

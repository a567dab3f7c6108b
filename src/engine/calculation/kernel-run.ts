/**
 * Runs a column kernel: three frequent shapes of its steps are fused (measured in tests/bench: together they save a
 * quarter of a whole-table pass), and one that ran often over many rows gets machine code.
 */
import { OP } from '../formula/tape.ts';
import {
  columnScalar,
  copy,
  elementwise,
  greaterSelect,
  scalarColumn,
  scaledSum,
  scaleQuotient,
  select,
  type Doubles,
} from './kernel-loops.ts';
import type { KernelCode } from './kernel-code.ts';
import { CHOICE, CHUNK, MOST_CHUNKS, SHAPE, type Kernel, type Step } from './kernel.ts';
import type { ChunkResults } from './parts.ts';

const FUSED = { scaleQuotient: 101, scaledSum: 102, greaterSelect: 103 } as const;

/** Machine code is made for a kernel that ran over so many whole chunks … */
const LONG = 4;
/** … so many times. */
const OFTEN = 3;

/** Joins neighbouring steps of the three shapes; a temporary is used once, so nothing else misses it. */
function fuse(steps: readonly Step[]): Step[] {
  const out: Step[] = [];
  for (const step of steps) {
    const last = out[out.length - 1];
    if (last?.to === step.a && step.b !== last.to && step.c !== last.to) {
      if (step.op === OP.divide && step.shape === 1 && last.op === OP.multiply && last.shape !== 0) {
        out[out.length - 1] = { ...last, op: FUSED.scaleQuotient, to: step.to, t: step.s };
        continue;
      }
      if (step.op === OP.multiply && step.shape !== 0 && last.op === OP.add && last.shape === 0) {
        out[out.length - 1] = { ...last, op: FUSED.scaledSum, to: step.to, s: step.s };
        continue;
      }
      if (step.op === CHOICE && last.op === OP.greater) {
        out[out.length - 1] = {
          ...step,
          op: FUSED.greaterSelect,
          a: last.a,
          s: last.b,
          b: step.b,
          c: step.c,
        };
        continue;
      }
    }
    out.push(step);
  }
  return out;
}

/** Makes machine code; undefined: not yet, null: there can be none. */
export type Coder = (kernel: Kernel) => KernelCode | null | undefined;

/** Buffers of one kernel: an input register is the whole column, any other a chunk. */
export class KernelRun {
  readonly #kernel: Kernel;
  readonly #steps: readonly Step[];
  readonly #registers: Doubles[];
  /** Long runs so far, up to those that are enough. */
  #times = 0;
  #code: ReturnType<Coder>;

  constructor(kernel: Kernel) {
    this.#kernel = kernel;
    this.#steps = fuse(kernel.steps);
    this.#registers = Array.from({ length: kernel.registers }, (_, r) =>
      r < kernel.inputs.length ? new Float64Array(0) : new Float64Array(CHUNK),
    );
  }

  /**
   * Runs rows `from` up to `to`; `columns` are the inputs, `values` the slots; results go into `out`. Gives what whole
   * chunks came to, of those that machine code worked out, made by a `coder`.
   */
  run(
    columns: readonly Doubles[],
    values: Float64Array,
    out: Doubles,
    from: number,
    to: number,
    coder: Coder,
  ): ChunkResults | undefined {
    const first = Math.ceil(from / CHUNK);
    const end = Math.floor(to / CHUNK);
    const code = end - first < LONG || end - first > MOST_CHUNKS ? undefined : this.#codeBy(coder);
    if (!code) {
      this.#loops(columns, values, out, from, to);
      return undefined;
    }
    this.#loops(columns, values, out, from, first * CHUNK);
    this.#loops(columns, values, out, end * CHUNK, to);
    return code.run(columns, values, out, first, end);
  }

  #codeBy(coder: Coder): KernelCode | undefined {
    if (this.#code !== undefined) return this.#code ?? undefined;
    if (this.#times < OFTEN) {
      this.#times++;
      return undefined;
    }
    this.#code = coder(this.#kernel);
    return this.#code ?? undefined;
  }

  #loops(columns: readonly Doubles[], values: Float64Array, out: Doubles, from: number, to: number): void {
    if (from >= to) return;
    const r = this.#registers;
    columns.forEach((column, i) => (r[i] = column));
    for (const { register, slot } of this.#kernel.broadcasts) r[register]!.fill(values[slot]!);
    const inputs = columns.length;
    for (let at = from; at < to; at += CHUNK) {
      const n = Math.min(CHUNK, to - at);
      for (const step of this.#steps) {
        const last = step.to === this.#kernel.result;
        const d = last ? out : r[step.to]!;
        apply(step, d, last ? at : 0, r, inputs, at, n, values);
      }
      if (this.#kernel.result < inputs) copy(out, at, r[this.#kernel.result]!, at, n);
    }
  }
}

function apply(
  step: Step,
  d: Doubles,
  d0: number,
  r: readonly Doubles[],
  inputs: number,
  at: number,
  n: number,
  values: Float64Array,
): void {
  const a = r[step.a]!;
  const a0 = step.a < inputs ? at : 0;
  const b = r[step.b]!;
  const b0 = step.b < inputs ? at : 0;
  const s = values[step.s]!;
  switch (step.op) {
    case FUSED.scaleQuotient:
      scaleQuotient(d, d0, a, a0, s, values[step.t]!, n);
      return;
    case FUSED.scaledSum:
      scaledSum(d, d0, a, a0, b, b0, s, n);
      return;
    case FUSED.greaterSelect:
      greaterSelect(
        d,
        d0,
        a,
        a0,
        r[step.s]!,
        step.s < inputs ? at : 0,
        b,
        b0,
        r[step.c]!,
        step.c < inputs ? at : 0,
        n,
      );
      return;
    case CHOICE:
      select(d, d0, a, a0, b, b0, r[step.c]!, step.c < inputs ? at : 0, n);
      return;
    default:
  }
  if (step.shape === SHAPE.vs) columnScalar(step.op, d, d0, a, a0, s, n);
  else if (step.shape === SHAPE.sv) scalarColumn(step.op, d, d0, s, a, a0, n);
  else elementwise(step.op, d, d0, a, a0, b, b0, n);
}

/**
 * Column kernels: a row formula without calls is run operation by operation over 512 rows at a time, so that
 * temporaries stay in the nearest cache. What does not depend on the row is worked out once beforehand. Three
 * frequent shapes are fused (measured in tests/bench: together they save a quarter of a whole-table pass).
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

export const CHUNK = 512;

const SHAPE = {
  vv: 0,
  vs: 1,
  sv: 2,
} as const;
type Shape = (typeof SHAPE)[keyof typeof SHAPE];

export interface Step {
  op: number;
  shape: Shape;
  /** Register of the result, of both operands, and of a third (select, fused shapes). */
  to: number;
  a: number;
  b: number;
  c: number;
  /** Slots of scalar operands. */
  s: number;
  t: number;
}

const FUSED = { scaleQuotient: 100, scaledSum: 101, greaterSelect: 102, select: 103 } as const;

export interface Kernel {
  readonly steps: readonly Step[];
  /** Instructions that do not depend on the row, to be run once. */
  readonly prelude: Int32Array;
  /** Register to input number, where the register is a column. */
  readonly inputs: readonly number[];
  readonly registers: number;
  readonly result: number;
  /** Registers filled with a scalar slot's value once. */
  readonly broadcasts: readonly { readonly register: number; readonly slot: number }[];
}

const BINARY: ReadonlySet<number> = new Set([
  OP.add,
  OP.subtract,
  OP.multiply,
  OP.divide,
  OP.power,
  OP.less,
  OP.lessOrEqual,
  OP.greater,
  OP.greaterOrEqual,
  OP.equal,
  OP.notEqual,
  OP.and,
  OP.or,
  OP.min,
  OP.max,
]);
const UNARY: ReadonlySet<number> = new Set([
  OP.move,
  OP.negate,
  OP.not,
  OP.square,
  OP.abs,
  OP.sqrt,
  OP.exp,
  OP.log,
]);
/** Operations with loops for one scalar operand; all others see scalars as filled columns. */
const SCALAR_SHAPES: ReadonlySet<number> = new Set([OP.add, OP.subtract, OP.multiply, OP.divide]);

/** Turns a row formula's code into a kernel, or undefined when it has parts that only run row by row. */
export function kernelOf(
  code: Int32Array,
  inputs: readonly { slot: number }[],
  result: number,
): Kernel | undefined {
  const register = new Map<number, number>();
  inputs.forEach((input, i) => register.set(input.slot, i));
  let registers = inputs.length;
  const prelude: number[] = [];
  const steps: Step[] = [];
  const broadcasts = new Map<number, number>();
  const vector = (slot: number): number => {
    const known = register.get(slot) ?? broadcasts.get(slot);
    if (known !== undefined) return known;
    broadcasts.set(slot, registers);
    return registers++;
  };
  const fresh = (slot: number): number => {
    register.set(slot, registers);
    return registers++;
  };
  for (let pc = 0; pc < code.length; pc += 4) {
    const [op = 0, d = 0, a = 0, b = 0] = code.subarray(pc, pc + 4);
    if (op === OP.move && code[pc + 4] === OP.select && code[pc + 5] === d) {
      const condition = code[pc + 6]!;
      const yes = code[pc + 7]!;
      pc += 4;
      if (![a, condition, yes].some((slot) => register.has(slot))) {
        prelude.push(op, d, a, b, OP.select, d, condition, yes);
        continue;
      }
      const [x, y, z] = [vector(condition), vector(yes), vector(a)];
      steps.push({ op: FUSED.select, shape: 0, to: fresh(d), a: x, b: y, c: z, s: 0, t: 0 });
      continue;
    }
    const binary = BINARY.has(op);
    if (!binary && !UNARY.has(op)) return undefined;
    const va = register.has(a);
    const vb = binary && register.has(b);
    if (!va && !vb) {
      prelude.push(op, d, a, b);
      continue;
    }
    const step: Step = { op, shape: 0, to: 0, a: 0, b: 0, c: 0, s: 0, t: 0 };
    if (binary && SCALAR_SHAPES.has(op) && va !== vb) {
      step.shape = va ? SHAPE.vs : SHAPE.sv;
      step.a = vector(va ? a : b);
      step.s = va ? b : a;
    } else {
      step.a = vector(a);
      if (binary) step.b = vector(b);
    }
    step.to = fresh(d);
    steps.push(step);
  }
  const final = register.get(result);
  if (final === undefined) return undefined;
  return {
    steps: fuse(steps),
    prelude: Int32Array.from(prelude),
    inputs: inputs.map((_, i) => i),
    registers,
    result: final,
    broadcasts: [...broadcasts].map(([slot, r]) => ({ slot, register: r })),
  };
}

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
      if (step.op === FUSED.select && last.op === OP.greater) {
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

/** Buffers of one kernel: an input register is the whole column, any other a chunk. */
export class KernelRun {
  readonly #kernel: Kernel;
  readonly #registers: Doubles[];

  constructor(kernel: Kernel) {
    this.#kernel = kernel;
    this.#registers = Array.from({ length: kernel.registers }, (_, r) =>
      r < kernel.inputs.length ? new Float64Array(0) : new Float64Array(CHUNK),
    );
  }

  /** Runs rows `from` up to `to`; `columns` are the inputs, `values` the slots; results go into `out`. */
  run(columns: readonly Doubles[], values: Float64Array, out: Doubles, from: number, to: number): void {
    const r = this.#registers;
    columns.forEach((column, i) => (r[i] = column));
    for (const { register, slot } of this.#kernel.broadcasts) r[register]!.fill(values[slot]!);
    const inputs = columns.length;
    for (let at = from; at < to; at += CHUNK) {
      const n = Math.min(CHUNK, to - at);
      for (const step of this.#kernel.steps) {
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
    case FUSED.select:
      select(d, d0, a, a0, b, b0, r[step.c]!, step.c < inputs ? at : 0, n);
      return;
    default:
  }
  if (step.shape === SHAPE.vs) columnScalar(step.op, d, d0, a, a0, s, n);
  else if (step.shape === SHAPE.sv) scalarColumn(step.op, d, d0, s, a, a0, n);
  else elementwise(step.op, d, d0, a, a0, b, b0, n);
}

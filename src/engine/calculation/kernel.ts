/**
 * Column kernels: a row formula without calls is run operation by operation over 512 rows at a time, so that
 * temporaries stay in the nearest cache. What does not depend on the row is worked out once beforehand.
 */
import { OP } from '../formula/tape.ts';

export const CHUNK = 512;
/** Longer columns have no machine code. */
export const MOST_CHUNKS = 1024;

export const SHAPE = {
  vv: 0,
  vs: 1,
  sv: 2,
} as const;
type Shape = (typeof SHAPE)[keyof typeof SHAPE];

export interface Step {
  op: number;
  shape: Shape;
  /** Register of the result, of both operands, and of a third (choices, fused shapes). */
  to: number;
  a: number;
  b: number;
  c: number;
  /** Slots of scalar operands. */
  s: number;
  t: number;
}

/** Beside the operations of the tape: b where a is yes, c where it is no. */
export const CHOICE = 100;

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
  code: readonly number[],
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
    const [op = 0, d = 0, a = 0, b = 0] = code.slice(pc, pc + 4);
    if (op === OP.move && code[pc + 4] === OP.select && code[pc + 5] === d) {
      const condition = code[pc + 6]!;
      const yes = code[pc + 7]!;
      pc += 4;
      if (![a, condition, yes].some((slot) => register.has(slot))) {
        prelude.push(op, d, a, b, OP.select, d, condition, yes);
        continue;
      }
      const [x, y, z] = [vector(condition), vector(yes), vector(a)];
      steps.push({ op: CHOICE, shape: 0, to: fresh(d), a: x, b: y, c: z, s: 0, t: 0 });
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
    steps,
    prelude: Int32Array.from(prelude),
    inputs: inputs.map((_, i) => i),
    registers,
    result: final,
    broadcasts: [...broadcasts].map(([slot, r]) => ({ slot, register: r })),
  };
}

/** WebAssembly of single operations of the tape, each to the last bit what tape.ts makes of it. */
import { memoryOf } from './memory.ts';
import { logarithm, OP, raised, roundHalfAway, wholeAbove, wholeBelow } from './tape.ts';
import { f64, moduleBytes, unsigned, V, W, type ModuleParts } from './wasm-module.ts';

/** What WebAssembly has no instruction for, by operation. */
export const FOREIGN: ReadonlyMap<number, (x: number, y: number) => number> = new Map([
  [OP.power, raised],
  [OP.exp, Math.exp],
  [OP.log, logarithm],
  [OP.log10, (x) => (x > 0 ? Math.log10(x) : NaN)],
  [OP.sin, Math.sin],
  [OP.cos, Math.cos],
  [OP.tan, Math.tan],
  [OP.asin, Math.asin],
  [OP.acos, Math.acos],
  [OP.atan, Math.atan],
  [OP.floor, wholeBelow],
  [OP.ceil, wholeAbove],
  [OP.round, roundHalfAway],
  [OP.floorTo, (x, y) => wholeBelow(x / y) * y],
  [OP.ceilTo, (x, y) => wholeAbove(x / y) * y],
  [OP.roundTo, (x, y) => roundHalfAway(x / y) * y],
]);
const FOREIGN_OPS = [...FOREIGN.keys()];
const FUNCTIONS = Object.fromEntries(Array.from(FOREIGN, ([op, work]) => [`op${op}`, work]));
/** Index, among a module's types, of what makes a double of two, as these functions do. */
const OF_TWO = 1;

/** A module with these functions behind those, and memory: of its own, of so many bytes, or what is given; `run` takes addresses. */
export function instanceOf(
  parts: Omit<ModuleParts, 'imports'>,
  room: number | (() => WebAssembly.Memory | undefined),
): { readonly memory: ArrayBuffer; readonly run: (...addresses: number[]) => void } | undefined {
  try {
    const memory = typeof room === 'number' ? memoryOf(room) : room();
    if (!memory) return undefined;
    const code = moduleBytes({ ...parts, imports: FOREIGN_OPS.map((op) => [`op${op}`, OF_TWO]) });
    const env = { ...FUNCTIONS, memory };
    const { exports } = new WebAssembly.Instance(new WebAssembly.Module(code), { env });
    return { memory: memory.buffer, run: exports.run as (...addresses: number[]) => void };
  } catch {
    // A page may not make code, or there is no room for it.
    return undefined;
  }
}

/** Instruction that takes two operands from the stack; the imports come first, in their order. */
export function callForeign(op: number): number[] {
  return [W.call, ...unsigned(FOREIGN_OPS.indexOf(op))];
}

type Bytes = readonly number[];

/** Instructions on one double, or on two side by side: what a comparison leaves is what `select` takes last. */
export interface Instructions {
  readonly constant: (value: number) => Bytes;
  readonly add: Bytes;
  readonly sub: Bytes;
  readonly mul: Bytes;
  readonly div: Bytes;
  readonly neg: Bytes;
  readonly abs: Bytes;
  readonly sqrt: Bytes;
  readonly min: Bytes;
  readonly max: Bytes;
  readonly eq: Bytes;
  readonly ne: Bytes;
  readonly less: Bytes;
  readonly greater: Bytes;
  readonly lessOrEqual: Bytes;
  readonly greaterOrEqual: Bytes;
  readonly and: Bytes;
  readonly select: Bytes;
}

export const ONE: Instructions = {
  constant: f64,
  add: [W.add],
  sub: [W.sub],
  mul: [W.mul],
  div: [W.div],
  neg: [W.neg],
  abs: [W.abs],
  sqrt: [W.sqrt],
  min: [W.min],
  max: [W.max],
  eq: [W.eq],
  ne: [W.ne],
  less: [W.less],
  greater: [W.greater],
  lessOrEqual: [W.lessOrEqual],
  greaterOrEqual: [W.greaterOrEqual],
  and: [W.andI32],
  select: [W.select],
};

export const TWO: Instructions = {
  ...V,
  constant: (value) => [...f64(value), ...V.splat],
  select: V.bitSelect,
};

const PLAIN: ReadonlyMap<number, Exclude<keyof Instructions, 'constant'>> = new Map([
  [OP.add, 'add'],
  [OP.subtract, 'sub'],
  [OP.multiply, 'mul'],
  [OP.and, 'mul'],
  [OP.negate, 'neg'],
  [OP.abs, 'abs'],
  [OP.sqrt, 'sqrt'],
  [OP.min, 'min'],
  [OP.max, 'max'],
]);

/** Of an operation that is one instruction at most. Where something may be no value, the careful run looks further. */
export function plainCode(op: number, set: Instructions): Bytes | undefined {
  if (op === OP.move || op === OP.nominal) return [];
  if (op === OP.otherwise) return [W.drop];
  const name = PLAIN.get(op);
  return name && set[name];
}

/** Comparisons: what says yes, and what says no; where neither does, an operand is no value. */
const ORDER: ReadonlyMap<number, readonly [yes: Comparison, no: Comparison]> = new Map([
  [OP.less, ['less', 'greaterOrEqual']],
  [OP.lessOrEqual, ['lessOrEqual', 'greater']],
  [OP.greater, ['greater', 'lessOrEqual']],
  [OP.greaterOrEqual, ['greaterOrEqual', 'less']],
]);
type Comparison = 'less' | 'lessOrEqual' | 'greater' | 'greaterOrEqual';

/** Operations that look at an operand twice; `gx` and `gy` get the operands. */
export function codeOfTwice(op: number, gx: Bytes, gy: Bytes, set: Instructions): number[] {
  const { constant, select } = set;
  const [zero, one, none] = [constant(0), constant(1), constant(NaN)];
  switch (op) {
    case OP.square:
      return [...gx, ...gx, ...set.mul];
    case OP.divide:
      return [...gx, ...gy, ...set.div, ...none, ...gy, ...zero, ...set.ne, ...select];
    case OP.or:
      return [...gx, ...gy, ...set.add, ...gx, ...gy, ...set.mul, ...set.sub];
    case OP.not:
      return [...one, ...gx, ...set.sub];
    case OP.isBlank:
      return [...zero, ...none, ...gx, ...gx, ...set.eq, ...select];
    case OP.where:
      return [...gx, ...none, ...gy, ...one, ...set.eq, ...select];
    case OP.equal:
    case OP.notEqual: {
      const known = [...gx, ...gx, ...set.eq, ...gy, ...gy, ...set.eq, ...set.and];
      const [same, other] = op === OP.equal ? [one, zero] : [zero, one];
      return [...same, ...other, ...none, ...known, ...select, ...gx, ...gy, ...set.eq, ...select];
    }
    default: {
      const [yes, no] = ORDER.get(op) ?? [];
      if (yes === undefined || no === undefined) throw new Error(`no machine code for operation ${op}`);
      return [
        ...[...one, ...zero, ...none, ...gx, ...gy, ...set[no], ...select],
        ...[...gx, ...gy, ...set[yes], ...select],
      ];
    }
  }
}

/** One side of a choice, the other, or neither where the condition is no value; each gets what it is called. */
export function codeOfChoice(condition: Bytes, yes: Bytes, no: Bytes, set: Instructions): number[] {
  const { constant, eq, select } = set;
  const otherwise = [...no, ...constant(NaN), ...condition, ...constant(0), ...eq, ...select];
  return [...yes, ...otherwise, ...condition, ...constant(1), ...eq, ...select];
}

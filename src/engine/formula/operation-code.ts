/** WebAssembly of single operations of the tape, each to the last bit what tape.ts makes of it. */
import { memoryOf } from './memory.ts';
import { logarithm, OP, raised, roundHalfAway, wholeAbove, wholeBelow } from './tape.ts';
import { f64, moduleBytes, unsigned, W, type ModuleParts } from './wasm-module.ts';

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

/** Operations that are one instruction at most. Where something may be no value, the careful run looks further. */
export const PLAIN: ReadonlyMap<number, readonly number[]> = new Map([
  [OP.move, []],
  [OP.otherwise, [W.drop]],
  [OP.nominal, []],
  [OP.add, [W.add]],
  [OP.subtract, [W.sub]],
  [OP.multiply, [W.mul]],
  [OP.and, [W.mul]],
  [OP.negate, [W.neg]],
  [OP.abs, [W.abs]],
  [OP.sqrt, [W.sqrt]],
  [OP.min, [W.min]],
  [OP.max, [W.max]],
]);

/** Comparisons: what says yes, and what says no; where neither does, an operand is no value. */
const ORDER: ReadonlyMap<number, readonly [number, number]> = new Map([
  [OP.less, [W.less, W.greaterOrEqual]],
  [OP.lessOrEqual, [W.lessOrEqual, W.greater]],
  [OP.greater, [W.greater, W.lessOrEqual]],
  [OP.greaterOrEqual, [W.greaterOrEqual, W.less]],
]);

/** Operations that look at an operand twice; `gx` and `gy` get the operands. */
export function codeOfTwice(op: number, gx: readonly number[], gy: readonly number[]): number[] {
  switch (op) {
    case OP.square:
      return [...gx, ...gx, W.mul];
    case OP.divide:
      return [...gx, ...gy, W.div, ...f64(NaN), ...gy, ...f64(0), W.ne, W.select];
    case OP.or:
      return [...gx, ...gy, W.add, ...gx, ...gy, W.mul, W.sub];
    case OP.not:
      return [...f64(1), ...gx, W.sub];
    case OP.isBlank:
      return [...f64(0), ...f64(NaN), ...gx, ...gx, W.eq, W.select];
    case OP.where:
      return [...gx, ...f64(NaN), ...gy, ...f64(1), W.eq, W.select];
    case OP.equal:
    case OP.notEqual: {
      const known = [...gx, ...gx, W.eq, ...gy, ...gy, W.eq, W.andI32];
      const [same, other] = op === OP.equal ? [1, 0] : [0, 1];
      return [
        ...[...f64(same), ...f64(other), ...f64(NaN), ...known, W.select],
        ...[...gx, ...gy, W.eq, W.select],
      ];
    }
    default: {
      const [yes, no] = ORDER.get(op) ?? [];
      if (yes === undefined || no === undefined) throw new Error(`no machine code for operation ${op}`);
      return [
        ...[...f64(1), ...f64(0), ...f64(NaN), ...gx, ...gy, no, W.select],
        ...[...gx, ...gy, yes, W.select],
      ];
    }
  }
}

/**
 * A tape run backwards: given the sensitivity of a final result to each destination, finds that to each operand
 * (reverse accumulation; Griewank and Walther, Evaluating Derivatives, 2nd ed. 2008, chapter 3). Values must stand
 * in their slots as the forward run left them.
 */
import { OP, roundHalfAway } from '../formula/tape.ts';

/** Instructions with one operand; all others but calls and jumps have two. */
export function operands(op: number): 1 | 2 {
  return op === OP.move ||
    op === OP.nominal ||
    op === OP.negate ||
    op === OP.not ||
    op === OP.square ||
    (op >= OP.abs && op <= OP.round) ||
    op === OP.isBlank
    ? 1
    : 2;
}

/** One instruction backwards; the sensitivity of its destination is used up. */
export function stepBack(code: Int32Array, pc: number, v: Float64Array, g: Float64Array): void {
  const d = code[pc + 1]!;
  const s = g[d]!;
  if (s === 0) return;
  const a = code[pc + 2]!;
  const b = code[pc + 3]!;
  const x = v[a]!;
  const op = code[pc]!;
  if (op === OP.select) {
    // The other branch was moved into the destination before: its sensitivity waits there.
    if (x === 1) {
      g[d] = 0;
      g[b]! += s;
    }
    return;
  }
  g[d] = 0;
  switch (op) {
    case OP.move:
      g[a]! += s;
      return;
    case OP.add:
      g[a]! += s;
      g[b]! += s;
      return;
    case OP.subtract:
      g[a]! += s;
      g[b]! -= s;
      return;
    case OP.multiply:
      g[a]! += s * v[b]!;
      g[b]! += s * x;
      return;
    case OP.divide: {
      const y = v[b]!;
      g[a]! += s / y;
      g[b]! -= (s * x) / (y * y);
      return;
    }
    case OP.power: {
      const y = v[b]!;
      if (y !== 0) g[a]! += s * y * x ** (y - 1);
      if (x > 0) g[b]! += s * x ** y * Math.log(x);
      return;
    }
    case OP.negate:
      g[a]! -= s;
      return;
    case OP.square:
      g[a]! += 2 * s * x;
      return;
    case OP.abs:
      g[a]! += x < 0 ? -s : s;
      return;
    case OP.sqrt:
      g[a]! += s / (2 * Math.sqrt(x));
      return;
    case OP.exp:
      g[a]! += s * Math.exp(x);
      return;
    case OP.log:
      g[a]! += s / x;
      return;
    case OP.log10:
      g[a]! += s / (x * Math.LN10);
      return;
    case OP.sin:
      g[a]! += s * Math.cos(x);
      return;
    case OP.cos:
      g[a]! -= s * Math.sin(x);
      return;
    case OP.tan:
      g[a]! += s / Math.cos(x) ** 2;
      return;
    case OP.asin:
      g[a]! += s / Math.sqrt(1 - x * x);
      return;
    case OP.acos:
      g[a]! -= s / Math.sqrt(1 - x * x);
      return;
    case OP.atan:
      g[a]! += s / (1 + x * x);
      return;
    case OP.floorTo:
      g[b]! += s * Math.floor(x / v[b]!);
      return;
    case OP.ceilTo:
      g[b]! += s * Math.ceil(x / v[b]!);
      return;
    case OP.roundTo:
      g[b]! += s * roundHalfAway(x / v[b]!);
      return;
    case OP.min:
      if (x <= v[b]!) g[a]! += s;
      else g[b]! += s;
      return;
    case OP.max:
      if (x >= v[b]!) g[a]! += s;
      else g[b]! += s;
      return;
    case OP.otherwise:
      if (x === x) g[a]! += s;
      else g[b]! += s;
      return;
    case OP.where:
      if (v[b] === 1) g[a]! += s;
      return;
    default:
    // Comparisons, logic, whole steps: flat wherever they are smooth.
  }
}

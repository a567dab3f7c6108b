/**
 * A tape run backwards: given the sensitivity of a final result to each destination, finds that to each operand
 * (reverse accumulation; Griewank and Walther, Evaluating Derivatives, 2nd ed. 2008, chapter 3). Values must stand
 * in their slots as the forward run left them.
 */
import { OP, roundHalfAway, wholeAbove, wholeBelow } from '../formula/tape.ts';

/** Straight code backwards, from `end` down to `start`; the sensitivities of destinations are used up. */
export function runBack(
  code: Int32Array,
  start: number,
  end: number,
  v: Float64Array,
  g: Float64Array,
): void {
  for (let pc = end - 4; pc >= start; pc -= 4) {
    const d = code[pc + 1]!;
    const s = g[d]!;
    if (s === 0) continue;
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
      continue;
    }
    g[d] = 0;
    switch (op) {
      case OP.move:
        g[a]! += s;
        break;
      case OP.add:
        g[a]! += s;
        g[b]! += s;
        break;
      case OP.subtract:
        g[a]! += s;
        g[b]! -= s;
        break;
      case OP.multiply:
        g[a]! += s * v[b]!;
        g[b]! += s * x;
        break;
      case OP.divide: {
        const y = v[b]!;
        g[a]! += s / y;
        g[b]! -= (s * x) / (y * y);
        break;
      }
      case OP.power: {
        const y = v[b]!;
        if (y !== 0) g[a]! += s * y * x ** (y - 1);
        if (x > 0) g[b]! += s * x ** y * Math.log(x);
        break;
      }
      case OP.negate:
        g[a]! -= s;
        break;
      case OP.square:
        g[a]! += 2 * s * x;
        break;
      case OP.abs:
        g[a]! += x < 0 ? -s : s;
        break;
      case OP.sqrt:
        g[a]! += s / (2 * Math.sqrt(x));
        break;
      case OP.exp:
        g[a]! += s * Math.exp(x);
        break;
      case OP.log:
        g[a]! += s / x;
        break;
      case OP.log10:
        g[a]! += s / (x * Math.LN10);
        break;
      case OP.sin:
        g[a]! += s * Math.cos(x);
        break;
      case OP.cos:
        g[a]! -= s * Math.sin(x);
        break;
      case OP.tan:
        g[a]! += s / Math.cos(x) ** 2;
        break;
      case OP.asin:
        g[a]! += s / Math.sqrt(1 - x * x);
        break;
      case OP.acos:
        g[a]! -= s / Math.sqrt(1 - x * x);
        break;
      case OP.atan:
        g[a]! += s / (1 + x * x);
        break;
      case OP.floorTo:
        g[b]! += s * wholeBelow(x / v[b]!);
        break;
      case OP.ceilTo:
        g[b]! += s * wholeAbove(x / v[b]!);
        break;
      case OP.roundTo:
        g[b]! += s * roundHalfAway(x / v[b]!);
        break;
      case OP.min:
        if (x <= v[b]!) g[a]! += s;
        else g[b]! += s;
        break;
      case OP.max:
        if (x >= v[b]!) g[a]! += s;
        else g[b]! += s;
        break;
      case OP.otherwise:
        if (x === x) g[a]! += s;
        else g[b]! += s;
        break;
      case OP.where:
        if (v[b] === 1) g[a]! += s;
        break;
      default:
      // Comparisons, logic, whole steps: flat wherever they are smooth.
    }
  }
}

/** One instruction backwards. */
export function stepBack(code: Int32Array, pc: number, v: Float64Array, g: Float64Array): void {
  runBack(code, pc, pc + 4, v, g);
}

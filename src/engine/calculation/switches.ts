/** Instructions whose result turns or bends at a point: comparisons, min, max, abs and whole steps. */
import { OP } from '../formula/tape.ts';

/**
 * `undecided`: a comparison that could go the other way; `not-smooth`: a corner within reach of the uncertainty;
 * `flat`: to first order nothing goes through, though the result does move with its sources (x² at 0).
 */
export type Doubt = 'undecided' | 'not-smooth' | 'flat';

interface Switch {
  readonly doubt: Doubt;
  /** From the point where it turns. */
  readonly distance: number;
  /** What that distance is made of. */
  readonly seeds: readonly { readonly slot: number; readonly slope: number }[];
}

export function isSwitch(op: number): boolean {
  return isComparison(op) || isCorner(op);
}

function isComparison(op: number): boolean {
  return op >= OP.less && op <= OP.notEqual;
}

function isCorner(op: number): boolean {
  return op === OP.abs || (op >= OP.floor && op <= OP.max);
}

export function switchAt(code: Int32Array, v: Float64Array, pc: number): Switch | undefined {
  const op = code[pc]!;
  const a = code[pc + 2]!;
  const b = code[pc + 3]!;
  const x = v[a]!;
  if (isComparison(op) || op === OP.min || op === OP.max)
    return {
      doubt: isComparison(op) ? 'undecided' : 'not-smooth',
      distance: Math.abs(x - v[b]!),
      seeds: [
        { slot: a, slope: 1 },
        { slot: b, slope: -1 },
      ],
    };
  if (!isCorner(op)) return undefined;
  const seeds = [{ slot: a, slope: 1 }];
  if (op === OP.abs) return { doubt: 'not-smooth', distance: Math.abs(x), seeds };
  const step = op >= OP.floorTo ? v[b]! : 1;
  const steps = x / step;
  const rounding = op === OP.round || op === OP.roundTo;
  // Rounding turns half way between steps, the others at the steps.
  const from = rounding ? steps - 0.5 : steps;
  return { doubt: 'not-smooth', distance: Math.abs(from - Math.round(from)) * Math.abs(step), seeds };
}

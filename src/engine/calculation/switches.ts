/** Instructions whose result turns or bends at a point: comparisons, min, max, abs and whole steps. */
import { OP, wholeAbove, wholeBelow } from '../formula/tape.ts';

/**
 * `undecided`: a comparison that could go the other way; `not-smooth`: a corner within reach of the uncertainty;
 * `flat`: to first order nothing goes through, though the result does move with its sources (x² at 0).
 */
export type Doubt = 'undecided' | 'not-smooth' | 'flat';

export interface Switch {
  readonly doubt: Doubt;
  /** How far what it turns by may fall and rise before it does; endless where it does not turn on that side. */
  readonly down: number;
  readonly up: number;
  /** The lesser of the two. */
  readonly distance: number;
  /** What it turns by is made of. */
  readonly seeds: readonly { readonly slot: number; readonly slope: number }[];
}

export function isSwitch(op: number): boolean {
  return isComparison(op) || isCorner(op);
}

export function isComparison(op: number): boolean {
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
  if (isComparison(op) || op === OP.min || op === OP.max) {
    const seeds = [
      { slot: a, slope: 1 },
      { slot: b, slope: -1 },
    ];
    const sides = sidesOf(x - v[b]!, TURNS_BELOW.has(op), TURNS_ABOVE.has(op));
    return { doubt: isComparison(op) ? 'undecided' : 'not-smooth', ...sides, seeds };
  }
  if (!isCorner(op)) return undefined;
  const sides = op === OP.abs ? sidesOf(x, true, false) : stepSides(op, x, op >= OP.floorTo ? v[b]! : 1);
  return { doubt: 'not-smooth', ...sides, seeds: [{ slot: a, slope: 1 }] };
}

type Sides = Pick<Switch, 'down' | 'up' | 'distance'>;

/** Where a difference turns something when it passes zero; on zero itself it has turned already, on one side. */
function sidesOf(difference: number, below: boolean, above: boolean): Sides {
  const distance = Math.abs(difference);
  if (difference > 0) return { down: distance, up: Infinity, distance };
  if (difference < 0) return { down: Infinity, up: distance, distance };
  return { down: below ? distance : Infinity, up: above ? distance : Infinity, distance };
}

/** What becomes another by falling below zero, or below what it is equal to; and by rising above. */
const TURNS_BELOW: ReadonlySet<number> = new Set([OP.less, OP.greaterOrEqual, OP.equal, OP.notEqual, OP.max]);
const TURNS_ABOVE: ReadonlySet<number> = new Set([OP.lessOrEqual, OP.greater, OP.equal, OP.notEqual, OP.min]);

function stepSides(op: number, x: number, step: number): Sides {
  const size = Math.abs(step);
  const rounding = op === OP.round || op === OP.roundTo;
  // Rounding turns half way between steps, the others at the steps.
  const steps = x / step - (rounding ? 0.5 : 0);
  const last = wholeBelow(steps);
  let below = (steps - last) * size;
  let above = (last + 1 - steps) * size;
  if (last === wholeAbove(steps)) {
    // It stands on the point: ceil, and round below zero, turn when it rises, the others when it falls.
    const rises = op === OP.ceil || op === OP.ceilTo || (rounding && steps < 0);
    below = rises ? size : 0;
    above = rises ? 0 : size;
  }
  const [down, up] = step < 0 ? [above, below] : [below, above];
  return { down, up, distance: Math.min(down, up) };
}

/**
 * The instruction tape: four integers an instruction (operation, destination, two operands), operands being slots
 * of one array of SI doubles. Whatever is not a plain value is NaN here, and every operation passes NaN on; a
 * result that is not finite is then worked out again by the careful run (calculation/careful.ts), which knows why.
 */
export const OP = {
  move: 0,
  add: 1,
  subtract: 2,
  multiply: 3,
  divide: 4,
  power: 5,
  negate: 6,
  less: 7,
  lessOrEqual: 8,
  greater: 9,
  greaterOrEqual: 10,
  equal: 11,
  notEqual: 12,
  and: 13,
  or: 14,
  not: 15,
  /** destination = operand b, where operand a is yes; stays as it is where a is no. */
  select: 16,
  square: 17,
  abs: 18,
  sqrt: 19,
  exp: 20,
  log: 21,
  log10: 22,
  sin: 23,
  cos: 24,
  tan: 25,
  asin: 26,
  acos: 27,
  atan: 28,
  floor: 29,
  ceil: 30,
  round: 31,
  floorTo: 32,
  ceilTo: 33,
  roundTo: 34,
  min: 35,
  max: 36,
  isBlank: 37,
  otherwise: 38,
  /** Operand a where operand b is yes, else a blank. */
  where: 39,
  /** Operand a is the index of a call site; the site knows its operands and results. */
  call: 40,
  /**
   * Goes on at b (from the start of the program) when operand a is no. A `jump` to the end of the condition stands
   * just before b; it is taken, with NaN as result, when a is neither yes nor no.
   */
  jumpIfNot: 41,
  jump: 42,
  /** The value alone: run backwards it lets nothing through. */
  nominal: 43,
} as const;
export type Operation = (typeof OP)[keyof typeof OP];

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

/** Instructions, and where each comes from in the text of its formula (start, end). */
export interface Tape {
  readonly code: Int32Array;
  readonly origins: Int32Array;
}

/** What an instruction may ask of the world outside the array. */
export interface CallHost {
  /** Works out a call site into its result slots; NaN where it cannot. */
  call(site: number): void;
}

/** What sums and products of thousands of doubles are off by at most, in steps or relative to the result (rule N1). */
const DUST = 1e-12;
/** And of a step, so that great numbers keep their fractions. */
const MOST_DUST = 1e-6;

/** A number of steps: whole where only the rounding of the arithmetic before it keeps it from being so. */
function settled(x: number): number {
  const whole = Math.round(x);
  return Math.abs(x - whole) <= Math.min(DUST * Math.max(1, Math.abs(x)), MOST_DUST) ? whole : x;
}

export function wholeBelow(x: number): number {
  return Math.floor(settled(x));
}

export function wholeAbove(x: number): number {
  return Math.ceil(settled(x));
}

export function roundHalfAway(x: number): number {
  // A half that is off by dust is a half.
  const steps = settled(2 * x) / 2;
  return steps < 0 ? -Math.round(-steps) : Math.round(steps);
}

/** Nothing is divided by zero: an endless result would vanish again in 1 / (1 / 0). */
export function quotient(x: number, y: number): number {
  return y === 0 ? NaN : x / y;
}

/** JavaScript makes 1 of whatever ** 0, also of what is no value; 0 to a negative power divides by zero. */
export function raised(x: number, y: number): number {
  return (x === 0 && y < 0) || x !== x ? NaN : x ** y;
}

export function logarithm(x: number): number {
  return x > 0 ? Math.log(x) : NaN;
}

/** Runs one program, `code[from]` up to `code[to]`. Jumps count from its start. */
export function run(code: Int32Array, v: Float64Array, from: number, to: number, host: CallHost): void {
  for (let pc = from; pc < to; pc += 4) {
    const d = code[pc + 1]!;
    const a = code[pc + 2]!;
    const b = code[pc + 3]!;
    switch (code[pc]!) {
      case 0:
        v[d] = v[a]!;
        break;
      case 1:
        v[d] = v[a]! + v[b]!;
        break;
      case 2:
        v[d] = v[a]! - v[b]!;
        break;
      case 3:
        v[d] = v[a]! * v[b]!;
        break;
      case 4:
        v[d] = quotient(v[a]!, v[b]!);
        break;
      case 5:
        v[d] = raised(v[a]!, v[b]!);
        break;
      case 6:
        v[d] = -v[a]!;
        break;
      case 7:
        v[d] = v[a]! < v[b]! ? 1 : v[a]! >= v[b]! ? 0 : NaN;
        break;
      case 8:
        v[d] = v[a]! <= v[b]! ? 1 : v[a]! > v[b]! ? 0 : NaN;
        break;
      case 9:
        v[d] = v[a]! > v[b]! ? 1 : v[a]! <= v[b]! ? 0 : NaN;
        break;
      case 10:
        v[d] = v[a]! >= v[b]! ? 1 : v[a]! < v[b]! ? 0 : NaN;
        break;
      case 11:
        v[d] = v[a] === v[b] ? 1 : v[a] !== v[a] || v[b] !== v[b] ? NaN : 0;
        break;
      case 12:
        v[d] = v[a] === v[b] ? 0 : v[a] !== v[a] || v[b] !== v[b] ? NaN : 1;
        break;
      case 13:
        v[d] = v[a]! * v[b]!;
        break;
      case 14:
        v[d] = v[a]! + v[b]! - v[a]! * v[b]!;
        break;
      case 15:
        v[d] = 1 - v[a]!;
        break;
      case 16:
        if (v[a] === 1) v[d] = v[b]!;
        else if (v[a] !== 0) v[d] = NaN;
        break;
      case 17:
        v[d] = v[a]! * v[a]!;
        break;
      case 18:
        v[d] = Math.abs(v[a]!);
        break;
      case 19:
        v[d] = Math.sqrt(v[a]!);
        break;
      case 20:
        v[d] = Math.exp(v[a]!);
        break;
      case 21:
        v[d] = logarithm(v[a]!);
        break;
      case 22:
        v[d] = v[a]! > 0 ? Math.log10(v[a]!) : NaN;
        break;
      case 23:
        v[d] = Math.sin(v[a]!);
        break;
      case 24:
        v[d] = Math.cos(v[a]!);
        break;
      case 25:
        v[d] = Math.tan(v[a]!);
        break;
      case 26:
        v[d] = Math.asin(v[a]!);
        break;
      case 27:
        v[d] = Math.acos(v[a]!);
        break;
      case 28:
        v[d] = Math.atan(v[a]!);
        break;
      case 29:
        v[d] = wholeBelow(v[a]!);
        break;
      case 30:
        v[d] = wholeAbove(v[a]!);
        break;
      case 31:
        v[d] = roundHalfAway(v[a]!);
        break;
      case 32:
        v[d] = wholeBelow(v[a]! / v[b]!) * v[b]!;
        break;
      case 33:
        v[d] = wholeAbove(v[a]! / v[b]!) * v[b]!;
        break;
      case 34:
        v[d] = roundHalfAway(v[a]! / v[b]!) * v[b]!;
        break;
      case 35:
        v[d] = Math.min(v[a]!, v[b]!);
        break;
      case 36:
        v[d] = Math.max(v[a]!, v[b]!);
        break;
      case 37:
        v[d] = v[a] === v[a] ? 0 : NaN;
        break;
      case 38:
        v[d] = v[a]!;
        break;
      case 39:
        v[d] = v[b] === 1 ? v[a]! : NaN;
        break;
      case 40:
        host.call(a);
        break;
      case 41:
        if (v[a] === 0) pc = from + b - 4;
        else if (v[a] !== 1) {
          v[d] = NaN;
          pc = from + code[from + b - 1]! - 4;
        }
        break;
      case 42:
        pc = from + b - 4;
        break;
      case 43:
        v[d] = v[a]!;
        break;
    }
  }
}

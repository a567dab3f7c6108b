/** The loops that column kernels are made of: d[i] = a[i] op b[i], with or without a scalar on one side. */
import { logarithm, OP, quotient, raised } from '../formula/tape.ts';

/** A column of doubles. */
export type Doubles = Float64Array;

export function copy(d: Doubles, d0: number, a: Doubles, a0: number, n: number): void {
  for (let i = 0; i < n; i++) d[d0 + i] = a[a0 + i]!;
}

export function scaleQuotient(
  d: Doubles,
  d0: number,
  a: Doubles,
  a0: number,
  s: number,
  t: number,
  n: number,
): void {
  // Nothing is divided by zero (tape.ts, quotient): looked at once, not in every row.
  if (t === 0) d.fill(NaN, d0, d0 + n);
  else for (let i = 0; i < n; i++) d[d0 + i] = (a[a0 + i]! * s) / t;
}
export function scaledSum(
  d: Doubles,
  d0: number,
  a: Doubles,
  a0: number,
  b: Doubles,
  b0: number,
  s: number,
  n: number,
): void {
  for (let i = 0; i < n; i++) d[d0 + i] = (a[a0 + i]! + b[b0 + i]!) * s;
}
export function greaterSelect(
  d: Doubles,
  d0: number,
  a: Doubles,
  a0: number,
  b: Doubles,
  b0: number,
  yes: Doubles,
  y0: number,
  no: Doubles,
  n0: number,
  n: number,
): void {
  for (let i = 0; i < n; i++) {
    const x = a[a0 + i]!;
    const y = b[b0 + i]!;
    d[d0 + i] = x > y ? yes[y0 + i]! : x <= y ? no[n0 + i]! : NaN;
  }
}
export function select(
  d: Doubles,
  d0: number,
  c: Doubles,
  c0: number,
  yes: Doubles,
  y0: number,
  no: Doubles,
  n0: number,
  n: number,
): void {
  for (let i = 0; i < n; i++)
    d[d0 + i] = c[c0 + i] === 1 ? yes[y0 + i]! : c[c0 + i] === 0 ? no[n0 + i]! : NaN;
}

export function columnScalar(
  op: number,
  d: Doubles,
  d0: number,
  a: Doubles,
  a0: number,
  s: number,
  n: number,
): void {
  switch (op) {
    case OP.add:
      for (let i = 0; i < n; i++) d[d0 + i] = a[a0 + i]! + s;
      return;
    case OP.subtract:
      for (let i = 0; i < n; i++) d[d0 + i] = a[a0 + i]! - s;
      return;
    case OP.multiply:
      for (let i = 0; i < n; i++) d[d0 + i] = a[a0 + i]! * s;
      return;
    default:
      if (s === 0) d.fill(NaN, d0, d0 + n);
      else for (let i = 0; i < n; i++) d[d0 + i] = a[a0 + i]! / s;
  }
}

export function scalarColumn(
  op: number,
  d: Doubles,
  d0: number,
  s: number,
  a: Doubles,
  a0: number,
  n: number,
): void {
  switch (op) {
    case OP.add:
      for (let i = 0; i < n; i++) d[d0 + i] = s + a[a0 + i]!;
      return;
    case OP.subtract:
      for (let i = 0; i < n; i++) d[d0 + i] = s - a[a0 + i]!;
      return;
    case OP.multiply:
      for (let i = 0; i < n; i++) d[d0 + i] = s * a[a0 + i]!;
      return;
    default:
      for (let i = 0; i < n; i++) d[d0 + i] = quotient(s, a[a0 + i]!);
  }
}

export function elementwise(
  op: number,
  d: Doubles,
  d0: number,
  a: Doubles,
  a0: number,
  b: Doubles,
  b0: number,
  n: number,
): void {
  switch (op) {
    case OP.add:
      for (let i = 0; i < n; i++) d[d0 + i] = a[a0 + i]! + b[b0 + i]!;
      return;
    case OP.subtract:
      for (let i = 0; i < n; i++) d[d0 + i] = a[a0 + i]! - b[b0 + i]!;
      return;
    case OP.multiply:
    case OP.and:
      for (let i = 0; i < n; i++) d[d0 + i] = a[a0 + i]! * b[b0 + i]!;
      return;
    case OP.divide:
      for (let i = 0; i < n; i++) d[d0 + i] = quotient(a[a0 + i]!, b[b0 + i]!);
      return;
    case OP.power:
      for (let i = 0; i < n; i++) d[d0 + i] = raised(a[a0 + i]!, b[b0 + i]!);
      return;
    case OP.square:
      for (let i = 0; i < n; i++) d[d0 + i] = a[a0 + i]! * a[a0 + i]!;
      return;
    case OP.or:
      for (let i = 0; i < n; i++) d[d0 + i] = a[a0 + i]! + b[b0 + i]! - a[a0 + i]! * b[b0 + i]!;
      return;
    default: {
      const f = OPERATIONS.get(op);
      if (!f) throw new Error(`operation ${op} has no kernel`);
      for (let i = 0; i < n; i++) d[d0 + i] = f(a[a0 + i]!, b[b0 + i] ?? 0);
    }
  }
}

/** The rarer operations, one call a row. */
const OPERATIONS: ReadonlyMap<number, (x: number, y: number) => number> = new Map([
  [OP.move, (x: number) => x],
  [OP.negate, (x: number) => -x],
  [OP.not, (x: number) => 1 - x],
  [OP.abs, (x: number) => Math.abs(x)],
  [OP.sqrt, (x: number) => Math.sqrt(x)],
  [OP.exp, (x: number) => Math.exp(x)],
  [OP.log, logarithm],
  [OP.less, (x: number, y: number) => (x < y ? 1 : x >= y ? 0 : NaN)],
  [OP.lessOrEqual, (x: number, y: number) => (x <= y ? 1 : x > y ? 0 : NaN)],
  [OP.greater, (x: number, y: number) => (x > y ? 1 : x <= y ? 0 : NaN)],
  [OP.greaterOrEqual, (x: number, y: number) => (x >= y ? 1 : x < y ? 0 : NaN)],
  [OP.equal, (x: number, y: number) => (x === y ? 1 : x !== x || y !== y ? NaN : 0)],
  [OP.notEqual, (x: number, y: number) => (x === y ? 0 : x !== x || y !== y ? NaN : 1)],
  [OP.min, (x: number, y: number) => Math.min(x, y)],
  [OP.max, (x: number, y: number) => Math.max(x, y)],
]);

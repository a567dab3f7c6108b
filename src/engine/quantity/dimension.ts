/**
 * Dimensions as interned small integers: equal dimensions are equal numbers, and products, quotients and powers
 * are look-ups after their first use. 0 is the plain number.
 */

import { writeSuperscript } from './superscript.ts';

export type Dimension = number;

export const BASES = [
  'length',
  'mass',
  'time',
  'temperature',
  'current',
  'amount',
  'luminosity',
  'money',
] as const;

export type Base = (typeof BASES)[number];

/** Exponents in the order of BASES. */
export type Exponents = readonly number[];

const vectors: Exponents[] = [];
const byKey = new Map<string, Dimension>();
const products: number[][] = [];
const quotients: number[][] = [];
const powers: Map<number, Dimension>[] = [];

const MAX_ROOT = 12;

/**
 * A root and its power have to come back to the same exponents, so those near a simple fraction are that fraction;
 * others are rounded, far below any exponent in use. `+ 0` turns -0 into 0.
 */
function rounded(exponent: number): number {
  for (let root = 1; root <= MAX_ROOT; root++) {
    const fraction = Math.round(exponent * root) / root;
    if (Math.abs(fraction - exponent) < 1e-9) return fraction + 0;
  }
  return Math.round(exponent * 1e9) / 1e9;
}

function intern(exponents: Exponents): Dimension {
  const vector = exponents.map(rounded);
  const key = vector.join();
  const known = byKey.get(key);
  if (known !== undefined) return known;
  const created = vectors.length;
  vectors.push(Object.freeze(vector));
  products.push([]);
  quotients.push([]);
  powers.push(new Map());
  byKey.set(key, created);
  return created;
}

export const DIMENSIONLESS: Dimension = intern(BASES.map(() => 0));

export function dimension(parts: Readonly<Partial<Record<Base, number>>>): Dimension {
  return intern(BASES.map((base) => parts[base] ?? 0));
}

export function exponents(d: Dimension): Exponents {
  const vector = vectors[d];
  if (vector === undefined) throw new RangeError(`${String(d)} is not a dimension`);
  return vector;
}

export function multiply(a: Dimension, b: Dimension): Dimension {
  const row = products[a];
  const known = row?.[b];
  if (known !== undefined) return known;
  const right = exponents(b);
  const result = intern(exponents(a).map((exponent, i) => exponent + (right[i] ?? 0)));
  if (row !== undefined) row[b] = result;
  return result;
}

export function divide(a: Dimension, b: Dimension): Dimension {
  const row = quotients[a];
  const known = row?.[b];
  if (known !== undefined) return known;
  const right = exponents(b);
  const result = intern(exponents(a).map((exponent, i) => exponent - (right[i] ?? 0)));
  if (row !== undefined) row[b] = result;
  return result;
}

export function power(a: Dimension, n: number): Dimension {
  if (!Number.isFinite(n)) throw new RangeError('the exponent of a dimension is a finite number');
  const known = powers[a]?.get(n);
  if (known !== undefined) return known;
  const result = intern(exponents(a).map((exponent) => exponent * n));
  powers[a]?.set(n, result);
  return result;
}

const everyday = new Map<Dimension, string>();

function name(text: string, parts: Readonly<Partial<Record<Base, number>>>): void {
  everyday.set(dimension(parts), text);
}

name('length', { length: 1 });
name('area', { length: 2 });
name('volume', { length: 3 });
name('mass', { mass: 1 });
name('time', { time: 1 });
name('temperature', { temperature: 1 });
name('current', { current: 1 });
name('amount of substance', { amount: 1 });
name('luminous intensity', { luminosity: 1 });
name('money', { money: 1 });
name('volume flow', { length: 3, time: -1 });
// A flow through an area and a speed are the same dimension; a builder meets the first more often.
name('speed or flow per area', { length: 1, time: -1 });
name('rate', { time: -1 });
name('acceleration', { length: 1, time: -2 });
name('mass flow', { mass: 1, time: -1 });
name('density', { mass: 1, length: -3 });
name('mass per area', { mass: 1, length: -2 });
name('mass per length', { mass: 1, length: -1 });
name('force', { mass: 1, length: 1, time: -2 });
name('pressure', { mass: 1, length: -1, time: -2 });
name('energy', { mass: 1, length: 2, time: -2 });
name('power', { mass: 1, length: 2, time: -3 });
name('force per length', { mass: 1, time: -2 });
name('heat flow per area', { mass: 1, time: -3 });
name('heat transmittance', { mass: 1, time: -3, temperature: -1 });
name('thermal resistance', { mass: -1, time: 3, temperature: 1 });
name('thermal conductivity', { mass: 1, length: 1, time: -3, temperature: -1 });
name('heat flow per degree', { mass: 1, length: 2, time: -3, temperature: -1 });
name('heat capacity', { mass: 1, length: 2, time: -2, temperature: -1 });
name('specific heat', { length: 2, time: -2, temperature: -1 });
name('specific energy', { length: 2, time: -2 });
name('vapour permeance', { length: -1, time: 1 });
name('dynamic viscosity', { mass: 1, length: -1, time: -1 });
name('diffusivity', { length: 2, time: -1 });
name('specific volume', { length: 3, mass: -1 });
name('second moment of area', { length: 4 });
name('count per length', { length: -1 });
name('count per area', { length: -2 });
name('price per length', { money: 1, length: -1 });
name('price per area', { money: 1, length: -2 });
name('price per volume', { money: 1, length: -3 });
name('price per mass', { money: 1, mass: -1 });
name('price per time', { money: 1, time: -1 });
name('price per energy', { money: 1, mass: -1, length: -2, time: 2 });
name('electric charge', { current: 1, time: 1 });
name('voltage', { mass: 1, length: 2, time: -3, current: -1 });
name('electric resistance', { mass: 1, length: 2, time: -3, current: -2 });
name('electric conductance', { mass: -1, length: -2, time: 3, current: 2 });
name('capacitance', { mass: -1, length: -2, time: 4, current: 2 });
name('inductance', { mass: 1, length: 2, time: -2, current: -2 });
name('magnetic flux', { mass: 1, length: 2, time: -2, current: -1 });
name('magnetic flux density', { mass: 1, time: -2, current: -1 });

/** "volume flow"; undefined where people have no word for it. */
export function dimensionName(d: Dimension): string | undefined {
  return everyday.get(d);
}

/** "²" for 2, "" for 1, "^0.5" for a fraction, which has no raised form. */
export function raised(exponent: number): string {
  if (exponent === 1) return '';
  if (!Number.isInteger(exponent) || exponent < 0) return `^${String(exponent)}`;
  return writeSuperscript(exponent);
}

/** Factors with their exponents as one line: "length³/time", "1/time", "a/(b·c)". */
export function writeProduct(factors: readonly (readonly [symbol: string, exponent: number])[]): string {
  const above = factors.filter(([, exponent]) => exponent > 0).map(([symbol, e]) => symbol + raised(e));
  const below = factors.filter(([, exponent]) => exponent < 0).map(([symbol, e]) => symbol + raised(-e));
  if (below.length === 0) return above.join('·');
  const under = below.length === 1 ? (below[0] ?? '') : `(${below.join('·')})`;
  return `${above.length === 0 ? '1' : above.join('·')}/${under}`;
}

/** "area, length²"; "length" alone where the name is the product; "a plain number". */
export function describeDimension(d: Dimension): string {
  if (d === DIMENSIONLESS) return 'a plain number';
  const vector = exponents(d);
  const product = writeProduct(BASES.map((base, i) => [base, vector[i] ?? 0] as const));
  const everydayName = dimensionName(d);
  return everydayName === undefined || everydayName === product ? product : `${everydayName}, ${product}`;
}

/**
 * Sums of contributions, each taken so many times, source by source. What is left of terms that cancel but for
 * rounding is nothing: `x - x` is exactly certain.
 */
import { placesIn, type SourceSet } from './source-set.ts';

/** What is left of terms that cancel but for rounding, relative to their size. */
export const ROUNDING = 16 * Number.EPSILON;

interface Term {
  readonly set: SourceSet;
  /** By source of the set. */
  readonly parts: Float64Array;
}

/** Sum of the sizes of what was added, to tell what cancelled from what is small. */
let sizes = new Float64Array(64);

/**
 * `to` becomes the sum of the first `count` terms times their factors, over the sources of `set`, which holds those of
 * every term. Most formulas have one or two terms with all of these sources, and others with a few: the terms and
 * their factors are put in that order.
 */
export function weightedSum(
  to: Float64Array,
  set: SourceSet,
  terms: Term[],
  factors: Float64Array,
  count: number,
): void {
  let whole = 0;
  for (let j = 0; j < count && whole < 2; j++) if (terms[j]!.set === set) swap(terms, factors, whole++, j);
  if (whole === 0) to.fill(0);
  else if (whole === 1) scaled(to, terms[0]!.parts, factors[0]!);
  else sumOfTwo(to, terms[0]!.parts, factors[0]!, terms[1]!.parts, factors[1]!);
  if (whole === count) return;
  if (sizes.length < to.length) sizes = new Float64Array(2 * to.length);
  for (let j = whole; j < count; j++) begin(set, terms, factors, whole, terms[j]!);
  for (let j = whole; j < count; j++) add(to, set, terms[j]!, factors[j]!);
  for (let j = whole; j < count; j++) roundOff(to, set, terms[j]!);
}

function swap(terms: Term[], factors: Float64Array, i: number, j: number): void {
  const term = terms[i]!;
  terms[i] = terms[j]!;
  terms[j] = term;
  const factor = factors[i]!;
  factors[i] = factors[j]!;
  factors[j] = factor;
}

function scaled(to: Float64Array, a: Float64Array, s: number): void {
  for (let k = 0; k < to.length; k++) to[k] = a[k]! * s;
}

function sumOfTwo(to: Float64Array, a: Float64Array, s: number, b: Float64Array, t: number): void {
  for (let k = 0; k < to.length; k++) {
    const x = a[k]! * s;
    const y = b[k]! * t;
    const sum = x + y;
    to[k] = Math.abs(sum) <= ROUNDING * (Math.abs(x) + Math.abs(y)) ? 0 : sum;
  }
}

/** Where a term is about to be added: the sizes of the whole terms that stand there. */
function begin(set: SourceSet, terms: Term[], factors: Float64Array, whole: number, { set: own }: Term): void {
  const places = placesIn(set, own);
  for (let k = 0; k < places.length; k++) {
    let size = 0;
    for (let i = 0; i < whole; i++) size += Math.abs(terms[i]!.parts[places[k]!]! * factors[i]!);
    sizes[places[k]!] = size;
  }
}

function add(to: Float64Array, set: SourceSet, { set: own, parts }: Term, s: number): void {
  const places = placesIn(set, own);
  for (let k = 0; k < places.length; k++) {
    const part = parts[k]! * s;
    to[places[k]!]! += part;
    sizes[places[k]!]! += Math.abs(part);
  }
}

function roundOff(to: Float64Array, set: SourceSet, { set: own }: Term): void {
  const places = placesIn(set, own);
  for (let k = 0; k < places.length; k++) {
    const at = places[k]!;
    if (Math.abs(to[at]!) <= ROUNDING * sizes[at]!) to[at] = 0;
  }
}

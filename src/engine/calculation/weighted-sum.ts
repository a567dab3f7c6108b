/**
 * Sums of contributions, each taken so many times, source by source. What is left of terms that cancel but for
 * rounding is nothing: `x - x` is exactly certain.
 */
import { placesIn, type SourceSet } from './source-set.ts';

/** What is left of terms that cancel but for rounding, relative to their size. */
export const ROUNDING = 16 * Number.EPSILON;

/** Terms stand in one array of contributions, each from `starts` on, over the sources of its set. */
export interface Terms {
  readonly starts: Int32Array;
  readonly factors: Float64Array;
  readonly sets: SourceSet[];
}

/** Sum of the sizes of what was added, to tell what cancelled from what is small. */
let sizes = new Float64Array(64);

/**
 * From `to` on `parts` becomes the sum of the first `count` terms times their factors, over the sources of `set`,
 * which holds those of every term. Most terms have all of these sources, some a few: they are put in that order.
 */
export function weightedSum(
  parts: Float64Array,
  to: number,
  set: SourceSet,
  terms: Terms,
  count: number,
): void {
  const { starts, factors, sets } = terms;
  const n = set.ids.length;
  let whole = 0;
  for (let j = 0; j < count; j++) if (sets[j] === set) swap(terms, whole++, j);
  sumOfWhole(parts, to, n, terms, whole);
  if (whole === count) return;
  if (count === 2 && whole === 1) {
    addOne(parts, to, starts[1]!, factors[1]!, placesIn(set, sets[1]!));
    return;
  }
  if (sizes.length < n) sizes = new Float64Array(2 * n);
  for (let j = whole; j < count; j++) begin(parts, terms, whole, placesIn(set, sets[j]!));
  for (let j = whole; j < count; j++) add(parts, to, starts[j]!, factors[j]!, placesIn(set, sets[j]!));
  for (let j = whole; j < count; j++) roundOff(parts, to, placesIn(set, sets[j]!));
}

/** The same over `n` sources that each of the first `count` terms has. */
export function sumOfWhole(
  parts: Float64Array,
  to: number,
  n: number,
  terms: Omit<Terms, 'sets'>,
  count: number,
): void {
  const { starts, factors } = terms;
  if (count === 0) parts.fill(0, to, to + n);
  else if (count === 1) scaled(parts, to, n, starts[0]!, factors[0]!);
  else if (count === 2) sumOfTwo(parts, to, n, starts[0]!, factors[0]!, starts[1]!, factors[1]!);
  else sumOfMany(parts, to, n, terms, count);
}

function swap({ starts, factors, sets }: Terms, i: number, j: number): void {
  if (i === j) return;
  const start = starts[i]!;
  starts[i] = starts[j]!;
  starts[j] = start;
  const factor = factors[i]!;
  factors[i] = factors[j]!;
  factors[j] = factor;
  const set = sets[i]!;
  sets[i] = sets[j]!;
  sets[j] = set;
}

function scaled(parts: Float64Array, to: number, n: number, a: number, s: number): void {
  for (let k = 0; k < n; k++) parts[to + k] = parts[a + k]! * s;
}

function sumOfTwo(
  parts: Float64Array,
  to: number,
  n: number,
  a: number,
  s: number,
  b: number,
  t: number,
): void {
  for (let k = 0; k < n; k++) {
    const x = parts[a + k]! * s;
    const y = parts[b + k]! * t;
    const sum = x + y;
    parts[to + k] = Math.abs(sum) <= ROUNDING * (Math.abs(x) + Math.abs(y)) ? 0 : sum;
  }
}

function sumOfMany(
  parts: Float64Array,
  to: number,
  n: number,
  { starts, factors }: Omit<Terms, 'sets'>,
  whole: number,
): void {
  for (let k = 0; k < n; k++) {
    let sum = 0;
    let size = 0;
    for (let j = 0; j < whole; j++) {
      const part = parts[starts[j]! + k]! * factors[j]!;
      sum += part;
      size += Math.abs(part);
    }
    parts[to + k] = Math.abs(sum) <= ROUNDING * size ? 0 : sum;
  }
}

/** A second term, where one stands. */
function addOne(parts: Float64Array, to: number, from: number, s: number, places: Int32Array): void {
  for (let k = 0; k < places.length; k++) {
    const at = to + places[k]!;
    const x = parts[at]!;
    const y = parts[from + k]! * s;
    const sum = x + y;
    parts[at] = Math.abs(sum) <= ROUNDING * (Math.abs(x) + Math.abs(y)) ? 0 : sum;
  }
}

/** Where a term is about to be added: the sizes of the whole terms that stand there. */
function begin(parts: Float64Array, { starts, factors }: Terms, whole: number, places: Int32Array): void {
  for (let k = 0; k < places.length; k++) {
    const place = places[k]!;
    let size = 0;
    for (let i = 0; i < whole; i++) size += Math.abs(parts[starts[i]! + place]! * factors[i]!);
    sizes[place] = size;
  }
}

function add(parts: Float64Array, to: number, from: number, s: number, places: Int32Array): void {
  for (let k = 0; k < places.length; k++) {
    const part = parts[from + k]! * s;
    parts[to + places[k]!]! += part;
    sizes[places[k]!]! += Math.abs(part);
  }
}

function roundOff(parts: Float64Array, to: number, places: Int32Array): void {
  for (let k = 0; k < places.length; k++) {
    const at = to + places[k]!;
    if (Math.abs(parts[at]!) <= ROUNDING * sizes[places[k]!]!) parts[at] = 0;
  }
}

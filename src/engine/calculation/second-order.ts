/**
 * How far a result moves where its slope says that it does not: found by trying it at other values of its sources,
 * each moved alone and all of them together, and told as the two moments to second order.
 *
 * Alone a source is tried at ± √3 standard uncertainties: with weights of 1/6 these two and the middle have the first
 * five moments of a normal distribution (Gauss–Hermite quadrature in three points), so the mean and variance of a square
 * come out right; and no value is tried outside of typed limits. What two sources do only together (x × z at 0) shows when all
 * move by one standard uncertainty up or down: the mean over the patterns of signs, of the square of what none does
 * alone, is the sum of the interaction terms of JCGM 100:2008, 5.1.2, note.
 */
import { Random } from './random.ts';

const ALONE = Math.sqrt(3);
/** Patterns of signs, each tried with its opposite: up to seven sources all of them, of more a fixed choice. */
const MOST_PATTERNS = 64;
/** Always the same patterns, so that what is said does not flicker. */
const SEED = 1;

/** Of a result that is moved by its sources. */
export interface Movement {
  /** Mean less the nominal value. */
  readonly shift: number;
  /** Standard uncertainty, to second order. */
  readonly uncertainty: number;
  /** Farthest that it came down and up in the trials. */
  readonly down: number;
  readonly up: number;
}

/** `at` gives the result with each of the sources moved by so many of its standard uncertainties. */
export function movementOf(
  sources: number,
  at: (times: Float64Array) => number,
  leastTold: number,
): Movement {
  const times = new Float64Array(sources);
  const nominal = at(times);
  let down = 0;
  let up = 0;
  const moved = (): number => {
    const by = at(times) - nominal;
    // Outside the range of a function there is nothing to be learned; and rounding is no movement.
    if (!(Math.abs(by) > leastTold && Math.abs(by) < Infinity)) return 0;
    down = Math.max(down, -by);
    up = Math.max(up, by);
    return by;
  };
  let shift = 0;
  let variance = 0;
  /** What all do, each alone, when moved either way by one standard uncertainty. */
  let apart = 0;
  for (let i = 0; i < sources; i++) {
    times[i] = ALONE;
    const above = moved();
    times[i] = -ALONE;
    const below = moved();
    const mean = (above + below) / 6;
    shift += mean;
    variance += (above * above + below * below) / 6 - mean * mean;
    if (sources > 1) {
      times[i] = 1;
      apart += moved() / 2;
      times[i] = -1;
      apart += moved() / 2;
    }
    times[i] = 0;
  }
  if (sources > 1) {
    const all = 2 ** (sources - 1) <= MOST_PATTERNS;
    const patterns = all ? 2 ** (sources - 1) : MOST_PATTERNS;
    const random = new Random(SEED);
    for (let p = 0; p < patterns; p++) {
      // The opposite of each is tried as well, so that one sign need not change.
      for (let i = 0; i < sources; i++)
        times[i] = (all ? ((p >> i) & 1) === 0 : random.uniform() < 0.5) ? 1 : -1;
      let together = moved() / 2;
      for (let i = 0; i < sources; i++) times[i] = -times[i]!;
      together += moved() / 2;
      variance += (together - apart) ** 2 / patterns;
    }
  }
  return { shift, uncertainty: Math.sqrt(Math.max(0, variance)), down, up };
}

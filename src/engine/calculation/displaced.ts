/**
 * Flat points: where what goes in is uncertain and the result is not, to first order, because its sensitivities
 * vanish there (x² at 0), moving all sources at once by about their standard uncertainty tells whether the result
 * moves after all (rule U3). What cancels (x − x) and what is constant nearby does not.
 */
import type { Spread } from './sources.ts';

/** A second move this much smaller: a result that is flat there then moves by its square or a higher power. */
const SMALLER = 1 / 16;
const LEAST_RATIO = 100;
const MOST_RATIO = 1e7;

/** How far a value goes when its sources move; by other amounts each, so that no two are alike by chance. */
export function displacement(spread: Spread): number {
  if (spread.flat) return spread.moved;
  const { ids } = spread.set;
  let sum = 0;
  for (let k = 0; k < ids.length; k++) sum += spread.parts[k]! * (1 + ((ids[k]! * 0.6180339887) % 1));
  return sum;
}

/** A displacement taken so many times: what is flat goes by the square of what its sources do. */
export function displacedBy(displacement: number, flat: boolean, times: number): number {
  return displacement * (flat ? times * times : times);
}

/**
 * How far a result moves; 0 where it does not, or where its slope tells. `at` gives it with all displacements taken so
 * many times.
 */
export function flatMovement(nominal: number, at: (times: number) => number): number {
  const far = at(1) - nominal;
  if (!(Math.abs(far) > 0)) return 0;
  const ratio = Math.abs(far / (at(SMALLER) - nominal));
  // Rounding moves a result too, but not in this way; a step or a corner is told as a doubt of its own.
  return ratio > LEAST_RATIO && ratio < MOST_RATIO ? far : 0;
}

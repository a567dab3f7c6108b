import { logStudentDensity, studentCentre, studentTailRatio } from './student-distribution.ts';

/** Below this a probability is of no use, and squares of t would leave the range of a double. */
export const SMALLEST_PROBABILITY = 1e-100;

/**
 * The value that Student's t stays under with the given probability, to about 1e-14 relative; NaN outside the
 * limits (probability strictly between 0 and 1, one degree of freedom at least, which need not be a whole number).
 *
 * Newton's method on whichever of centre and tail is well conditioned. The centre is concave in t, so starting
 * below the root climbs to it; the logarithm of the tail is concave in ln t, so after at most one overshoot it comes
 * down to the root. Start in the tail: Wallace, Annals of Mathematical Statistics 30 (1959) 1124 (from memory).
 */
export function studentQuantile(probability: number, dof: number): number {
  if (probability !== last.probability || dof !== last.dof)
    last = { probability, dof, value: quantile(probability, dof) };
  return last.value;
}

/** A sampled check asks ten thousand times for the same one. */
let last = { probability: NaN, dof: NaN, value: NaN };

function quantile(probability: number, dof: number): number {
  const tail = Math.min(probability, 1 - probability);
  if (!(tail >= SMALLEST_PROBABILITY) || !(dof >= 1) || !Number.isFinite(dof)) return NaN;
  const sign = probability < 0.5 ? -1 : 1;
  const centre = Math.abs(probability - 0.5);
  if (centre === 0) return 0;
  const parting = Math.sqrt(Math.min(2, dof));
  const magnitude = centre <= studentCentre(parting, dof) ? fromCentre(centre, dof) : fromTail(tail, dof);
  return sign * magnitude;
}

function fromCentre(centre: number, dof: number): number {
  let t = centre / Math.exp(logStudentDensity(0, dof));
  for (let i = 0; i < 100; i++) {
    const step = (centre - studentCentre(t, dof)) / Math.exp(logStudentDensity(t, dof));
    t += step;
    if (Math.abs(step) <= 2e-16 * t) break;
  }
  return t;
}

function fromTail(tail: number, dof: number): number {
  const normal = roughNormalQuantile(tail) * ((8 * dof + 3) / (8 * dof + 1));
  let logT = Math.log(dof * Math.expm1((normal * normal) / dof)) / 2;
  for (let i = 0; i < 100; i++) {
    const t = Math.exp(logT);
    const ratio = studentTailRatio(t, dof);
    const logTail = logT + logStudentDensity(t, dof) + Math.log(ratio);
    const step = (logTail - Math.log(tail)) * ratio;
    logT += step;
    if (Math.abs(step) <= 2e-16) break;
  }
  return Math.exp(logT);
}

/** Upper normal quantile to three decimals: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.2.22. */
function roughNormalQuantile(tail: number): number {
  const s = Math.sqrt(-2 * Math.log(tail));
  return s - (2.30753 + 0.27061 * s) / (1 + s * (0.99229 + 0.04481 * s));
}

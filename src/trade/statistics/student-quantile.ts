import { defineFunction, fault, type Fault } from '../../engine/index.ts';
import { logStudentDensity, studentCentre, studentTailRatio } from './student-distribution.ts';

/** Below this a probability is of no use, and squares of t would leave the range of a double. */
const SMALLEST_PROBABILITY = 1e-100;

/**
 * The value that Student's t stays under with the given probability, to about 1e-14 relative; NaN outside the
 * limits (probability strictly between 0 and 1, one degree of freedom at least, which need not be a whole number).
 *
 * Newton's method on whichever of centre and tail is well conditioned. The centre is concave in t, so starting
 * below the root climbs to it; the logarithm of the tail is concave in ln t, so after at most one overshoot it comes
 * down to the root. Start in the tail: Wallace, Annals of Mathematical Statistics 30 (1959) 1124 (from memory).
 */
export function studentQuantile(probability: number, dof: number): number {
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

export function studentQuantileOrFault(probability: number, dof: number): number | Fault {
  if (!(probability > 0 && probability < 1)) {
    return fault(
      'The probability must lie between 0 and 1.',
      'For two-sided 95 % limits write t_quantile(0.975, degrees_of_freedom).',
    );
  }
  if (!(dof >= 1) || !Number.isFinite(dof)) {
    return fault(
      'Student’s t needs at least 1 degree of freedom.',
      'A straight line through N points leaves N − 2: three points are the fewest that give limits.',
    );
  }
  if (probability < SMALLEST_PROBABILITY)
    return fault('The probability is too small to be of use (under 1e-100).');
  return studentQuantile(probability, dof);
}

export const tQuantile = defineFunction({
  name: 't_quantile',
  summary: 'The value that Student’s t stays under with the given probability.',
  source:
    'Student’s t distribution, NIST Digital Library of Mathematical Functions 8.17 (incomplete beta function); method described in the code.',
  limits: 'Probability between 0 and 1, exclusive; degrees of freedom 1 or more, not necessarily whole.',
  parameters: [
    {
      name: 'probability',
      type: { kind: 'quantity', unit: '' },
      summary: 'One-sided: 0.975 for two-sided 95 % limits',
    },
    {
      name: 'degrees_of_freedom',
      type: { kind: 'quantity', unit: '' },
      summary: 'Points less fitted parameters',
    },
  ],
  result: { kind: 'quantity', unit: '' },
  example: { formula: 't_quantile(0.975, 4)', arguments: [0.975, 4], result: 2.7764451051977943 },
  compute: studentQuantileOrFault,
});

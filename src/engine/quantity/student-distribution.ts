/**
 * Student's t distribution: density, and the probability between 0 and t or beyond t. Each probability has its
 * own form, so that neither a small centre nor a small tail is lost in a subtraction from one half.
 */

/**
 * Γ(z + ½) / Γ(z) for z > 0, without the cancellation of two large logarithms.
 * Stirling's series (NIST Digital Library of Mathematical Functions 5.11.1), after raising z by Γ(z + 1) = z Γ(z).
 */
export function gammaHalfRatio(z: number): number {
  let raised = z;
  let product = 1;
  while (raised < 20) {
    product *= raised / (raised + 0.5);
    raised += 1;
  }
  const logarithm =
    raised * Math.log1p(0.5 / raised) - 0.5 + stirlingRemainder(raised + 0.5) - stirlingRemainder(raised);
  return product * Math.sqrt(raised) * Math.exp(logarithm);
}

/** ln Γ(z) less its leading terms; six terms leave less than 1e-18 for z ≥ 20. */
function stirlingRemainder(z: number): number {
  const s = 1 / (z * z);
  return (
    (1 / 12 + s * (-1 / 360 + s * (1 / 1260 + s * (-1 / 1680 + s * (1 / 1188 + (s * -691) / 360360))))) / z
  );
}

/** ln of the density of Student's t at t. */
export function logStudentDensity(t: number, dof: number): number {
  const peak = gammaHalfRatio(dof / 2) / Math.sqrt(dof * Math.PI);
  return Math.log(peak) - ((dof + 1) / 2) * Math.log1p((t * t) / dof);
}

/**
 * Probability between 0 and t: half the incomplete beta function I(x; ½, ν/2), x = t²/(ν + t²), by its series of
 * positive terms (NIST Digital Library of Mathematical Functions 8.17.8). Quick for t² up to about ν or 2.
 */
export function studentCentre(t: number, dof: number): number {
  const x = (t * t) / (dof + t * t);
  let term = 1;
  let sum = 1;
  for (let k = 0; term > sum * 1e-17; k++) {
    term *= (x * ((dof + 1) / 2 + k)) / (1.5 + k);
    sum += term;
  }
  return t * Math.exp(logStudentDensity(t, dof)) * sum;
}

/**
 * The tail beyond t > 0 divided by t times the density there: half the continued fraction for I(x; ν/2, ½),
 * x = ν/(ν + t²), in the contracted form of DiDonato and Morris, ACM TOMS 18 (1992) 360-373 (from memory; the tests
 * check it against 50-digit values). Its terms do not cancel for large ν. Quick where `studentCentre` is slow.
 */
export function studentTailRatio(t: number, dof: number): number {
  const a = dof / 2;
  const x = dof / (dof + t * t);
  const y = (t * t) / (dof + t * t);
  const lambda = (a + 0.5) * y - 0.5;

  // Modified Lentz evaluation.
  let fraction = (a / (a + 1)) * (lambda + 1);
  let c = fraction;
  let d = 0;
  for (let n = 1; n < 10_000; n++) {
    const odd = a + 2 * n - 1;
    const numerator = ((a + n - 1) * (a + n - 0.5) * n * (0.5 - n) * x * x) / (odd * odd);
    const denominator = n + (n * (0.5 - n) * x) / odd + ((a + n) / (odd + 2)) * (lambda + 1 + n * (1 + y));
    d = 1 / (denominator + numerator * d);
    c = denominator + numerator / c;
    const step = c * d;
    fraction *= step;
    if (Math.abs(step - 1) < 1e-16) break;
  }
  return 0.5 / fraction;
}

/** Probability that Student's t is at most `t`. */
export function studentProbability(t: number, dof: number): number {
  const size = Math.abs(t);
  if (size === 0) return 0.5;
  if (Number.isNaN(size)) return NaN;
  if (size === Infinity) return t > 0 ? 1 : 0;
  const small = size * size <= Math.min(2, dof);
  const tail = small
    ? 0.5 - studentCentre(size, dof)
    : size * Math.exp(logStudentDensity(size, dof)) * studentTailRatio(size, dof);
  return t > 0 ? 1 - tail : tail;
}

/** Probability that a standard normal variable is at most `z`: Student's t with so many degrees that none is missed. */
export function normalProbability(z: number): number {
  return studentProbability(z, 1e10);
}

/** How the probability of Student's t answers to its degrees of freedom; by t it is the density. */
import { logStudentDensity, studentCentre, studentTailRatio } from './student-distribution.ts';

/**
 * Derivative of the probability that Student's t is at most `t` by its degrees of freedom. The forms of
 * student-distribution.ts, differentiated term by term: the series near the centre, the continued fraction beyond.
 */
export function studentProbabilityByDof(t: number, dof: number): number {
  const size = Math.abs(t);
  if (size === 0 || size === Infinity) return 0;
  if (Number.isNaN(size)) return NaN;
  const small = size * size <= Math.min(2, dof);
  return Math.sign(t) * (small ? centreByDof(size, dof) : -tailByDof(size, dof));
}

export function studentDensity(t: number, dof: number): number {
  return Math.exp(logStudentDensity(t, dof));
}

/** Of the logarithm of the density. */
function logDensityByDof(t: number, dof: number): number {
  const u = (t * t) / dof;
  const peak = (logGammaHalfRatioSlope(dof / 2) - 1 / dof) / 2;
  return peak + (((dof + 1) / dof) * (u / (1 + u)) - Math.log1p(u)) / 2;
}

/** Derivative of ln(Γ(z + ½) / Γ(z)): ψ(z + ½) − ψ(z), by its recurrence and series (DLMF 5.5.2 and 5.11.2). */
function logGammaHalfRatioSlope(z: number): number {
  let raised = z;
  let sum = 0;
  while (raised < 20) {
    sum += 0.5 / (raised * (raised + 0.5));
    raised += 1;
  }
  const half = raised + 0.5;
  return sum + Math.log1p(0.5 / raised) + 0.25 / (raised * half) + remainder(half) - remainder(raised);
}

/** ψ(z) less its leading terms; six terms leave less than 1e-17 for z ≥ 20. */
function remainder(z: number): number {
  const s = 1 / (z * z);
  return s * (-1 / 12 + s * (1 / 120 + s * (-1 / 252 + s * (1 / 240 + s * (-1 / 132 + (s * 691) / 32760)))));
}

function centreByDof(t: number, dof: number): number {
  const x = (t * t) / (dof + t * t);
  const logX = -1 / (dof + t * t);
  let term = 1;
  let slope = 0;
  let sum = 0;
  for (let k = 0; k < 10_000; k++) {
    const factor = (dof + 1) / 2 + k;
    term *= (x * factor) / (1.5 + k);
    slope += logX + 0.5 / factor;
    sum += term * slope;
    if (term < 1e-18) break;
  }
  return studentCentre(t, dof) * logDensityByDof(t, dof) + t * studentDensity(t, dof) * sum;
}

function tailByDof(t: number, dof: number): number {
  const tail = t * studentDensity(t, dof) * studentTailRatio(t, dof);
  return tail * (logDensityByDof(t, dof) - logFractionByDof(t, dof));
}

/** Of the logarithm of the fraction in `studentTailRatio`; every name with `By` is the derivative of the one without. */
function logFractionByDof(t: number, dof: number): number {
  const a = dof / 2;
  const x = dof / (dof + t * t);
  const y = (t * t) / (dof + t * t);
  const xBy = y / (dof + t * t);
  const lambda = (a + 0.5) * y - 0.5;
  const lambdaBy = y / 2 - (a + 0.5) * xBy;

  const first = (a / (a + 1)) * (lambda + 1);
  let c = first;
  let cBy = (0.5 / (a + 1) ** 2) * (lambda + 1) + (a / (a + 1)) * lambdaBy;
  let d = 0;
  let dBy = 0;
  let logBy = cBy / c;
  for (let n = 1; n < 10_000; n++) {
    const odd = a + 2 * n - 1;
    const share = (x * x) / (odd * odd);
    const shareBy = 2 * share * (xBy / x - 0.5 / odd);
    const over = (a + n - 1) * (a + n - 0.5);
    const overBy = 0.5 * (2 * a + 2 * n - 1.5);
    const times = n * (0.5 - n);
    const numerator = over * times * share;
    const numeratorBy = times * (overBy * share + over * shareBy);
    const inner = lambda + 1 + n * (1 + y);
    const innerBy = lambdaBy - n * xBy;
    const under = (a + n) / (odd + 2);
    const underBy = (0.5 * (odd + 2) - 0.5 * (a + n)) / (odd + 2) ** 2;
    const denominator = n + (times * x) / odd + under * inner;
    const denominatorBy = times * (xBy / odd - (0.5 * x) / (odd * odd)) + underBy * inner + under * innerBy;

    const dNext = 1 / (denominator + numerator * d);
    dBy = -(denominatorBy + numeratorBy * d + numerator * dBy) * dNext * dNext;
    d = dNext;
    const cNext = denominator + numerator / c;
    cBy = denominatorBy + numeratorBy / c - (numerator * cBy) / (c * c);
    c = cNext;
    const step = cBy / c + dBy / d;
    logBy += step;
    if (Math.abs(c * d - 1) < 1e-16 && Math.abs(step) <= 1e-16 * Math.abs(logBy)) break;
  }
  return logBy;
}

/** How a quantile answers to its probability and to its degrees of freedom. */
export function studentQuantileSlopes(
  quantile: number,
  dof: number,
): { readonly byProbability: number; readonly byDof: number } {
  const density = studentDensity(quantile, dof);
  return { byProbability: 1 / density, byDof: -studentProbabilityByDof(quantile, dof) / density };
}

import { fault, type Fault } from '../../engine/index.ts';

/** A line y = intercept + slope x. NaN stands for what so few points cannot tell. */
export interface StraightLineFit {
  readonly points: number;
  readonly intercept: number;
  readonly slope: number;
  readonly seIntercept: number;
  readonly seSlope: number;
  /** Of intercept and slope. */
  readonly covariance: number;
  readonly residualSd: number;
  readonly rSquared: number;
  readonly dof: number;
  readonly meanX: number;
  readonly meanY: number;
  /** Sum of squared distances of x from its mean. */
  readonly sumSquaresX: number;
  readonly residuals: readonly number[];
  readonly leverage: readonly number[];
  /** Each residual over its own standard deviation, estimated without that point (externally studentized). */
  readonly studentizedResiduals: readonly number[];
}

/**
 * Ordinary least squares with equal weights, centred on the means first so that no digits are lost.
 * Formulas: any text on regression; checked with NIST StRD Norris and ISO/TS 28037:2010 example 5.
 */
export function straightLineFit(x: readonly number[], y: readonly number[]): StraightLineFit | Fault {
  if (x.length !== y.length) {
    return fault(`There are ${x.length} x values and ${y.length} y values.`, 'Give every point both values.');
  }
  if (![...x, ...y].every(Number.isFinite))
    return fault('Every value of a fitted point must be a finite number.');
  const points = x.length;
  if (points < 2) {
    return fault(
      points === 1 ? 'One point does not fix a line.' : 'There are no points to fit.',
      'Give at least two points with different x; three or more give limits.',
    );
  }

  const meanX = mean(x);
  const meanY = mean(y);
  const dx = x.map((value) => value - meanX);
  const dy = y.map((value) => value - meanY);
  if (largest(dx) <= 4 * Number.EPSILON * largest(x)) {
    return fault('All x values are equal, so there is no slope.', 'Give points with different x.');
  }
  const sumSquaresX = sumProducts(dx, dx);
  const sumSquaresY = sumProducts(dy, dy);
  const slope = sumProducts(dx, dy) / sumSquaresX;
  const intercept = meanY - slope * meanX;
  if (![slope, intercept, sumSquaresX, sumSquaresY].every(Number.isFinite)) {
    return fault('The values are too large or too close together to fit.');
  }

  const dof = points - 2;
  const residuals = dy.map((value, i) => value - slope * (dx[i] ?? NaN));
  const sumSquaresResidual = sumProducts(residuals, residuals);
  const variance = dof > 0 ? sumSquaresResidual / dof : NaN;
  const leverage = dx.map((value) => 1 / points + (value * value) / sumSquaresX);
  return {
    points,
    intercept,
    slope,
    seIntercept: Math.sqrt(variance * (1 / points + (meanX * meanX) / sumSquaresX)),
    seSlope: Math.sqrt(variance / sumSquaresX),
    covariance: (-meanX * variance) / sumSquaresX,
    residualSd: Math.sqrt(variance),
    // Two points always lie on their line, and level points have nothing to explain: r² says nothing then.
    rSquared: dof > 0 && sumSquaresY > 0 ? 1 - sumSquaresResidual / sumSquaresY : NaN,
    dof,
    meanX,
    meanY,
    sumSquaresX,
    residuals,
    leverage,
    studentizedResiduals: studentize(residuals, leverage, sumSquaresResidual, largest(y)),
  };
}

/** Standard error of the fitted line (not of a new point) at x. */
export function lineStandardError(fit: StraightLineFit, x: number): number {
  const distance = x - fit.meanX;
  return fit.residualSd * Math.sqrt(1 / fit.points + (distance * distance) / fit.sumSquaresX);
}

/**
 * Needs four points: without one of them, three must remain to show scatter. Where the others lie on a line to
 * rounding, the point is either on it as well (NaN) or infinitely far off.
 */
function studentize(
  residuals: readonly number[],
  leverage: readonly number[],
  sumSquaresResidual: number,
  largestY: number,
): number[] {
  const dof = residuals.length - 3;
  const rounding = 8 * Number.EPSILON * largestY;
  return residuals.map((residual, i) => {
    const own = 1 - (leverage[i] ?? NaN);
    if (dof < 1 || own <= 4 * Number.EPSILON) return NaN;
    const others = sumSquaresResidual - (residual * residual) / own;
    if (others <= Math.max(rounding * rounding, 1e-14 * sumSquaresResidual)) {
      return Math.abs(residual) <= rounding ? NaN : Math.sign(residual) * Infinity;
    }
    return residual / Math.sqrt((others / dof) * own);
  });
}

function mean(values: readonly number[]): number {
  const first = sum(values) / values.length;
  // The second pass removes the rounding of the first.
  return first + sum(values.map((value) => value - first)) / values.length;
}

function sum(values: readonly number[]): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}

function sumProducts(a: readonly number[], b: readonly number[]): number {
  let total = 0;
  a.forEach((value, i) => (total += value * (b[i] ?? NaN)));
  return total;
}

function largest(values: readonly number[]): number {
  let found = 0;
  for (const value of values) found = Math.max(found, Math.abs(value));
  return found;
}

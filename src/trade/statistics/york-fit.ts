import { fault, isFault, type Fault } from '../../engine/index.ts';
import { straightLineFit } from './straight-line-fit.ts';

/** A line y = intercept + slope x through points with known errors on both axes. */
export interface YorkFit {
  readonly points: number;
  readonly intercept: number;
  readonly slope: number;
  readonly seIntercept: number;
  readonly seSlope: number;
  readonly covariance: number;
  /** Weighted sum of squared distances; about the degrees of freedom when the stated errors are right. */
  readonly chiSquared: number;
  readonly dof: number;
}

const STEPS = 200;

/**
 * Least squares with errors in both axes, independent of each other: York, Evensen, López Martínez and De Basabe
 * Delgado, "Unified equations for the slope, intercept, and standard errors of the best straight line", Am. J. Phys.
 * 72 (2004) 367 (from memory). Checked with ISO/TS 28037:2010 example 3 and with Pearson's data and York's weights.
 * `ux` and `uy` are standard uncertainties, above zero.
 */
export function yorkFit(
  x: readonly number[],
  y: readonly number[],
  ux: readonly number[],
  uy: readonly number[],
): YorkFit | Fault {
  const start = straightLineFit(x, y);
  if (isFault(start)) return start;
  if (
    ux.length !== x.length ||
    uy.length !== x.length ||
    ![...ux, ...uy].every((u) => u > 0 && u < Infinity)
  ) {
    return fault('Every point needs a standard uncertainty above zero on both axes.');
  }
  const wx = ux.map((u) => 1 / (u * u));
  const wy = uy.map((u) => 1 / (u * u));
  let slope = start.slope;
  for (let step = 0; step < STEPS; step++) {
    const next = turned(slope, x, y, wx, wy);
    const settled = Math.abs(next.slope - slope) <= 1e-15 * Math.abs(next.slope);
    slope = next.slope;
    if (settled) break;
  }
  const { weights, meanX, meanY, beta } = turned(slope, x, y, wx, wy);
  const total = sum(weights);
  const intercept = meanY - slope * meanX;
  const adjusted = beta.map((b) => meanX + b);
  const adjustedMean = sum(adjusted.map((a, i) => (weights[i] ?? NaN) * a)) / total;
  const spread = sum(adjusted.map((a, i) => (weights[i] ?? NaN) * (a - adjustedMean) ** 2));
  const varianceSlope = 1 / spread;
  return {
    points: x.length,
    intercept,
    slope,
    seIntercept: Math.sqrt(1 / total + adjustedMean * adjustedMean * varianceSlope),
    seSlope: Math.sqrt(varianceSlope),
    covariance: -adjustedMean * varianceSlope,
    chiSquared: sum(
      y.map((value, i) => (weights[i] ?? NaN) * (value - slope * (x[i] ?? NaN) - intercept) ** 2),
    ),
    dof: x.length - 2,
  };
}

function turned(
  slope: number,
  x: readonly number[],
  y: readonly number[],
  wx: readonly number[],
  wy: readonly number[],
) {
  const weights = wx.map((w, i) => (w * (wy[i] ?? NaN)) / (w + slope * slope * (wy[i] ?? NaN)));
  const total = sum(weights);
  const meanX = sum(x.map((value, i) => (weights[i] ?? NaN) * value)) / total;
  const meanY = sum(y.map((value, i) => (weights[i] ?? NaN) * value)) / total;
  const u = x.map((value) => value - meanX);
  const v = y.map((value) => value - meanY);
  const beta = weights.map(
    (w, i) => w * ((u[i] ?? NaN) / (wy[i] ?? NaN) + (slope * (v[i] ?? NaN)) / (wx[i] ?? NaN)),
  );
  const above = sum(weights.map((w, i) => w * (beta[i] ?? NaN) * (v[i] ?? NaN)));
  const below = sum(weights.map((w, i) => w * (beta[i] ?? NaN) * (u[i] ?? NaN)));
  return { slope: above / below, weights, meanX, meanY, beta };
}

function sum(values: readonly number[]): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}

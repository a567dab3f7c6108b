/** Holds the linear ± of a result against sampling, as JCGM 101:2008 clause 8 asks. */
import { studentQuantile, type Budget, type Sample } from '../engine/index.ts';

export interface SampledCheck {
  readonly name: string;
  readonly draws: number;
  /** Draws in which the result had no value. */
  readonly without: number;
  /** Of the draws, SI. */
  readonly mean: number;
  readonly uncertainty: number;
  /** 95 % interval with equal tails. */
  readonly low: number;
  readonly high: number;
  readonly linearLow: number;
  readonly linearHigh: number;
  /** How far the ends may differ: half a unit of the second significant digit of the sampled ±. */
  readonly tolerance: number;
  /** How far an end of the sampled interval may be off by chance (two standard errors of a normal's quantile). */
  readonly noise: number;
  readonly agrees: boolean;
}

/** √(p (1 − p)) over the normal density at its quantile, p = 0.025: standard error of that quantile for one draw. */
const QUANTILE_ERROR = 2.6712;

export function checkSample(budget: Budget, sample: Sample): SampledCheck {
  const values = sample.values.filter((x) => Number.isFinite(x)).sort();
  const n = values.length;
  const mean = n === 0 ? NaN : values.reduce((a, b) => a + b, 0) / n;
  const uncertainty = n < 2 ? NaN : Math.sqrt(values.reduce((a, b) => a + (b - mean) ** 2, 0) / (n - 1));
  const low = quantile(values, 0.025);
  const high = quantile(values, 0.975);
  const dof = budget.degreesOfFreedom;
  const half = budget.uncertainty * studentQuantile(0.975, Number.isFinite(dof) ? Math.max(1, dof) : 1e10);
  const tolerance = toleranceOf(uncertainty);
  const noise = (2 * QUANTILE_ERROR * uncertainty) / Math.sqrt(n);
  const linearLow = budget.value - half;
  const linearHigh = budget.value + half;
  return {
    name: sample.name,
    draws: sample.values.length,
    without: sample.values.length - n,
    mean,
    uncertainty,
    low,
    high,
    linearLow,
    linearHigh,
    tolerance,
    noise,
    agrees:
      n === sample.values.length &&
      Math.abs(low - linearLow) <= tolerance + noise &&
      Math.abs(high - linearHigh) <= tolerance + noise,
  };
}

/** Of sorted values, between neighbours where it falls between. */
function quantile(values: Float64Array, p: number): number {
  if (values.length === 0) return NaN;
  const at = Math.min(values.length - 1, Math.max(0, p * values.length - 0.5));
  const below = Math.floor(at);
  const a = values[below] ?? NaN;
  const b = values[Math.min(values.length - 1, below + 1)] ?? NaN;
  return a + (b - a) * (at - below);
}

/** JCGM 101:2008, 7.9.2 with two significant digits: u = c × 10^l, tolerance half of 10^l. */
function toleranceOf(u: number): number {
  if (!(u > 0)) return 0;
  return 0.5 * 10 ** (Math.floor(Math.log10(u)) - 1);
}

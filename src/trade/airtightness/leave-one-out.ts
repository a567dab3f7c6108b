import { defineFunction, studentProbability } from '../../engine/index.ts';
import { isUsablePoint } from './point-status.ts';

/** What one point of a power-law fit does to it. NaN where the fit has too few points to tell, or leaves it out. */
export interface LeaveOneOut {
  /** Residual over its own standard deviation, estimated without the point. */
  readonly studentizedResidual: number;
  /** Chance that the largest of all residuals is as large, if nothing is wrong (Bonferroni). */
  readonly outlierProbability: number;
  /** Of the fit without the point. */
  readonly exponent: number;
  /** Flow at 50 Pa without the point over that with it, less 1. */
  readonly flow50Change: number;
}

const UNKNOWN: LeaveOneOut = {
  studentizedResidual: NaN,
  outlierProbability: NaN,
  exponent: NaN,
  flow50Change: NaN,
};

/** Rounding of ln flow: what lies closer to the line than this lies on it. */
const ROUNDING = 1e-12;

/**
 * The fit without one of its points, from the fit with it: no second fit is made. With leverage
 * h = 1/N + (x − x̄)²/Sxx and residual e, the slope moves by −(x − x̄) e/(Sxx (1 − h)), the line at x₀ by
 * −e (1/N + (x − x̄)(x₀ − x̄)/Sxx)/(1 − h), and the sum of squared residuals by −e²/(1 − h).
 */
export function leaveOneOut(
  used: boolean,
  pressure: number,
  flow: number,
  coefficient: number,
  exponent: number,
  points: number,
  pivotPressure: number,
  sumSquares: number,
  residualSd: number,
): LeaveOneOut {
  if (!used || !isUsablePoint(pressure, flow) || !(points >= 3)) return UNKNOWN;
  const x = Math.log(pressure / pivotPressure);
  const residual = Math.log(flow / coefficient) - exponent * Math.log(pressure);
  const own = 1 - (1 / points + (x * x) / sumSquares);
  if (!(own > 4 * Number.EPSILON)) return UNKNOWN;
  const without = residual / own;
  const at50 = 1 / points + (x * Math.log(50 / pivotPressure)) / sumSquares;
  const studentizedResidual = studentize(residual, own, points, residualSd);
  const beyond = studentizedResidual === Infinity;
  return {
    // So far off that there is no number for it: the probability says it alone.
    studentizedResidual: beyond ? NaN : studentizedResidual,
    outlierProbability: beyond
      ? 0
      : Math.min(1, 2 * points * studentProbability(-Math.abs(studentizedResidual), points - 3)),
    exponent: known(exponent - (x * without) / sumSquares),
    flow50Change: known(Math.expm1(-without * at50)),
  };
}

function known(value: number): number {
  return Number.isFinite(value) ? value : NaN;
}

/** Infinite where the others lie on a line to rounding and this point does not. */
function studentize(residual: number, own: number, points: number, residualSd: number): number {
  const dof = points - 3;
  if (dof < 1) return NaN;
  const all = residualSd * residualSd * (points - 2);
  const others = all - (residual * residual) / own;
  if (others <= Math.max(ROUNDING * ROUNDING, ROUNDING * all)) {
    return Math.abs(residual) <= ROUNDING ? NaN : Infinity;
  }
  return residual / Math.sqrt((others / dof) * own);
}

const number = { kind: 'quantity', unit: '' } as const;

export const leaveOneOutFunction = defineFunction({
  name: 'leave_one_out',
  summary: 'What a fit would be without one of its points, and how far that point stands out.',
  source:
    'Externally studentised residual, deletion formulas and the Bonferroni test of the largest residual: any text on regression diagnostics, such as Cook and Weisberg, Residuals and Influence in Regression, 1982. Checked against fits without the point.',
  limits:
    'Takes the fit of which the point is one: all values from one power_law_fit. The residual needs four points; unavailable for a point that is not used. It says what would change, and leaves nothing out.',
  parameters: [
    { name: 'used', type: { kind: 'logical' }, summary: 'Whether the point is in the fit' },
    { name: 'induced_pressure', type: { kind: 'quantity', unit: 'Pa' }, summary: 'Of the point' },
    { name: 'flow', type: { kind: 'quantity', unit: 'm3/s' }, summary: 'Of the point' },
    { name: 'coefficient', type: { kind: 'quantity', unit: 'm3/s' }, summary: 'Of the fit: flow at 1 Pa' },
    { name: 'exponent', type: number, summary: 'Of the fit' },
    { name: 'points', type: number, summary: 'Of the fit' },
    { name: 'pivot_pressure', type: { kind: 'quantity', unit: 'Pa' }, summary: 'Of the fit' },
    { name: 'sum_squares', type: number, summary: 'Of the fit' },
    { name: 'residual_sd', type: number, summary: 'Of the fit' },
  ],
  result: {
    kind: 'record',
    fields: {
      studentized_residual: {
        type: number,
        summary: 'Residual over its standard deviation without the point',
      },
      outlier_probability: {
        type: number,
        summary: 'Chance of so large a residual among so many points if nothing is wrong',
      },
      exponent: { type: number, summary: 'Of the fit without the point' },
      flow50_change: { type: number, summary: 'By how much the flow at 50 Pa would change, as a fraction' },
    },
  },
  example: {
    // The fourth point of power_law_fit's example with its flow 5 % too high; compared with a fit without it.
    arguments: [
      true,
      30,
      0.672,
      0.07198524922636435,
      0.6442705329792391,
      7,
      30.91682042541392,
      1.495909588359014,
      0.02068572774464177,
    ],
    result: {
      studentized_residual: 16.733521847471,
      outlier_probability: 0.00052315459562657,
      exponent: 0.645269168899232,
      flow50_change: -0.00658746111652031,
    },
  },
  compute: (...given: Parameters<typeof leaveOneOut>) => {
    const found = leaveOneOut(...given);
    return {
      studentized_residual: found.studentizedResidual,
      outlier_probability: found.outlierProbability,
      exponent: found.exponent,
      flow50_change: found.flow50Change,
    };
  },
});

import { defineFunction, fault, isFault, type Fault, studentQuantile } from '../../engine/index.ts';
import { lineStandardError, straightLineFit, type StraightLineFit } from '../statistics/straight-line-fit.ts';
import { isUsablePoint } from './point-status.ts';
import type { PowerLawFit } from './power-law-fit-result.ts';
export type { PowerLawFit } from './power-law-fit-result.ts';
import { powerLawFitPartials, powerLawFitScatter } from './power-law-fit-derivatives.ts';

/** Before the first reading nothing is wrong and nothing is known. */
const NO_READINGS: PowerLawFit = {
  flowCoefficient: NaN,
  exponent: NaN,
  rSquared: NaN,
  points: 0,
  excluded: 0,
  residualSd: NaN,
  dof: NaN,
  seLnCoefficient: NaN,
  seExponent: NaN,
  covariance: NaN,
  coefficientLow: NaN,
  coefficientHigh: NaN,
  exponentLow: NaN,
  exponentHigh: NaN,
  pivotPressure: NaN,
  pivotFlow: NaN,
  seLnPivotFlow: NaN,
  sumSquares: NaN,
  t: NaN,
  flow50: NaN,
  flow50Low: NaN,
  flow50High: NaN,
};

/** Pressures that differ by less than this, relatively, differ by rounding alone. */
const ROUNDING = 1e-9;

/**
 * Fits a power law to pressures (Pa) and flows (m³/s) of the same length: ordinary least squares of ln flow on
 * ln pressure. A point without a logarithm is left out and counted.
 */
export function powerLawFit(pressures: readonly number[], flows: readonly number[]): PowerLawFit | Fault {
  if (pressures.length === 0 && flows.length === 0) return NO_READINGS;
  const line = fitLogarithms(pressures, flows);
  if (isFault(line)) return line;
  const t = studentQuantile(0.975, line.dof);
  const at50 = line.intercept + line.slope * Math.log(50);
  const spread50 = t * lineStandardError(line, Math.log(50));
  const flowCoefficient = Math.exp(line.intercept);
  if (!(flowCoefficient > 0 && flowCoefficient < Infinity)) {
    return fault(
      'The fitted line is too steep to be a power law.',
      'The pressures lie too close together, or a flow is wrong: check both.',
    );
  }
  return {
    flowCoefficient,
    exponent: line.slope,
    rSquared: line.rSquared,
    points: line.points,
    excluded: pressures.length - line.points,
    residualSd: line.residualSd,
    dof: line.dof,
    seLnCoefficient: line.seIntercept,
    seExponent: line.seSlope,
    covariance: line.covariance,
    coefficientLow: flowOf(line.intercept - t * line.seIntercept),
    coefficientHigh: flowOf(line.intercept + t * line.seIntercept),
    exponentLow: line.slope - t * line.seSlope,
    exponentHigh: line.slope + t * line.seSlope,
    pivotPressure: Math.exp(line.meanX),
    pivotFlow: Math.exp(line.meanY),
    seLnPivotFlow: lineStandardError(line, line.meanX),
    sumSquares: line.sumSquaresX,
    t,
    flow50: flowOf(at50),
    flow50Low: flowOf(at50 - spread50),
    flow50High: flowOf(at50 + spread50),
  };
}

/** A limit beyond the largest number is unavailable: readings that scatter so much give none. */
function flowOf(logarithm: number): number {
  const value = Math.exp(logarithm);
  return Number.isFinite(value) ? value : NaN;
}

/** The straight line through the logarithms of the usable points. */
export function fitLogarithms(
  pressures: readonly number[],
  flows: readonly number[],
): StraightLineFit | Fault {
  if (pressures.length !== flows.length) {
    return fault(
      `There are ${pressures.length} pressures and ${flows.length} flows.`,
      'Give every reading both a pressure and a flow.',
    );
  }
  const usable: number[] = [];
  pressures.forEach((pressure, i) => {
    if (isUsablePoint(pressure, flows[i] ?? NaN)) usable.push(i);
  });
  const x = usable.map((i) => Math.log(pressures[i] ?? NaN));
  const y = usable.map((i) => Math.log(flows[i] ?? NaN));

  if (usable.length < 2) return tooFew(usable.length, pressures.length - usable.length);
  const first = x[0] ?? NaN;
  if (x.every((value) => Math.abs(value - first) < ROUNDING)) {
    return fault(
      'All readings have the same induced pressure, so there is no slope to fit.',
      'Take readings at different house pressures, for instance every 5 to 10 Pa.',
    );
  }
  return straightLineFit(x, y);
}

function tooFew(usable: number, excluded: number): Fault {
  const found = usable === 0 ? 'No reading can be used' : 'Only one reading can be used';
  const left =
    excluded === 0
      ? ''
      : `; left out because pressure or flow is not above zero: ${excluded === 1 ? 'one reading' : `${excluded} readings`}`;
  return fault(
    `${found}${left}.`,
    'A line needs two readings at different house pressures; three or more give limits.',
  );
}

const number = { kind: 'quantity', unit: '' } as const;
const flow = { kind: 'quantity', unit: 'm3/s' } as const;
const pressure = { kind: 'quantity', unit: 'Pa' } as const;

export const powerLawFitFunction = defineFunction({
  name: 'power_law_fit',
  summary:
    'Fits flow = coefficient × (pressure / 1 Pa)^exponent to the readings of a test, with 95 % limits.',
  source:
    'Ordinary least squares of ln flow on ln pressure, equal weights, Student limits with N − 2 degrees of freedom (any text on regression). Checked with NIST StRD Norris and ISO/TS 28037:2010 example 5. The annexes of air-leakage test standards are remembered to have the same form (from memory, not read there).',
  limits:
    'Readings with pressure or flow not above zero are left out and counted. Two readings give the line alone, three or more give limits. The limits hold the scatter about the line only: not the procedure, the fan or the wind.',
  parameters: [
    {
      name: 'induced_pressure',
      type: pressure,
      column: true,
      summary: 'House pressure less baseline, positive in the direction of the test',
    },
    { name: 'flow', type: flow, column: true, summary: 'One for each pressure' },
  ],
  result: {
    kind: 'record',
    fields: {
      flow_coefficient: { type: flow, summary: 'Flow at 1 Pa' },
      exponent: { type: number, summary: 'Slope of the line on logarithmic axes' },
      r_squared: { type: number, summary: 'Share of the variation of ln flow that the line explains' },
      points: { type: number, summary: 'Readings used' },
      excluded: { type: number, summary: 'Readings left out' },
      residual_sd: { type: number, summary: 'Standard deviation of ln flow about the line' },
      dof: { type: number, summary: 'Degrees of freedom: readings used less 2' },
      se_ln_coefficient: { type: number, summary: 'Standard error of ln C' },
      se_exponent: { type: number, summary: 'Standard error of the exponent' },
      covariance: { type: number, summary: 'Covariance of ln C and the exponent' },
      coefficient_low: { type: flow, summary: 'Lower 95 % limit of the flow at 1 Pa' },
      coefficient_high: { type: flow, summary: 'Upper 95 % limit of the flow at 1 Pa' },
      exponent_low: { type: number, summary: 'Lower 95 % limit of the exponent' },
      exponent_high: { type: number, summary: 'Upper 95 % limit of the exponent' },
      pivot_pressure: { type: pressure, summary: 'Geometric mean of the pressures' },
      pivot_flow: { type: flow, summary: 'Flow at the pivot, which does not correlate with the exponent' },
      se_ln_pivot_flow: { type: number, summary: 'Standard error of ln of the flow at the pivot' },
      sum_squares: { type: number, summary: 'Sum of squared distances of ln pressure from its mean' },
      t: { type: number, summary: 'Student’s t for 95 % limits' },
      flow50: { type: flow, summary: 'Flow at 50 Pa' },
      flow50_low: { type: flow, summary: 'Lower 95 % limit of the flow at 50 Pa' },
      flow50_high: { type: flow, summary: 'Upper 95 % limit of the flow at 50 Pa' },
    },
  },
  example: {
    arguments: [
      [15, 20, 25, 30, 40, 50, 60],
      [0.41, 0.492, 0.566, 0.64, 0.771, 0.889, 1.001],
    ],
    result: {
      flow_coefficient: 0.071244829304189,
      exponent: 0.64525236406161,
      r_squared: 0.9999506626711,
      points: 7,
      excluded: 0,
      residual_sd: 0.0024791100476924,
      dof: 5,
      se_ln_coefficient: 0.0070179112568576,
      se_exponent: 0.0020269504516018,
      covariance: -1.4097594170066e-5,
      coefficient_low: 0.069971088139029,
      coefficient_high: 0.072541757425548,
      exponent_low: 0.64004192204898,
      exponent_high: 0.65046280607423,
      pivot_pressure: 30.916820425414,
      pivot_flow: 0.65208631054746,
      se_ln_pivot_flow: 0.00093701552270793,
      sum_squares: 1.495909588359,
      t: 2.5705818356363,
      flow50: 0.88923748570252,
      flow50_low: 0.88615274825791,
      flow50_high: 0.89233296125647,
    },
  },
  compute: (pressures: readonly number[], flows: readonly number[]) => {
    const fit = powerLawFit(pressures, flows);
    return isFault(fit) ? fit : asRecord(fit);
  },
  partials: (pressures: readonly number[], flows: readonly number[]) => {
    const fit = powerLawFit(pressures, flows);
    return isFault(fit) ? {} : powerLawFitPartials(fit, pressures, flows);
  },
  scatter: (pressures: readonly number[], flows: readonly number[]) => {
    const fit = powerLawFit(pressures, flows);
    return isFault(fit) ? undefined : powerLawFitScatter(fit);
  },
});

function asRecord(fit: PowerLawFit) {
  return {
    flow_coefficient: fit.flowCoefficient,
    exponent: fit.exponent,
    r_squared: fit.rSquared,
    points: fit.points,
    excluded: fit.excluded,
    residual_sd: fit.residualSd,
    dof: fit.dof,
    se_ln_coefficient: fit.seLnCoefficient,
    se_exponent: fit.seExponent,
    covariance: fit.covariance,
    coefficient_low: fit.coefficientLow,
    coefficient_high: fit.coefficientHigh,
    exponent_low: fit.exponentLow,
    exponent_high: fit.exponentHigh,
    pivot_pressure: fit.pivotPressure,
    pivot_flow: fit.pivotFlow,
    se_ln_pivot_flow: fit.seLnPivotFlow,
    sum_squares: fit.sumSquares,
    t: fit.t,
    flow50: fit.flow50,
    flow50_low: fit.flow50Low,
    flow50_high: fit.flow50High,
  };
}

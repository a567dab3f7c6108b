import {
  defineFunction,
  fault,
  studentQuantile,
  studentQuantileSlopes,
  type Fault,
  type Partials,
} from '../../engine/index.ts';
import { powerLawFlow, pressureFault } from './power-law-flow.ts';

/**
 * 95 % limits of the fitted flow at a pressure: flow × exp(± t s), with
 * s² = se(ln C)² + 2 ln p cov(ln C, n) + (ln p)² se(n)². NaN when the fit has no scatter to judge by.
 */
function flowLimit(
  sign: -1 | 1,
  pressure: number,
  coefficient: number,
  exponent: number,
  seLnCoefficient: number,
  seExponent: number,
  covariance: number,
  dof: number,
): number | Fault {
  if (!(pressure > 0)) return pressureFault(pressure);
  const x = Math.log(pressure);
  const own = seLnCoefficient * seLnCoefficient + x * x * seExponent * seExponent;
  const variance = own + 2 * x * covariance;
  // A fit's own values cannot give a negative variance but by rounding, and then by very little.
  if (variance < -1e-9 * own) {
    return fault(
      'These standard errors and this covariance cannot belong to one fit.',
      'Take all of them from the same power_law_fit.',
    );
  }
  const flow = powerLawFlow(pressure, coefficient, exponent);
  if (typeof flow !== 'number') return flow;
  const spread = studentQuantile(0.975, dof) * Math.sqrt(Math.max(variance, 0));
  const limit = flow * Math.exp(sign * spread);
  return Math.abs(limit) === Infinity ? fault('The limit is too large to be a number.') : limit;
}

type LimitArguments = [
  pressure: number,
  coefficient: number,
  exponent: number,
  seLnCoefficient: number,
  seExponent: number,
  covariance: number,
  dof: number,
];

/** Lower 95 % limit of the fitted flow, m³/s. */
export function powerLawFlowLow(...values: LimitArguments): number | Fault {
  return flowLimit(-1, ...values);
}

/** Upper 95 % limit of the fitted flow, m³/s. */
export function powerLawFlowHigh(...values: LimitArguments): number | Fault {
  return flowLimit(1, ...values);
}

/** Derivatives of a limit by its arguments; none at a spread of 0, where the limit has a corner. */
function limitPartials(sign: -1 | 1, ...values: LimitArguments): Partials {
  const [pressure, , exponent, seLnCoefficient, seExponent, covariance, dof] = values;
  const limit = flowLimit(sign, ...values);
  const x = Math.log(pressure);
  const spread = Math.sqrt(
    seLnCoefficient * seLnCoefficient + x * x * seExponent * seExponent + 2 * x * covariance,
  );
  if (typeof limit !== 'number' || !(spread > 0)) return {};
  const t = studentQuantile(0.975, dof);
  const bySpread = sign * limit * t;
  return {
    result: [
      (limit * exponent + (bySpread * (x * seExponent * seExponent + covariance)) / spread) / pressure,
      pressure ** exponent * Math.exp(sign * t * spread),
      limit * x,
      (bySpread * seLnCoefficient) / spread,
      (bySpread * x * x * seExponent) / spread,
      (bySpread * x) / spread,
      sign * limit * spread * studentQuantileSlopes(t, dof).byDof,
    ],
  };
}

const declaration = {
  source:
    'Least squares on logarithms with Student limits; the form remembered for the annexes of air-leakage test standards (from memory, not read there). Checked with ISO/TS 28037:2010 example 5 and a table computed two ways.',
  limits:
    'Pressure above zero. All values from one fit. Only the scatter of the readings about the line is in it. Unavailable for a fit through two points.',
  parameters: [
    { name: 'pressure', type: { kind: 'quantity', unit: 'Pa' }, summary: 'Across the envelope' },
    { name: 'coefficient', type: { kind: 'quantity', unit: 'm3/s' }, summary: 'Flow at 1 Pa' },
    { name: 'exponent', type: { kind: 'quantity', unit: '' }, summary: 'Of the fit' },
    { name: 'se_ln_coefficient', type: { kind: 'quantity', unit: '' }, summary: 'Standard error of ln C' },
    { name: 'se_exponent', type: { kind: 'quantity', unit: '' }, summary: 'Standard error of the exponent' },
    { name: 'covariance', type: { kind: 'quantity', unit: '' }, summary: 'Of ln C and the exponent' },
    { name: 'degrees_of_freedom', type: { kind: 'quantity', unit: '' }, summary: 'Points used less 2' },
  ],
  result: { kind: 'quantity', unit: 'm3/s' },
} as const;

export const powerLawFlowLowFunction = defineFunction({
  ...declaration,
  name: 'power_law_flow_low',
  summary: 'Lower 95 % limit of the fitted flow at any pressure.',
  example: {
    formula: 'power_law_flow_low(1 Pa, 0.02 m3/s, 0.65, 0.01, 0.003, -0.00002, 4)',
    arguments: [1, 0.02, 0.65, 0.01, 0.003, -0.00002, 4],
    result: 0.0194523487767179,
  },
  compute: powerLawFlowLow,
  partials: (...values: LimitArguments) => limitPartials(-1, ...values),
});

export const powerLawFlowHighFunction = defineFunction({
  ...declaration,
  name: 'power_law_flow_high',
  summary: 'Upper 95 % limit of the fitted flow at any pressure.',
  example: {
    formula: 'power_law_flow_high(1 Pa, 0.02 m3/s, 0.65, 0.01, 0.003, -0.00002, 4)',
    arguments: [1, 0.02, 0.65, 0.01, 0.003, -0.00002, 4],
    result: 0.0205630695085393,
  },
  compute: powerLawFlowHigh,
  partials: (...values: LimitArguments) => limitPartials(1, ...values),
});

import { defineFunction, fault, isFault, type Fault } from '../../engine/index.ts';
import { yorkFit } from '../statistics/york-fit.ts';
import { isUsablePoint } from './point-status.ts';

export interface BothAxesFit {
  readonly flowCoefficient: number;
  readonly exponent: number;
  readonly seExponent: number;
  readonly flow50: number;
  /** Standard error of ln flow at 50 Pa. */
  readonly seLnFlow50: number;
  /** Chi squared over the degrees of freedom; NaN for two points. */
  readonly reducedChiSquared: number;
  readonly dof: number;
}

/** Pressures in Pa, flows in m³/s; the errors of a reading are typed, not found from the scatter. */
export function powerLawFitBothAxes(
  pressures: readonly number[],
  flows: readonly number[],
  pressureUncertainty: number,
  relativeFlowUncertainty: number,
): BothAxesFit | Fault {
  if (!(pressureUncertainty > 0 && relativeFlowUncertainty > 0)) {
    return fault(
      'A fit with errors on both axes needs both uncertainties, above zero.',
      'Type what the gauges’ certificates say.',
    );
  }
  const used = pressures.map((_, i) => i).filter((i) => isUsablePoint(pressures[i] ?? NaN, flows[i] ?? NaN));
  const p = used.map((i) => pressures[i] ?? NaN);
  const line = yorkFit(
    p.map(Math.log),
    used.map((i) => Math.log(flows[i] ?? NaN)),
    p.map((pressure) => pressureUncertainty / pressure),
    p.map(() => relativeFlowUncertainty),
  );
  // Too few points or equal pressures: the plain fit says so, once.
  if (isFault(line)) return NOTHING;
  const at = Math.log(50);
  const variance = line.seIntercept ** 2 + 2 * at * line.covariance + at * at * line.seSlope ** 2;
  const fit: BothAxesFit = {
    flowCoefficient: Math.exp(line.intercept),
    exponent: line.slope,
    seExponent: line.seSlope,
    flow50: Math.exp(line.intercept + line.slope * at),
    seLnFlow50: Math.sqrt(variance),
    reducedChiSquared: line.dof > 0 ? line.chiSquared / line.dof : NaN,
    dof: line.dof,
  };
  const { flowCoefficient, exponent, seExponent, flow50, seLnFlow50 } = fit;
  return [flowCoefficient, exponent, seExponent, flow50, seLnFlow50].every(Number.isFinite)
    ? fit
    : fault('These readings and errors give no line.', 'Check the readings, and both uncertainties.');
}

const NOTHING: BothAxesFit = {
  flowCoefficient: NaN,
  exponent: NaN,
  seExponent: NaN,
  flow50: NaN,
  seLnFlow50: NaN,
  reducedChiSquared: NaN,
  dof: NaN,
};

const number = { kind: 'quantity', unit: '' } as const;
const flow = { kind: 'quantity', unit: 'm3/s' } as const;

export const powerLawFitBothAxesFunction = defineFunction({
  name: 'power_law_fit_both_axes',
  summary: 'The same power law, weighted by stated errors of pressure and flow: a check on the plain fit.',
  source:
    'York and others, Am. J. Phys. 72 (2004) 367 (from memory), on the logarithms. Checked with ISO/TS 28037:2010 example 3 and with Pearson’s data and York’s weights.',
  limits:
    'Unavailable where power_law_fit finds too few points or equal pressures. Independent errors: one for all pressures, one relative for all flows. Low pressures weigh less. Its ± follows from the errors typed, not from the scatter; chi squared far above the degrees of freedom says that they are too small.',
  parameters: [
    {
      name: 'induced_pressure',
      type: { kind: 'quantity', unit: 'Pa' },
      column: true,
      summary: 'House pressure less baseline',
    },
    { name: 'flow', type: flow, column: true, summary: 'One for each pressure' },
    {
      name: 'pressure_uncertainty',
      type: { kind: 'quantity', unit: 'Pa' },
      summary: 'Of each pressure, standard',
    },
    { name: 'flow_uncertainty', type: number, summary: 'Of each flow, standard, as a fraction' },
  ],
  result: {
    kind: 'record',
    fields: {
      flow_coefficient: { type: flow, summary: 'Flow at 1 Pa' },
      exponent: { type: number, summary: 'Slope of the line on logarithmic axes' },
      se_exponent: { type: number, summary: 'Standard error of the exponent, from the typed errors' },
      flow50: { type: flow, summary: 'Flow at 50 Pa' },
      se_ln_flow50: { type: number, summary: 'Standard error of ln of the flow at 50 Pa' },
      reduced_chi_squared: {
        type: number,
        summary: 'Weighted sum of squared distances from the line over the degrees of freedom',
      },
      dof: { type: number, summary: 'Degrees of freedom: readings used less 2' },
    },
  },
  example: {
    arguments: [[15, 20, 25, 30, 40, 50, 60], [0.41, 0.492, 0.566, 0.64, 0.771, 0.889, 1.001], 0.3, 0.005],
    result: {
      flow_coefficient: 0.07097493434310331,
      exponent: 0.6463083878372335,
      se_exponent: 0.007326327542910142,
      flow50: 0.8895360717375193,
      se_ln_flow50: 0.0035040273978501637,
      reduced_chi_squared: 0.06393970814456884,
      dof: 5,
    },
  },
  compute: (pressures: readonly number[], flows: readonly number[], u: number, relative: number) => {
    const fit = powerLawFitBothAxes(pressures, flows, u, relative);
    if (isFault(fit)) return fit;
    return {
      flow_coefficient: fit.flowCoefficient,
      exponent: fit.exponent,
      se_exponent: fit.seExponent,
      flow50: fit.flow50,
      se_ln_flow50: fit.seLnFlow50,
      reduced_chi_squared: fit.reducedChiSquared,
      dof: fit.dof,
    };
  },
});

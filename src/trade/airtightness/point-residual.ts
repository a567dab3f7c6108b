import { defineFunction } from '../../engine/index.ts';
import { isUsablePoint } from './point-status.ts';

/** How far a point lies off the fitted line, as a fraction of the line; NaN for a point that the fit leaves out. */
export function pointResidual(pressure: number, flow: number, coefficient: number, exponent: number): number {
  if (!isUsablePoint(pressure, flow)) return NaN;
  const residual = flow / (coefficient * Math.pow(pressure, exponent)) - 1;
  return Number.isFinite(residual) ? residual : NaN;
}

export const pointResidualFunction = defineFunction({
  name: 'point_residual',
  summary: 'Distance of a reading from the fitted line, as a fraction of the line’s flow.',
  source: 'Definition: measured flow over fitted flow, less 1.',
  limits: 'Unavailable for a reading that the fit leaves out (pressure or flow not above zero).',
  parameters: [
    { name: 'induced_pressure', type: { kind: 'quantity', unit: 'Pa' }, summary: 'Of the reading' },
    { name: 'flow', type: { kind: 'quantity', unit: 'm3/s' }, summary: 'Of the reading' },
    { name: 'coefficient', type: { kind: 'quantity', unit: 'm3/s' }, summary: 'Of the fit: flow at 1 Pa' },
    { name: 'exponent', type: { kind: 'quantity', unit: '' }, summary: 'Of the fit' },
  ],
  result: { kind: 'quantity', unit: '' },
  example: {
    formula: 'point_residual(25 Pa, 0.101 m3/s, 0.02 m3/s, 0.5)',
    arguments: [25, 0.101, 0.02, 0.5],
    result: 0.01,
  },
  compute: pointResidual,
  partials: (pressure: number, flow: number, coefficient: number, exponent: number) => {
    const line = coefficient * Math.pow(pressure, exponent);
    const ratio = flow / line;
    return {
      result: [(-ratio * exponent) / pressure, 1 / line, -ratio / coefficient, -ratio * Math.log(pressure)],
    };
  },
});

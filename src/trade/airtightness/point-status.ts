import { defineFunction } from '../../engine/index.ts';
import { pressureText } from './pressure-text.ts';

/** A point of a power law must have both values above zero: neither zero nor less has a logarithm. */
export function isUsablePoint(inducedPressure: number, flow: number): boolean {
  return inducedPressure > 0 && flow > 0 && Number.isFinite(inducedPressure) && Number.isFinite(flow);
}

/** Empty when the point takes part in the fit, else why it does not. */
export function pointStatus(inducedPressure: number, flow: number): string {
  if (isUsablePoint(inducedPressure, flow)) return '';
  if (!Number.isFinite(inducedPressure)) return 'no induced pressure';
  if (inducedPressure <= 0) {
    return `induced pressure ${pressureText(inducedPressure)} is not above zero: check sign, direction and baseline`;
  }
  if (!Number.isFinite(flow)) return 'no flow';
  return `flow is ${flow < 0 ? 'negative' : 'zero'}: check the fan reading and its range`;
}

export const pointStatusFunction = defineFunction({
  name: 'point_status',
  summary: 'Why a reading cannot take part in the fit; empty when it does.',
  source: 'Arithmetic: only numbers above zero have a logarithm.',
  limits: 'Agrees with what power_law_fit leaves out.',
  parameters: [
    {
      name: 'induced_pressure',
      type: { kind: 'quantity', unit: 'Pa' },
      summary: 'House pressure less baseline, positive in the direction of the test',
    },
    { name: 'flow', type: { kind: 'quantity', unit: 'm3/s' }, summary: 'Through the fan' },
  ],
  result: { kind: 'text' },
  example: {
    formula: 'point_status(-0.4 Pa, 1 m3/s)',
    arguments: [-0.4, 1],
    result: 'induced pressure −0.4 Pa is not above zero: check sign, direction and baseline',
  },
  compute: pointStatus,
});

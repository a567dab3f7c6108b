import { defineFunction, fault, type Fault } from '../../engine/index.ts';
import { readDirection } from './direction.ts';

/**
 * Flow through the leaks over flow through the fan. The same mass passes both: indoor air through the fan and
 * outdoor air through the leaks when air is drawn out, the reverse when it is blown in.
 */
export function envelopeFlowFactor(
  direction: string,
  densityInside: number,
  densityOutside: number,
): number | Fault {
  const read = readDirection(direction);
  if (typeof read !== 'string') return read;
  if (!(densityInside > 0 && densityOutside > 0)) {
    return fault('A density of air must be above zero.', 'Use air_density for both sides.');
  }
  const factor = read === 'depressurise' ? densityInside / densityOutside : densityOutside / densityInside;
  return Number.isFinite(factor) ? factor : fault('The densities are too far apart.');
}

export const envelopeFlowFactorFunction = defineFunction({
  name: 'envelope_flow_factor',
  summary: 'Turns the flow through the fan into the flow through the envelope.',
  source: 'Conservation of mass (elementary): the same mass of air passes the fan and the leaks.',
  limits:
    'For a fan flow that is the volume of the air passing the fan. Corrections of a particular flow sensor are not in it.',
  parameters: [
    { name: 'direction', type: { kind: 'text' }, summary: 'depressurise or pressurise' },
    { name: 'density_inside', type: { kind: 'quantity', unit: 'kg/m3' }, summary: 'Of the indoor air' },
    { name: 'density_outside', type: { kind: 'quantity', unit: 'kg/m3' }, summary: 'Of the outdoor air' },
  ],
  result: { kind: 'quantity', unit: '' },
  example: {
    formula: 'envelope_flow_factor("depressurise", 1.2 kg/m3, 1.25 kg/m3)',
    arguments: ['depressurise', 1.2, 1.25],
    result: 0.96,
  },
  compute: envelopeFlowFactor,
  partials: (direction: string, densityInside: number, densityOutside: number) => {
    const factor = envelopeFlowFactor(direction, densityInside, densityOutside);
    if (typeof factor !== 'number') return {};
    const sign = readDirection(direction) === 'depressurise' ? 1 : -1;
    return { result: [0, (sign * factor) / densityInside, (-sign * factor) / densityOutside] };
  },
});

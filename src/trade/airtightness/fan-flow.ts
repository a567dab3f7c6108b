import { defineFunction, fault, type Fault } from '../../engine/index.ts';
import { pressureText } from './pressure-text.ts';

/** Flow through the fan, m³/s, from its own calibration: coefficient (flow at 1 Pa) times pressure to the exponent. */
export function fanFlow(fanPressure: number, coefficient: number, exponent: number): number | Fault {
  if (!(fanPressure > 0)) {
    return fault(
      Number.isNaN(fanPressure)
        ? 'The fan pressure is missing.'
        : `The fan pressure is ${pressureText(fanPressure)}; a flow can be read only above 0 Pa.`,
      'Type the fan pressure as a positive number, or leave the reading out.',
    );
  }
  if (!(coefficient > 0) || !(exponent > 0)) {
    return fault(
      'The coefficient and exponent of a fan range must be above zero.',
      'Copy both from the calibration certificate of the fan.',
    );
  }
  const flow = coefficient * Math.pow(fanPressure, exponent);
  return Number.isFinite(flow) ? flow : fault('The flow is too large to be a number.', 'Check the exponent.');
}

export const fanFlowFunction = defineFunction({
  name: 'fan_flow',
  summary: 'Flow through a test fan from its fan pressure and the calibration of the range in use.',
  source: 'The calibration certificate of the fan; the power law as its form is common practice, no source.',
  limits:
    'Fan pressure, coefficient and exponent above zero. It does not stop at the certificate’s pressure limits: see fan_reading_status.',
  parameters: [
    { name: 'fan_pressure', type: { kind: 'quantity', unit: 'Pa' }, summary: 'As read at the fan' },
    { name: 'coefficient', type: { kind: 'quantity', unit: 'm3/s' }, summary: 'Flow of this range at 1 Pa' },
    { name: 'exponent', type: { kind: 'quantity', unit: '' }, summary: 'Of this range, about 0.5' },
  ],
  result: { kind: 'quantity', unit: 'm3/s' },
  example: { formula: 'fan_flow(100 Pa, 0.025 m3/s, 0.5)', arguments: [100, 0.025, 0.5], result: 0.25 },
  compute: fanFlow,
  partials: (fanPressure: number, coefficient: number, exponent: number) => {
    const shape = Math.pow(fanPressure, exponent);
    const flow = coefficient * shape;
    return { result: [(flow * exponent) / fanPressure, shape, flow * Math.log(fanPressure)] };
  },
});

import { defineFunction, fault, written, type Fault } from '../../engine/index.ts';
import { pressureText } from './pressure-text.ts';

export function pressureFault(pressure: number): Fault {
  return fault(
    Number.isNaN(pressure)
      ? 'The pressure is missing.'
      : `The pressure is ${pressureText(pressure)}; a power law holds only above 0 Pa.`,
    'Give a pressure above zero.',
  );
}

/** Leakage flow, m³/s, at a pressure: coefficient (flow at 1 Pa) times pressure to the exponent. */
export function powerLawFlow(pressure: number, coefficient: number, exponent: number): number | Fault {
  if (!(pressure > 0)) return pressureFault(pressure);
  const flow = coefficient * Math.pow(pressure, exponent);
  return Math.abs(flow) === Infinity
    ? fault('The flow is too large to be a number.', `Check the exponent; leaks have ${written('0.5')} to 1.`)
    : flow;
}

export const powerLawFlowFunction = defineFunction({
  name: 'power_law_flow',
  summary: 'Flow through the leaks at any pressure, from the coefficient and exponent of a fit.',
  source: 'Power law of leakage, Q = C (p / 1 Pa)^n; common practice, no source.',
  limits: 'Pressure above zero. Outside the pressures that were measured it is an extrapolation.',
  parameters: [
    { name: 'pressure', type: { kind: 'quantity', unit: 'Pa' }, summary: 'Across the envelope' },
    { name: 'coefficient', type: { kind: 'quantity', unit: 'm3/s' }, summary: 'Flow at 1 Pa' },
    { name: 'exponent', type: { kind: 'quantity', unit: '' }, summary: '0.5 to 1 for leaks' },
  ],
  result: { kind: 'quantity', unit: 'm3/s' },
  example: {
    formula: 'power_law_flow(25 Pa, 0.02 m3/s, 0.5)',
    arguments: [25, 0.02, 0.5],
    result: 0.1,
  },
  compute: powerLawFlow,
  partials: (pressure: number, coefficient: number, exponent: number) => {
    const each = Math.pow(pressure, exponent);
    const flow = coefficient * each;
    return { result: [(exponent * flow) / pressure, each, flow * Math.log(pressure)] };
  },
});

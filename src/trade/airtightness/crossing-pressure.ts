import { defineFunction } from '../../engine/index.ts';

/** Beyond these no test and no weather reaches: a crossing there says nothing. Pa. */
const LOWEST = 0.1;
const HIGHEST = 1000;

/** Pressure, Pa, at which two power laws give the same flow; NaN when they are parallel or meet out of reach. */
export function crossingPressure(
  firstCoefficient: number,
  firstExponent: number,
  secondCoefficient: number,
  secondExponent: number,
): number {
  const logarithm = Math.log(secondCoefficient / firstCoefficient) / (firstExponent - secondExponent);
  const pressure = Math.exp(logarithm);
  return pressure >= LOWEST && pressure <= HIGHEST ? pressure : NaN;
}

const number = { kind: 'quantity', unit: '' } as const;
const flow = { kind: 'quantity', unit: 'm3/s' } as const;

export const crossingPressureFunction = defineFunction({
  name: 'crossing_pressure',
  summary: 'The pressure at which two fitted lines of leakage cross.',
  source: 'Elementary: C₁ p^n₁ = C₂ p^n₂.',
  limits:
    'Coefficients above zero. Unavailable for parallel lines, and for a crossing outside 0.1 to 1,000 Pa, which says nothing about a house.',
  unavailable: 'they do not cross within reach of a test',
  parameters: [
    { name: 'first_coefficient', type: flow, summary: 'Flow at 1 Pa, first test' },
    { name: 'first_exponent', type: number, summary: 'First test' },
    { name: 'second_coefficient', type: flow, summary: 'Flow at 1 Pa, second test' },
    { name: 'second_exponent', type: number, summary: 'Second test' },
  ],
  result: { kind: 'quantity', unit: 'Pa' },
  example: {
    formula: 'crossing_pressure(0.02 m3/s, 0.7, 0.0282842712474619 m3/s, 0.6)',
    arguments: [0.02, 0.7, 0.0282842712474619, 0.6],
    result: 32,
  },
  compute: crossingPressure,
});

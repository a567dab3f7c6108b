import { defineFunction, quantityInWords } from '../../engine/index.ts';

/** Rounding of the two sides of a difference is no shortfall. */
const ROUNDING = 1e-9;

/** Each name that lacks flow (m³/s, above zero), with what it lacks, in words; empty where none does. */
export function shortfalls(names: readonly string[], lacking: readonly number[]): string {
  return names
    .flatMap((name, i) => {
      const flow = lacking[i] ?? NaN;
      return flow > ROUNDING ? [`${name} lacks ${quantityInWords(flow, 'cfm', 1)}`] : [];
    })
    .join('; ');
}

export const shortfallsFunction = defineFunction({
  name: 'shortfalls',
  summary: 'Names each room or unit that is short of air, with the flow it lacks.',
  source: 'Definition.',
  limits: 'What lacks nothing is not named; empty where nothing is short.',
  parameters: [
    { name: 'names', type: { kind: 'text' }, column: true, summary: 'Rooms or units' },
    {
      name: 'lacking',
      type: { kind: 'quantity', unit: 'm3/s' },
      column: true,
      summary: 'Design less measured flow',
    },
  ],
  result: { kind: 'text' },
  gathers: true,
  example: {
    arguments: [
      ['study', 'bedroom_3'],
      [-0.0001, 0.002454],
    ],
    result: 'bedroom_3 lacks 5.2 cfm',
  },
  compute: shortfalls,
});

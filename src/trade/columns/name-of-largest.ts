import { defineFunction } from '../../engine/index.ts';

/** The name beside the largest value, the first of equals; empty without rows. */
export function nameOfLargest(names: readonly string[], values: readonly number[]): string {
  let best = -1;
  values.forEach((value, i) => {
    if (best < 0 || value > (values[best] ?? NaN)) best = i;
  });
  return names[best] ?? '';
}

export const nameOfLargestFunction = defineFunction({
  name: 'name_of_largest',
  summary: 'The name in the row whose value is the largest: the longest run, the loudest fan.',
  source: 'Definition.',
  limits: 'Of equal values the first row counts; empty where there is no row.',
  parameters: [
    { name: 'names', type: { kind: 'text' }, column: true, summary: 'What the rows are called' },
    { name: 'values', type: { kind: 'generic', letter: 'V' }, column: true, summary: 'One for each name' },
  ],
  result: { kind: 'text' },
  example: {
    arguments: [
      ['R01', 'R05', 'R07'],
      [2.8, 9.7, 1.4],
    ],
    result: 'R05',
  },
  compute: nameOfLargest,
});

import { bound, cell, waiting, type Sample } from './sample.ts';

const value = cell('Air changes at 50 Pa', 1.05, '1/h', 0.03);
const first = cell('First target, at most', 1.2, '1/h');
const second = cell('Second target, at most', 0.996, '1/h');
const chance = cell('Chance', 99.9, '%');

export const marginSamples: readonly Sample[] = [
  { kind: 'margin', shows: 'met', bound: bound({ value, target: first, chance }) },
  {
    kind: 'margin',
    shows: 'two targets that disagree',
    bound: bound({
      value,
      target: first,
      target_2: second,
      chance,
      chance_2: cell('Chance', 3.6, '%'),
    }),
  },
  {
    kind: 'margin',
    shows: 'not met',
    bound: bound({ value: cell('Air changes at 50 Pa', 1.35, '1/h', 0.04), target: first }),
  },
  {
    kind: 'margin',
    shows: 'no result yet',
    bound: bound({ value: waiting('Air changes at 50 Pa', 'q50'), target: first }),
  },
];

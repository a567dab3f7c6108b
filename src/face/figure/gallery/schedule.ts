import { bound, column, words, type Sample } from './sample.ts';

export const scheduleSamples: readonly Sample[] = [
  {
    kind: 'timeline',
    shows: 'three stages, one hold point released, today in the second stage',
    bound: bound(
      { today: words('Today', '2026-03-18') },
      {
        stage: column('', ['Board', 'Plaster', 'Trim']),
        start: column('', ['2026-03-09', '2026-03-17', '2026-04-06']),
        finish: column('', ['2026-03-16', '2026-03-20', '2026-04-14']),
        days: column('', [6, 4, 7]),
        point: column('', ['board may start', '', 'trim may start']),
        point_state: column('', ['released', '', 'hold']),
      },
    ),
  },
  {
    kind: 'timeline',
    shows: 'no start date yet',
    bound: bound({}, { stage: column('', ['Board']), start: column('', [undefined]) }),
  },
  { kind: 'timeline', shows: 'nothing bound', bound: bound({}) },
];

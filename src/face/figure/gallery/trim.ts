import { bound, cell, column, type Sample } from './sample.ts';

const FOOT = 0.3048;
const plan = JSON.stringify([
  {
    stock: 16 * FOOT,
    onHand: false,
    pieces: [
      ['B1', 11.5 * FOOT],
      ['B4', 4.25 * FOOT],
    ],
    left: 0.2 * FOOT,
  },
  { stock: 12 * FOOT, onHand: true, pieces: [['B2', 9 * FOOT]], left: 2.9 * FOOT, keep: 'offcut 1' },
]);

export const trimSamples: readonly Sample[] = [
  {
    kind: 'cutting_plan',
    shows: 'two sticks, one from what is on site',
    bound: bound(
      {
        shown: { label: 'Shown', unit: '', shown: { kind: 'text', text: 'base' } },
        kerf: cell('Kerf', 0.125, 'in'),
      },
      {
        profile: column('', ['base']),
        plan: column('', [plan]),
        status: column('', ['optimal']),
        waste: column('%', [4.1]),
        length: column('in', [138]),
      },
    ),
  },
  { kind: 'cutting_plan', shows: 'nothing bound', bound: bound({}) },
];

import { bound, cell, column, type Sample } from './sample.ts';

export const plainSamples: readonly Sample[] = [
  {
    kind: 'points',
    shows: 'one series with ± both ways and a target',
    bound: bound(
      { target: cell('Allowed', 0.25, 'in') },
      {
        x: column('ft', [0, 2, 4, 6, 8, 10], [0.1, 0.1, 0.1, 0.1, 0.1, 0.1], 'Along the wall'),
        y: column('in', [0, 0.06, 0.12, 0.28, 0.19, 0.05], [0.02, 0.02, 0.02, 0.02, 0.02, 0.02], 'Gap'),
      },
    ),
  },
  {
    kind: 'points',
    shows: 'two series told apart by shape and name',
    bound: bound(
      {},
      {
        x: column('', [1, 2, 3, 4], [], 'Week'),
        y: column('%', [19, 16.5, 14, 12.6], [], 'Studs'),
        y_2: column('%', [21, 19.5, 18, 16.9], [], 'Plates'),
      },
    ),
  },
  {
    kind: 'points',
    shows: 'nothing typed yet',
    bound: bound({}, { x: column('ft', []), y: column('in', []) }),
  },
  {
    kind: 'bars',
    shows: 'rows with their ± against a target',
    bound: bound(
      { target: cell('Wanted', 20, 'cfm') },
      {
        label: column('', ['Kitchen', 'Bath upstairs', 'Bedroom over the hall and stair', 'Laundry']),
        value: column('cfm', [31, 22, 14.5, 19], [1.2, 1, 0.8, 1], 'Measured'),
      },
    ),
  },
  {
    kind: 'bars',
    shows: 'values on both sides of zero',
    bound: bound(
      {},
      {
        label: column('', ['North unit', 'South unit']),
        value: column('cfm', [-10.3, 0.3], [], 'Out of balance'),
      },
    ),
  },
  { kind: 'bars', shows: 'nothing typed yet', bound: bound({}, { value: column('cfm', []) }) },
  {
    kind: 'ranking',
    shows: 'where the ± of a result comes from',
    bound: bound({ value: cell('Air changes at 50 Pa', 1.05, '1/h', 0.03) }, {}, [
      { label: 'Procedure', share: 0.66, without: '± 0.018' },
      { label: 'Fan gauge', share: 0.21, without: '± 0.027' },
      { label: 'Volume', share: 0.09, without: '± 0.029' },
      { label: 'Scatter of the readings', share: 0.04, without: '± 0.029' },
    ]),
  },
  {
    kind: 'ranking',
    shows: 'a result without ±',
    bound: bound({ value: cell('Air changes at 50 Pa', 1.05, '1/h') }),
  },
];

import { bound, cell, column, type Sample } from './sample.ts';

export const finishesSamples: readonly Sample[] = [
  {
    kind: 'plan',
    shows: 'three beams in a room with a stair opening',
    bound: bound(
      { frame_width: cell('Across', 240, 'in'), frame_height: cell('Run', 160, 'in') },
      {
        solid_x: column('in', [48, 114, 180]),
        solid_y: column('in', [0, 0, 0]),
        solid_width: column('in', [8, 8, 8]),
        solid_height: column('in', [160, 160, 120]),
        solid_label: column('', ['Beam 1', 'Beam 2', 'Beam 3']),
        void_x: column('in', [176]),
        void_y: column('in', [120]),
        void_width: column('in', [64]),
        void_height: column('in', [40]),
      },
    ),
  },
  {
    kind: 'plan',
    shows: 'a wall that takes the north-west corner, and the beam that ends at it',
    bound: bound(
      { frame_width: cell('Across', 240, 'in'), frame_height: cell('Run', 160, 'in') },
      {
        solid_x: column('in', [48, 180]),
        solid_y: column('in', [0, 0]),
        solid_width: column('in', [8, 8]),
        solid_height: column('in', [110, 160]),
        solid_label: column('', ['Beam 1', 'Beam 2']),
        wall_x: column('in', [0]),
        wall_y: column('in', [112]),
        wall_width: column('in', [96]),
        wall_height: column('in', [48]),
      },
    ),
  },
  { kind: 'plan', shows: 'nothing bound', bound: bound({}) },
  {
    kind: 'stack',
    shows: 'board and plaster against a jamb that is shallow',
    bound: bound(
      { against: cell('Jamb', 4.625, 'in'), difference: cell('Difference', -0.0625, 'in') },
      {
        layer: column('', ['Plaster', 'Board', 'Stud', 'Board', 'Plaster']),
        thickness: column('in', [0.09375, 0.5, 3.5, 0.5, 0.09375]),
      },
    ),
  },
  { kind: 'stack', shows: 'nothing bound', bound: bound({}) },
];

import { bound, cell, column, type Sample } from './sample.ts';

export const envelopeSamples: readonly Sample[] = [
  {
    kind: 'section',
    shows: 'a wall in winter, water at the sheathing',
    bound: bound(
      {
        indoor_temperature: cell('Indoors', 70, '°F'),
        indoor_dew_point: cell('Dew point indoors', 41, '°F'),
        indoor_pressure: cell('Vapour pressure indoors', 880, 'Pa'),
      },
      {
        layer: column('', ['film', 'board', 'wool', 'sheathing', 'film']),
        thickness: column('in', [undefined, 0.5, 9.5, 0.5, undefined], [], 'Thickness'),
        resistance: column('ft²·°F·h/Btu', [0.7, 0.45, 36, 0.6, 0.2], [], 'Resistance'),
        temperature: column('°F', [69, 68.4, 26, 25.2, 25], [], 'Temperature'),
        dew_point: column('°F', [41, 40, 26, 19, 19], [], 'Dew point'),
        pressure: column('Pa', [880, 850, 478, 340, 340], [], 'Vapour pressure'),
        saturation: column('Pa', [2440, 2390, 478, 460, 455], [], 'Saturation'),
        condensing: column('g/m²', [0, 0, 12, 0, 0], [], 'Condensing'),
      },
    ),
  },
  { kind: 'section', shows: 'nothing bound', bound: bound({}) },
];

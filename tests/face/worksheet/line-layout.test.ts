import { expect, test } from 'vitest';
import { lineLayout } from '../../../src/face/worksheet/line-layout.ts';

const column = (heading: string, ...texts: string[]) => ({ heading, texts });

test('numbers stand beside a short name, each column as wide as what is in it', () => {
  expect(
    lineLayout(column('Month', 'Jan', 'Feb'), [
      column('Outdoors, °F', '20.5', '24.0'),
      column('At most', '1,000.25', ''),
    ]),
  ).toEqual({ stacked: false, tracks: 'minmax(0, 1fr) 76.8px 76.8px', whole: [false, false] });
});

test('feet and inches are not broken: where they leave no room, they stand under the name of the row', () => {
  const sizes = [
    column('Length, ft', `21' 7 1/2"`),
    column('Width, ft', `13' 4 1/2"`),
    column('Floor, ft²', '289.2'),
  ];
  expect(lineLayout(column('Room', 'primary_bedroom'), sizes)).toEqual({
    stacked: true,
    tracks: 'minmax(0, 8fr) minmax(0, 8fr) minmax(0, 6fr)',
    whole: [false, false, false],
  });
  expect(lineLayout(column('Room', 'bath_1'), sizes.slice(0, 2)).stacked).toBe(false);
});

test('no number is broken: values that have no room in one row stand in two', () => {
  const sizes = (length: string) => [
    column('Length, ft', length),
    column('Width, ft', length),
    column('Height, ft', length),
    column('Floor area, ft²', '289.2'),
  ];
  expect(lineLayout(column('Room', 'living'), sizes(`21' 7 1/2"`)).tracks).toBe(
    'minmax(0, 8fr) minmax(0, 8fr) minmax(0, 8fr) minmax(0, 5fr)',
  );
  expect(lineLayout(column('Room', 'living'), sizes(`24' 11 15/16"`)).tracks).toBe(
    'minmax(0, 11fr) minmax(0, 11fr)',
  );
});

test('a name that would be broken into many lines stands above its values', () => {
  const done = [column('Done', 'yes'), column('Who', 'vent crew')];
  expect(lineLayout(column('Step', 'grilles set'), done).stacked).toBe(false);
  expect(
    lineLayout(column('Step', 'Windows closed, dryer and hoods off, outdoor temperature noted'), done)
      .stacked,
  ).toBe(true);
});

test('a sentence has a line of its own, and leaves the others beside the name', () => {
  expect(
    lineLayout(column('Part', 'drains', 'doors'), [
      column('For the test', 'traps filled or plugged', 'open, wedged'),
      column('Done', 'yes', ''),
    ]),
  ).toEqual({ stacked: false, tracks: 'minmax(0, 1fr) 48.0px', whole: [true, false] });
  expect(lineLayout(column('Role', 'tester'), [column('Keeps', 'fan tests and the leak log')])).toEqual({
    stacked: false,
    tracks: 'minmax(0, 1fr)',
    whole: [true],
  });
});

test('a long heading takes no more than three lines', () => {
  const { tracks } = lineLayout(column('Stage', 'first'), [
    column('Chance that the first target is met, %', '99.9'),
  ]);
  expect(tracks).toBe('minmax(0, 1fr) 105.6px');
});

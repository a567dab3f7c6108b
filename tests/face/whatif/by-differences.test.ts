/** The words in which a budget says which sensitivities are not exact. */
import { expect, test } from 'vitest';
import { byDifferencesText } from '../../../src/face/whatif/by-differences.ts';

const label = (name: string): string => ({ humid: 'Humidity', 'runs.loss': 'Loss' })[name] ?? '';
const said = (...byDifferences: Parameters<typeof byDifferencesText>[0]['byDifferences'][number][]): string =>
  byDifferencesText({ byDifferences }, label, { name: 'total' });

test('the function and the formula that calls it are named, rows of one column together', () => {
  expect(said()).toBe('');
  expect(said({ function: 'dew', name: 'humid' })).toBe(
    'found by small differences, not exactly: dew in Humidity',
  );
  expect(said({ function: 'dew', name: 'runs.loss', row: 2 })).toBe(
    'found by small differences, not exactly: dew in Loss, row 3',
  );
  expect(
    said(
      { function: 'dew', name: 'runs.loss', row: 0 },
      { function: 'dew', name: 'runs.loss', row: 2 },
      { function: 'flow', name: 'no_label' },
    ),
  ).toBe('found by small differences, not exactly: dew in Loss, 2 rows; flow in no_label');
});

test('of the result itself no name is needed', () => {
  const found = { function: 'dew', name: 'runs.loss' };
  const text = (row: number | undefined, own: number | undefined): string =>
    byDifferencesText({ byDifferences: [row === undefined ? found : { ...found, row }] }, label, {
      name: 'runs.loss',
      row: own,
    });
  expect(text(undefined, undefined)).toBe('found by small differences, not exactly: dew in this formula');
  expect(text(1, 1)).toBe('found by small differences, not exactly: dew in this formula');
  expect(text(1, 2)).toBe('found by small differences, not exactly: dew in Loss, row 2');
});

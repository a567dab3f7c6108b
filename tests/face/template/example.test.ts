/** What the form of a new job shows as an example. */
import { expect, test } from 'vitest';
import { exampleText } from '../../../src/face/template/example.ts';
import type { Cell } from '../../../src/workbook/index.ts';

const cell = (unit: string, places?: number): Cell => ({
  kind: 'cell',
  id: 'c',
  name: 'c',
  label: '',
  note: '',
  type: 'number',
  text: '',
  unit,
  ...(places !== undefined && { places }),
});

test.each([
  ['70', 'degF', 0, '70 °F', '21 °C'],
  ['70 °F', 'degF', 0, '70 °F', '21 °C'],
  ['21 °C', 'degF', 0, '70 °F', '21 °C'],
  ['5776', 'degF day', 0, '5776 °F·day', '3,209 K·day'],
  [`12' 4 1/2"`, 'ft', 2, `12' 4 1/2"`, '3.772 m'],
  ['1.2', '1/h', 2, '1.2 1/h', '1.2 1/h'],
  ['4', '', 0, '4', '4'],
])('%s in %s', (text, unit, places, us, si) => {
  expect(exampleText(text, cell(unit, places), 'us')).toBe(us);
  expect(exampleText(text, cell(unit, places), 'si')).toBe(si);
});

test('words stay as they are', () => {
  expect(exampleText('gauge 1.5', { ...cell(''), type: 'text' }, 'si')).toBe('gauge 1.5');
});

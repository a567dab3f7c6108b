import { expect, test } from 'vitest';
import { outlineOf } from '../../../src/face/outline.ts';
import { piecesOf } from '../../../src/face/worksheet/formula-pieces.ts';
import { wordBefore } from '../../../src/face/worksheet/word.ts';
import type { Cell, Table } from '../../../src/workbook/index.ts';

const q50: Cell = {
  kind: 'cell',
  id: 'c1',
  name: 'q50',
  label: '',
  type: 'number',
  text: '',
  unit: '',
  note: '',
};
const readings: Table = {
  kind: 'table',
  id: 't1',
  name: 'readings',
  label: '',
  columns: [],
  rows: [],
  note: '',
};
const outline = outlineOf({
  title: '',
  units: 'us',
  sheets: [
    { id: 's', title: '', note: '', sections: [{ id: 'x', title: '', note: '', items: [q50, readings] }] },
  ],
});

test('names that lead somewhere are found whole, others stay text', () => {
  const pieces = piecesOf('sum(readings.flow) / q50 + q500', outline);
  expect(pieces.filter((piece) => piece.name !== undefined)).toEqual([
    { text: 'readings.flow', name: 'readings.flow', marked: false },
    { text: 'q50', name: 'q50', marked: false },
  ]);
  expect(pieces.map((piece) => piece.text).join('')).toBe('sum(readings.flow) / q50 + q500');
});

test('a mistake is marked at its place, through names and beyond the end of the text', () => {
  const marked = (start: number, end: number) =>
    piecesOf('2 * q50 ft', outline, { start, end })
      .filter((piece) => piece.marked)
      .map((piece) => piece.text)
      .join('');
  expect(marked(4, 10)).toBe('q50 ft');
  expect(marked(8, 99)).toBe('ft');
});

test('names are offered where a name may stand, not where a unit stands', () => {
  expect(wordBefore('2 * bu', 6)).toEqual({ text: 'bu', start: 4 });
  expect(wordBefore('readings.fl', 11)).toEqual({ text: 'readings.fl', start: 0 });
  expect(wordBefore('14 m', 4)).toBeUndefined();
  expect(wordBefore('q50 / ', 6)).toBeUndefined();
});

import { expect, test } from 'vitest';
import { summaryColumns } from '../../../src/face/worksheet/summary-columns.ts';
import type { Column, EntryType } from '../../../src/workbook/index.ts';

function column(name: string, type: EntryType, formula?: string): Column {
  return {
    id: name,
    name,
    label: name,
    type,
    unit: '',
    note: '',
    ...(formula === undefined ? {} : { formula }),
  };
}

test('a reading on a phone: its number, what was typed, and how far it is off the line', () => {
  const columns = [
    column('range', 'choice'),
    column('house', 'number'),
    column('fan', 'number'),
    column('induced', 'number', 'x'),
    column('off_line', 'number', 'x'),
    column('left_out', 'text'),
  ];
  const readings = { reasonColumn: 'left_out', shownBy: { column: 'test', cell: 'shown_test' } };
  expect(summaryColumns(readings, columns)).toEqual({ values: [1, 2, 4] });
});

test('a row with a name of its own begins with it', () => {
  const columns = [column('test', 'text'), column('stage', 'text'), column('q50', 'number', 'x')];
  expect(summaryColumns({}, columns)).toEqual({ lead: 0, values: [1, 2] });
});

test('a row is named by what was chosen for it, or by the text after the number that counts it', () => {
  const order = [column('beam', 'choice'), column('part', 'text'), column('pieces', 'number')];
  expect(summaryColumns({}, order)).toEqual({ lead: 0, values: [1, 2] });
  const layers = [column('no', 'number'), column('layer', 'text'), column('thickness', 'number')];
  const shownBy = { column: 'assembly', cell: 'checked_assembly' };
  expect(summaryColumns({ shownBy }, layers)).toEqual({ lead: 1, values: [0, 2] });
});

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
  expect(summaryColumns(readings, columns)).toEqual({ words: [], values: [1, 2, 4] });
});

test('a row with a name of its own begins with it', () => {
  const columns = [column('test', 'text'), column('stage', 'text'), column('q50', 'number', 'x')];
  expect(summaryColumns({}, columns)).toEqual({ lead: 0, words: [], values: [1, 2] });
});

test('a row is named by what was chosen for it, or by the text after the number that counts it', () => {
  const order = [column('beam', 'choice'), column('part', 'text'), column('pieces', 'number')];
  expect(summaryColumns({}, order)).toEqual({ lead: 0, words: [], values: [1, 2] });
  const layers = [column('no', 'number'), column('layer', 'text'), column('thickness', 'number')];
  const shownBy = { column: 'assembly', cell: 'checked_assembly' };
  expect(summaryColumns({ shownBy }, layers)).toEqual({ lead: 1, words: [], values: [0, 2] });
});

test('a mark names no row for a person: the words before the first number that differ most do', () => {
  const columns = [
    column('mark', 'text'),
    column('hunt', 'text'),
    column('room', 'choice'),
    column('place', 'text'),
    column('area', 'number'),
    column('photo', 'text'),
  ];
  const row = (id: string, mark: string, room: string, place: string) => ({
    id,
    entries: { mark, hunt: 'before board', room, place, photo: `picture ${id}` },
  });
  const rows = [
    row('1', 'L01', 'kitchen', 'rim joist'),
    row('2', 'L02', 'kitchen', 'slab edge'),
    row('3', 'L03', 'hall', ''),
    row('4', 'L04', 'hall', 'ridge'),
  ];
  expect(summaryColumns({}, columns, rows)).toEqual({ lead: 0, words: [3], values: [1, 4] });
  // Before anything is typed there is nothing to tell rows apart by.
  expect(summaryColumns({}, columns)).toEqual({ lead: 0, words: [], values: [1, 4] });
  expect(summaryColumns({}, columns, [row('1', 'under the stair', 'hall', 'rim joist')])).toHaveProperty(
    'words',
    [],
  );
});

test('words that are the same in many rows are told with others: the room with its wall', () => {
  const columns = [
    column('mark', 'text'),
    column('profile', 'choice'),
    column('room', 'choice'),
    column('place', 'text'),
    column('length', 'number'),
  ];
  const rows = ['hall', 'living', 'study'].flatMap((room, at) =>
    ['north wall', 'east wall', 'west wall', 'south wall'].map((place, n) => ({
      id: `${at}${n}`,
      entries: { mark: `T${at}${n}`, profile: 'base', room, place },
    })),
  );
  expect(summaryColumns({}, columns, rows)).toMatchObject({ lead: 0, words: [2, 3] });
});

test('what a column says of itself goes before any guess, in the order of the table', () => {
  const status = { ...column('status', 'choice'), brief: true };
  const columns = [
    column('place', 'text'),
    column('area', 'number'),
    { ...column('flow', 'number', 'x'), brief: true },
    status,
  ];
  expect(summaryColumns({}, columns)).toEqual({ lead: 0, words: [], values: [2, 3] });
  // What the row begins with is not said twice.
  const named = [{ ...column('place', 'text'), brief: true }, column('area', 'number'), status];
  expect(summaryColumns({}, named)).toEqual({ lead: 0, words: [], values: [2] });
});

test('a typed column that no row has yet gives way to one that is in use', () => {
  const columns = [
    column('surface', 'text'),
    column('own_length', 'number'),
    column('repeats', 'number'),
    column('area', 'number', 'x'),
  ];
  const rows = [{ id: '1', entries: { surface: 'ceiling', repeats: '2' } }];
  expect(summaryColumns({}, columns, rows)).toEqual({ lead: 0, words: [], values: [2, 3] });
  expect(summaryColumns({}, columns)).toEqual({ lead: 0, words: [], values: [1, 2, 3] });
});

/** Words of a list typed anew in a block, by a fill or from a file, and the formulas that quote them. */
import { beforeEach, describe, expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import type { Cell, Item, Row, Table, WorkbookDocument } from '../../src/workbook/document.ts';
import type { Edit, EntryChange } from '../../src/workbook/edit-kinds.ts';
import { readCsv } from '../../src/workbook/file/csv.ts';
import { followEntries, type Following } from '../../src/workbook/follow-choice.ts';
import { imported } from '../../src/workbook/import.ts';
import { findItem, findTable } from '../../src/workbook/locate.ts';
import { Workbook, writeWorkbook } from '../../src/workbook/index.ts';
import { cell, column } from './small-house.ts';

function row(id: string, name: string, area: string): Row {
  return { id, entries: { 'c-room': name, 'c-floor': area } };
}

const rooms: Table = {
  kind: 'table',
  id: 'rooms',
  name: 'rooms',
  label: 'Rooms',
  note: '',
  columns: [column('room', '', { type: 'text' }), column('floor', 'ft2')],
  rows: [row('r1', 'Hall', '1,200'), row('r2', 'Study', '90'), row('r3', 'Bath', '60')],
};
const finds: Table = {
  kind: 'table',
  id: 'finds',
  name: 'finds',
  label: 'Finds',
  note: '',
  columns: [
    column('where_found', '', { type: 'choice', choices: 'rooms.room' }),
    column('in_hall', '', { formula: 'where_found == "Hall" ? 1 : 0' }),
    column('kind', '', { type: 'choice', choices: ['Hall', 'other'] }),
    column('odd', '', { formula: 'kind == "Hall" ? 1 : 0' }),
  ],
  rows: [
    { id: 'f1', entries: { 'c-where_found': 'Hall', 'c-kind': 'Hall' } },
    { id: 'f2', entries: { 'c-where_found': 'Bath' } },
  ],
};
const items: readonly Item[] = [
  rooms,
  finds,
  cell('shown', 'Study', '', { type: 'choice', choices: 'rooms.room' }),
  cell('calculated', '= 1 > 0 ? "Hall" : otherwise(shown, "Bath")', '', {
    type: 'choice',
    choices: 'rooms.room',
  }),
  cell('hall_area', 'sum(where(rooms.floor, rooms.room == "Hall"))', 'ft2'),
  cell('hall_looked_up', 'lookup(rooms.floor, rooms.room, "Hall")', 'ft2'),
  cell('not_hall', 'count(where(rooms.room, "Hall" != rooms.room and rooms.room != "Bath"))'),
  cell('is_hall', '= shown == "Hall" ? "the Hall" : "Hall"', '', { type: 'text' }),
  cell('fallback', '= otherwise(shown, "Hall") == "Hall" ? 1 : 2', ''),
];
const start: WorkbookDocument = {
  title: '',
  units: 'us',
  sheets: [{ id: 'sheet', title: '', note: '', sections: [{ id: 'section', title: '', note: '', items }] }],
};

let workbook: Workbook;
beforeEach(() => {
  workbook = new Workbook(start, new FunctionLibrary([]));
});

const text = (id: string) => (findItem(workbook.document, `id-${id}`) as Cell).text;
const formula = (at: number) => findTable(workbook.document, 'finds')?.columns[at]?.formula;
const found = () =>
  findTable(workbook.document, 'finds')?.rows.map(({ entries }) => entries['c-where_found']);

/** Does it as one step; undone, the document is the same byte for byte. */
function done(edits: readonly Edit[]): void {
  const before = writeWorkbook(workbook.document);
  const batch: Edit = { kind: 'batch', label: 'all', edits };
  for (const again of [true, false]) {
    const refused = workbook.apply(batch);
    if ('problem' in refused) throw new Error(refused.problem);
    if (!again) return;
    workbook.undo();
    expect(writeWorkbook(workbook.document)).toBe(before);
  }
}

function enter(...changes: readonly EntryChange[]): Following {
  const following = followEntries(workbook.document, rooms, changes);
  done([{ kind: 'set-entries', table: 'rooms', entries: changes }, ...following.edits]);
  return following;
}

function importRooms(csv: string, how: 'replace' | 'append' = 'replace'): Following {
  const reading = readCsv(csv, rooms);
  expect(reading.problems).toEqual([]);
  const { edit, following } = imported(workbook.document, rooms, reading, how);
  done([edit]);
  return following;
}

const name = (id: string, to: string): EntryChange => ({ row: id, column: 'c-room', text: to });

describe('formulas that quote the words', () => {
  test('quote the new ones where they are compared with the list, or with what is chosen from it', () => {
    const results = ['hall_area', 'hall_looked_up', 'not_hall', 'fallback'].map((each) =>
      workbook.state(each),
    );
    const { places, formulas } = enter(name('r1', 'Front hall'));
    expect(places).toBe(1);
    expect(formulas).toBe(7);
    expect(text('hall_area')).toBe('sum(where(rooms.floor, rooms.room == "Front hall"))');
    expect(text('hall_looked_up')).toBe('lookup(rooms.floor, rooms.room, "Front hall")');
    expect(text('not_hall')).toBe(
      'count(where(rooms.room, "Front hall" != rooms.room and rooms.room != "Bath"))',
    );
    expect(text('fallback')).toBe('= otherwise(shown, "Front hall") == "Front hall" ? 1 : 2');
    expect(text('calculated')).toBe('= 1 > 0 ? "Front hall" : otherwise(shown, "Bath")');
    expect(formula(1)).toBe('where_found == "Front hall" ? 1 : 0');
    // The same words in other places mean something else.
    expect(text('is_hall')).toBe('= shown == "Front hall" ? "the Hall" : "Hall"');
    expect(formula(3)).toBe('kind == "Hall" ? 1 : 0');
    expect(
      ['hall_area', 'hall_looked_up', 'not_hall', 'fallback'].map((each) => workbook.state(each)),
    ).toEqual(results);
    expect(workbook.faults()).toEqual([]);
  });

  test('stay where the new words cannot be quoted', () => {
    const { places, formulas } = enter(name('r1', 'Hall, 12" beams'));
    expect([places, formulas]).toEqual([1, 0]);
    expect(text('hall_area')).toBe('sum(where(rooms.floor, rooms.room == "Hall"))');
  });

  test('stay where another is chosen in a list: that is no new name', () => {
    const of: Table = {
      ...finds,
      id: 'of',
      name: 'of',
      columns: [finds.columns[0] ?? column('where_found')],
    };
    const next = cell('next', 'count(where(of.where_found, of.where_found == "Hall"))');
    const choosing = cell('choosing', 'Hall', '', { type: 'choice', choices: 'of.where_found' });
    workbook.apply({ kind: 'insert-item', section: 'section', at: 0, item: of });
    for (const item of [next, choosing])
      workbook.apply({ kind: 'insert-item', section: 'section', at: 0, item });
    const change = { row: 'f1', column: 'c-where_found', text: 'Study' };
    expect(followEntries(workbook.document, of, [change]).formulas).toBe(0);
  });
});

describe('words that are typed freely and no choice', () => {
  const insert = (item: Item) => workbook.apply({ kind: 'insert-item', section: 'section', at: 0, item });
  const doors = (formula: string): Table => ({
    ...finds,
    id: 'doors',
    name: 'doors',
    columns: [column('door_to', '', { type: 'text' }), column('beyond', '', { formula })],
    rows: [
      { id: 'd1', entries: { 'c-door_to': 'Hall' } },
      { id: 'd2', entries: { 'c-door_to': 'outside' } },
    ],
  });
  const beyond = () => findTable(workbook.document, 'doors')?.rows.map(({ entries }) => entries['c-door_to']);

  test.each([
    'lookup(rooms.floor, rooms.room, door_to) / (1 ft2)',
    'count(where(rooms.room, rooms.room == door_to))',
  ])('follow the list where %s', (says) => {
    insert(doors(says));
    const { places } = enter(name('r1', 'Lobby'));
    expect(places).toBe(2);
    expect(beyond()).toEqual(['Lobby', 'outside']);
  });

  test('are no list themselves, and stay where no formula says that they are of one', () => {
    insert(doors('count(where(rooms.room, rooms.room == door_to))'));
    const table = findTable(workbook.document, 'doors') ?? rooms;
    const change = { row: 'd1', column: 'c-door_to', text: 'Front garden' };
    expect(followEntries(workbook.document, table, [change])).toMatchObject({ edits: [], places: 0 });
    workbook.undo();
    insert(doors('1'));
    expect(enter(name('r1', 'Lobby')).places).toBe(1);
    expect(beyond()).toEqual(['Hall', 'outside']);
  });

  test('are a list where something is looked up in them, though nobody chooses', () => {
    const kinds: Table = {
      ...rooms,
      id: 'kinds',
      name: 'kinds',
      columns: [column('kind', '', { type: 'text' }), column('size')],
      rows: [{ id: 'k1', entries: { 'c-kind': 'large', 'c-size': '3' } }],
    };
    insert(kinds);
    insert(cell('of_large', 'lookup(kinds.size, kinds.kind, "large")'));
    const change = { row: 'k1', column: 'c-kind', text: 'big' };
    const { edits, formulas } = followEntries(workbook.document, kinds, [change]);
    expect(formulas).toBe(1);
    done([{ kind: 'set-entries', table: 'kinds', entries: [change] }, ...edits]);
    expect(text('of_large')).toBe('lookup(kinds.size, kinds.kind, "big")');
    expect(workbook.state('of_large')).toMatchObject({ value: 3 });
  });
});

describe('a block of entries', () => {
  test('renames several at once, and leaves what else it brings', () => {
    const { words, places } = enter(name('r1', 'Front hall'), name('r3', 'Wet room'), name('r2', 'Study'));
    expect([...words]).toEqual([
      ['Hall', 'Front hall'],
      ['Bath', 'Wet room'],
    ]);
    expect(places).toBe(2);
    expect(found()).toEqual(['Front hall', 'Wet room']);
    expect(text('calculated')).toBe('= 1 > 0 ? "Front hall" : otherwise(shown, "Wet room")');
  });

  test.each([
    ['names that change places', [name('r1', 'Bath'), name('r3', 'Hall')]],
    ['two that get one name', [name('r1', 'Room'), name('r3', 'Room')]],
    ['a row that is another one', [name('r1', 'Cellar'), { row: 'r1', column: 'c-floor', text: '400' }]],
    ['a name that is gone', [name('r1', '')]],
  ])('%s are not followed', (_, changes: readonly EntryChange[]) => {
    expect(enter(...changes)).toMatchObject({ edits: [], places: 0, formulas: 0 });
    expect(found()).toEqual(['Hall', 'Bath']);
  });

  test('words that stand in several rows are followed when all of them are typed anew', () => {
    workbook.apply({ kind: 'set-entries', table: 'rooms', entries: [name('r3', 'Hall')] });
    const now = findTable(workbook.document, 'rooms') ?? rooms;
    expect(followEntries(workbook.document, now, [name('r1', 'Lobby')]).places).toBe(0);
    expect(followEntries(workbook.document, now, [name('r1', 'Lobby'), name('r3', 'Lobby')]).places).toBe(1);
  });

  test('an entry that the block types itself stays as typed', () => {
    const chain = column('next_to', '', { type: 'choice', choices: 'rooms.room' });
    workbook.apply({ kind: 'insert-column', table: 'rooms', at: 2, column: chain });
    const next = (id: string, to: string) => ({ row: id, column: 'c-next_to', text: to });
    workbook.apply({
      kind: 'set-entries',
      table: 'rooms',
      entries: [next('r2', 'Hall'), next('r3', 'Hall')],
    });
    const table = findTable(workbook.document, 'rooms') ?? rooms;
    const changes = [name('r1', 'Lobby'), next('r2', 'Bath')];
    const { edits } = followEntries(workbook.document, table, changes);
    done([{ kind: 'set-entries', table: 'rooms', entries: changes }, ...edits]);
    const entries = findTable(workbook.document, 'rooms')?.rows.map((each) => each.entries['c-next_to']);
    expect(entries).toEqual([undefined, 'Bath', 'Lobby']);
  });
});

describe('a file in the place of the rows', () => {
  test('is followed where nothing but a name is another, however its numbers are written', () => {
    const { words, formulas } = importRooms('room,floor\nFront hall,1200\nStudy,90\nBath,60\n');
    expect([...words]).toEqual([['Hall', 'Front hall']]);
    expect(formulas).toBe(7);
    expect(found()).toEqual(['Front hall', 'Bath']);
    expect(workbook.faults()).toEqual([]);
  });

  test.each([
    ['with other figures beside the name', 'room,floor\nFront hall,900\nStudy,90\nBath,60\n'],
    ['with a row more', 'room,floor\nFront hall,1200\nStudy,90\nBath,60\nAttic,10\n'],
    ['in another order', 'room,floor\nBath,60\nStudy,90\nFront hall,1200\n'],
    ['with names alone', 'room\nFront hall\nStudy\nBath\n'],
  ])('is not followed %s', (_, csv) => {
    expect(importRooms(csv)).toMatchObject({ edits: [], places: 0, formulas: 0 });
    expect(found()).toEqual(['Hall', 'Bath']);
  });

  test('behind them is not followed', () => {
    expect(importRooms('room,floor\nFront hall,1200\n', 'append').places).toBe(0);
  });
});

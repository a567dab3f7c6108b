import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  destinations,
  duplication,
  idsIn,
  moveInto,
  removal,
  standingOf,
  step,
} from '../../src/workbook/arranging.ts';
import {
  asCalculated,
  asTyped,
  columnDuplication,
  columnRemoval,
  columnStep,
} from '../../src/workbook/arranging-columns.ts';
import { columnsFrom, nameOf } from '../../src/workbook/columns-from.ts';
import type { Cell, Item, Table, WorkbookDocument } from '../../src/workbook/document.ts';
import { applyEdit, type Edit } from '../../src/workbook/edit.ts';
import { findTable, itemsOf, tablesOf } from '../../src/workbook/locate.ts';
import { anyDocument } from './arbitrary-document.ts';

function cell(name: string): Cell {
  return {
    kind: 'cell',
    id: name,
    name,
    label: name.toUpperCase(),
    type: 'number',
    text: '',
    unit: '',
    note: '',
  };
}
function sheet(id: string, sections: Readonly<Record<string, readonly Item[]>>) {
  return {
    id,
    title: id,
    note: '',
    sections: Object.entries(sections).map(([title, items]) => ({ id: title, title, note: '', items })),
  };
}
const start: WorkbookDocument = {
  title: '',
  units: 'si',
  sheets: [sheet('one', { first: [cell('a'), cell('b')], second: [cell('c')] }), sheet('two', { third: [] })],
};

function after(document: WorkbookDocument, edit: Edit | undefined): WorkbookDocument {
  if (!edit) throw new Error('nothing to do');
  const applied = applyEdit(document, edit);
  if ('problem' in applied) throw new Error(applied.problem);
  const back = applyEdit(applied.document, applied.inverse);
  expect('document' in back && back.document).toStrictEqual(document);
  return applied.document;
}
const shape = (document: WorkbookDocument) =>
  document.sheets.map(
    ({ id, sections }) =>
      `${id}: ${sections.map((s) => `${s.id}(${s.items.map((i) => i.id).join(' ')})`).join(' ')}`,
  );

describe('moving', () => {
  test('an item goes on into the next section at the end of its own', () => {
    expect(shape(after(start, step(start, 'b', 1)))[0]).toBe('one: first(a) second(b c)');
    expect(shape(after(start, step(start, 'c', -1)))[0]).toBe('one: first(a b c) second()');
    expect(shape(after(start, step(start, 'a', 1)))[0]).toBe('one: first(b a) second(c)');
    expect(step(start, 'a', -1)).toBeUndefined();
    expect(step(start, 'c', 1)).toBeUndefined();
  });

  test('sections and worksheets stop at their ends', () => {
    expect(shape(after(start, step(start, 'first', 1)))[0]).toBe('one: second(c) first(a b)');
    expect(shape(after(start, step(start, 'two', -1)))).toEqual([
      'two: third()',
      'one: first(a b) second(c)',
    ]);
    for (const [id, by] of [
      ['first', -1],
      ['second', 1],
      ['one', -1],
      ['two', 1],
      ['gone', 1],
    ] as const)
      expect(step(start, id, by)).toBeUndefined();
  });

  test('to the end of another section or worksheet', () => {
    expect(destinations(start, 'a').map(({ label }) => label)).toEqual(['one: second', 'two: third']);
    expect(destinations(start, 'first').map(({ label }) => label)).toEqual(['two']);
    expect(destinations(start, 'one')).toEqual([]);
    expect(shape(after(start, moveInto(start, 'a', 'third')))).toEqual([
      'one: first(b) second(c)',
      'two: third(a)',
    ]);
    expect(shape(after(start, moveInto(start, 'first', 'two')))).toEqual([
      'one: second(c)',
      'two: third() first(a b)',
    ]);
    expect(moveInto(start, 'a', 'two')).toBeUndefined();
  });
});

test('a duplicate stands behind the original and is called after it', () => {
  const made = duplication(start, 'a');
  const document = after(start, made?.edit);
  expect(shape(document)[0]).toBe('one: first(a a_2 b) second(c)');
  expect(standingOf(document, made?.id ?? '')?.item).toMatchObject({ name: 'a_2', label: 'A 2' });
  expect(shape(after(start, duplication(start, 'one')?.edit))).toEqual([
    'one: first(a b) second(c)',
    'one-2: first-2(a_2 b_2) second-2(c_2)',
    'two: third()',
  ]);
});

test('any part of any workbook can be duplicated, moved and deleted, and each is one step to undo', () => {
  let done = 0;
  fc.assert(
    fc.property(anyDocument, fc.nat(), (document, n) => {
      const ids = [...document.sheets.flatMap((part) => [...idsIn(part)])];
      const id = ids[n % Math.max(1, ids.length)];
      if (id === undefined) return;
      const [into] = destinations(document, id);
      for (const edit of [
        removal(document, id),
        duplication(document, id)?.edit,
        step(document, id, 1),
        step(document, id, -1),
        into && moveInto(document, id, into.id),
      ]) {
        if (!edit) continue;
        after(document, edit);
        done++;
      }
      expect([...itemsOf(after(document, removal(document, id)))].some((item) => item.id === id)).toBe(false);
    }),
    { numRuns: 150 },
  );
  expect(done).toBeGreaterThan(200);
});

describe('columns', () => {
  const table: Table = {
    kind: 'table',
    id: 't',
    name: 'rooms',
    label: 'Rooms',
    note: '',
    columns: columnsFrom('Room\nWidth (ft)\nPieces (number)\nArea (ft2) = width * width'),
    rows: [
      { id: 'r1', entries: { room: 'Hall', width: '3' } },
      { id: 'r2', entries: { area: '9 ft2' } },
    ],
  };
  const document: WorkbookDocument = {
    title: '',
    units: 'us',
    sheets: [{ id: 's', title: '', note: '', sections: [{ id: 'x', title: '', note: '', items: [table] }] }],
  };
  const [room, width, , area] = table.columns;
  const tableAfter = (edit: Edit | undefined) => findTable(after(document, edit), 't');
  if (!room || !width || !area) throw new Error('four columns');

  test('are made of headings: brackets hold the unit, behind = stands the formula', () => {
    expect(
      table.columns.map(({ name, label, type, unit, formula }) => [name, label, type, unit, formula]),
    ).toEqual([
      ['room', 'Room', 'text', '', undefined],
      ['width', 'Width', 'number', 'ft', undefined],
      ['pieces', 'Pieces', 'number', '', undefined],
      ['area', 'Area', 'number', 'ft2', 'width * width'],
    ]);
    expect(columnsFrom('Wall (north)\n\nWall (north)')).toMatchObject([
      { name: 'wall_north', label: 'Wall (north)', type: 'text' },
      { name: 'wall_north_2' },
    ]);
  });

  test('get no name that is a unit or a function', () => {
    const refused = (word: string) => (word === 'h' ? 'a unit' : undefined);
    expect(nameOf('H', new Set(), refused)).toBe('h_value');
    expect(nameOf('H', new Set(['h_value']), refused)).toBe('h_value_2');
  });

  test('move left and right, are deleted and duplicated with their entries', () => {
    const names = (edit: Edit | undefined) =>
      tableAfter(edit)
        ?.columns.map(({ name }) => name)
        .join(' ');
    expect(names(columnStep(table, width, -1))).toBe('width room pieces area');
    expect(names(columnStep(table, width, 1))).toBe('room pieces width area');
    expect(columnStep(table, room, -1)).toBeUndefined();
    expect(columnStep(table, area, 1)).toBeUndefined();
    expect(names(columnRemoval(table, width))).toBe('room pieces area');
    const { edit, id } = columnDuplication(table, width, new Set(['width_2']));
    const copied = tableAfter(edit);
    expect(copied?.columns[2]).toMatchObject({ id, name: 'width_3', label: 'Width 2' });
    expect(copied?.rows[0]?.entries[id]).toBe('3');
  });

  test('become calculated without what was typed, and typed with the results', () => {
    const calculated = tableAfter(asCalculated(table, width, '2 ft'));
    expect(calculated?.columns[1]?.formula).toBe('2 ft');
    expect(calculated?.rows[0]?.entries).toEqual({ room: 'Hall' });
    const typed = tableAfter(asTyped(table, area, ['16', '1']));
    expect(typed?.columns[3]).not.toHaveProperty('formula');
    expect(typed?.rows.map((row) => row.entries[area.id])).toEqual(['16', '9 ft2']);
  });
});

test('tables of any workbook: every column can be moved, duplicated and deleted', () => {
  fc.assert(
    fc.property(anyDocument, (document) => {
      for (const table of tablesOf(document))
        for (const column of table.columns) {
          after(document, columnRemoval(table, column));
          after(document, columnDuplication(table, column, new Set()).edit);
          after(document, asTyped(table, column, []));
          const right = columnStep(table, column, 1);
          if (right) after(document, right);
        }
    }),
    { numRuns: 60 },
  );
});

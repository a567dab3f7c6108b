import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import { copyPart, itemsIn, nextName, nextTitle } from '../../src/workbook/copy-part.ts';
import type { Cell, Column, Section, Table, WorkbookDocument } from '../../src/workbook/document.ts';
import { applyEdit } from '../../src/workbook/edit.ts';
import { itemsOf, namesOf } from '../../src/workbook/locate.ts';
import { Workbook } from '../../src/workbook/workbook.ts';
import { anyDocument } from './arbitrary-document.ts';

function cell(name: string, text: string, more: Partial<Cell> = {}): Cell {
  return { kind: 'cell', id: name, name, label: name, type: 'number', text, unit: '', note: '', ...more };
}
function column(name: string, more: Partial<Column> = {}): Column {
  return { id: name, name, label: '', type: 'number', unit: '', note: '', ...more };
}
const rooms: Table = {
  kind: 'table',
  id: 'rooms',
  name: 'rooms',
  label: 'Rooms',
  note: '',
  columns: [
    column('width'),
    column('area', { formula: 'width * depth + 0 * sum(rooms.width)' }),
    column('depth_2'),
    column('kind', { type: 'choice', choices: 'rooms.width' }),
  ],
  rows: [{ id: 'r1', entries: { width: '3' } }],
  shownBy: { column: 'kind', cell: 'depth' },
};
const walls: Section = {
  id: 'walls',
  title: 'Walls',
  note: 'As deep as {depth}, below {height}',
  items: [
    cell('depth', '4'),
    cell('total', 'sum(rooms.area) + height'),
    rooms,
    {
      kind: 'figure',
      id: 'chart',
      figure: 'bars',
      title: '',
      bindings: { value: 'rooms.area', target: 'height' },
    },
  ],
};
const start: WorkbookDocument = {
  title: '',
  units: 'si',
  sheets: [
    {
      id: 'sheet',
      title: 'House',
      note: '',
      sections: [walls, { id: 'more', title: '', note: '', items: [cell('height', '2')] }],
    },
  ],
};

describe('a copy of a section in its own workbook', () => {
  const { part, renamed, outside } = copyPart(walls, start);
  const byName = new Map(part.items.flatMap((item) => ('name' in item ? [[item.name, item] as const] : [])));

  test('has new names, and none that a column of its tables bears', () => {
    expect([...renamed]).toEqual([
      ['depth', 'depth_3'],
      ['total', 'total_2'],
      ['rooms', 'rooms_2'],
    ]);
  });

  test('reads its own cells and columns, and outside it the same cells as the original', () => {
    expect(byName.get('total_2')).toMatchObject({ text: 'sum(rooms_2.area) + height' });
    const table = byName.get('rooms_2') as Table;
    expect(table.columns[1]?.formula).toBe('width * depth_3 + 0 * sum(rooms_2.width)');
    expect(table.columns[3]?.choices).toBe('rooms_2.width');
    expect(table.shownBy).toEqual({ column: 'kind', cell: 'depth_3' });
    expect(part.items[3]).toMatchObject({ bindings: { value: 'rooms_2.area', target: 'height' } });
    expect(part.note).toBe('As deep as {depth_3}, below {height}');
    expect([...outside]).toEqual(['height']);
  });

  test('is calculated as the original is', () => {
    const workbook = new Workbook(start, new FunctionLibrary([]));
    workbook.apply({ kind: 'insert-section', sheet: 'sheet', at: 1, section: part });
    expect(workbook.state('total_2')).toMatchObject({ state: 'value', value: 14 });
    workbook.apply({ kind: 'set-cell', cell: 'depth_3', patch: { text: '5' } });
    expect(workbook.state('total_2')).toMatchObject({ state: 'value', value: 17 });
    expect(workbook.state('total')).toMatchObject({ state: 'value', value: 14 });
  });
});

test('a copy in another workbook keeps the names that are free there', () => {
  const other: WorkbookDocument = {
    title: '',
    units: 'si',
    sheets: [
      {
        id: 'walls',
        title: '',
        note: '',
        sections: [{ id: 's', title: '', note: '', items: [cell('rooms', '1')] }],
      },
    ],
  };
  const { part, renamed } = copyPart(walls, other);
  expect([...renamed]).toEqual([['rooms', 'rooms_2']]);
  expect(part.id).toBe('walls-2');
  expect(part.items.map(({ id }) => id)).toEqual(['depth', 'total', 'rooms_2', 'chart']);
});

test('a copy of any worksheet can be put into any workbook', () => {
  fc.assert(
    fc.property(anyDocument, anyDocument, (from, into) => {
      for (const sheet of from.sheets) {
        const { part, renamed } = copyPart(sheet, into);
        const applied = applyEdit(into, { kind: 'insert-sheet', at: 0, sheet: part });
        if ('problem' in applied) throw new Error(applied.problem);
        expect(itemsIn(part)).toHaveLength(itemsIn(sheet).length);
        const there = namesOf(into);
        for (const item of itemsIn(part)) if ('name' in item) expect(there.has(item.name)).toBe(false);
        for (const name of renamed.keys()) expect(there.has(name)).toBe(true);
        expect(new Set([...itemsOf(applied.document)].map(({ id }) => id)).size).toBe(
          [...itemsOf(applied.document)].length,
        );
      }
    }),
    { numRuns: 100 },
  );
});

test('names and titles of copies count on', () => {
  expect(nextName('wall', new Set(['wall']))).toBe('wall_2');
  expect(nextName('wall_2', new Set(['wall', 'wall_2']))).toBe('wall_3');
  expect(nextTitle('Wall', new Set(['Wall']))).toBe('Wall 2');
  expect(nextTitle('Wall 2', new Set(['Wall', 'Wall 2', 'Wall 3']))).toBe('Wall 4');
  expect(nextTitle('', new Set(['']))).toBe('');
});

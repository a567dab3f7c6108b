import { describe, expect, test } from 'vitest';
import type { Cell, Column, Item, Row, Table, WorkbookDocument } from '../../src/workbook/document.ts';
import { applyEdit, touched, type Applied, type Edit } from '../../src/workbook/edit.ts';
import { newColumnId, newItemId, newRowIds } from '../../src/workbook/identity.ts';
import { findItem, findTable } from '../../src/workbook/locate.ts';

const column = (name: string, more: Partial<Column> = {}): Column => ({
  id: name,
  name,
  label: '',
  type: 'number',
  unit: '',
  note: '',
  ...more,
});
const row = (id: string, entries: Record<string, string>, note?: string): Row =>
  note === undefined ? { id, entries } : { id, entries, note };
const cell = (name: string, text: string): Cell => ({
  kind: 'cell',
  id: name,
  name,
  label: '',
  type: 'number',
  text,
  unit: '',
  note: '',
});
const readings: Table = {
  kind: 'table',
  id: 'readings',
  name: 'readings',
  label: '',
  note: '',
  columns: [
    column('test', { type: 'text' }),
    column('pressure'),
    column('flow', { formula: 'pressure * 2' }),
  ],
  rows: [
    row('r1', { test: 'A', pressure: '-30' }, 'gusty'),
    row('r2', { test: 'A', pressure: '-40' }),
    row('r3', { test: 'B', pressure: '-50', flow: '7' }),
    row('r4', { test: 'B' }),
  ],
};
const document: WorkbookDocument = {
  title: 'A test',
  units: 'si',
  sheets: [
    {
      id: 'sheet',
      title: '',
      note: '',
      sections: [
        { id: 'first', title: '', note: '', items: [cell('volume', '500 m3'), readings] },
        { id: 'second', title: '', note: '', items: [] },
      ],
    },
  ],
};

function applied(edit: Edit, to = document): Applied {
  const result = applyEdit(to, edit);
  if ('problem' in result) throw new Error(result.problem);
  return result;
}
function undone(result: Applied): WorkbookDocument {
  return applied(result.inverse, result.document).document;
}
const rowsOf = (of: WorkbookDocument) => findTable(of, 'readings')?.rows.map(({ id }) => id);
const inSection = (of: WorkbookDocument, at: number) =>
  of.sheets[0]?.sections[at]?.items.map(({ id }: Item) => id);

describe('entries', () => {
  test('a blank entry is no entry, so a computed cell goes back to its formula', () => {
    const result = applied({
      kind: 'set-entries',
      table: 'readings',
      entries: [
        { row: 'r3', column: 'flow', text: '  ' },
        { row: 'r1', column: 'pressure', text: '-31 Pa' },
        { row: 'r2', column: 'pressure' },
      ],
    });
    const rows = findTable(result.document, 'readings')?.rows;
    expect(rows?.[0]).toStrictEqual(row('r1', { test: 'A', pressure: '-31 Pa' }, 'gusty'));
    expect(rows?.[1]).toStrictEqual(row('r2', { test: 'A' }));
    expect(rows?.[2]).toStrictEqual(row('r3', { test: 'B', pressure: '-50' }));
    expect(rows?.[3]).toBe(readings.rows[3]);
    expect(undone(result)).toStrictEqual(document);
  });

  test('names each entry that changed and no other', () => {
    const entries = [
      { row: 'r1', column: 'pressure', text: '-31' },
      { row: 'r2', column: 'pressure', text: '-40' },
    ];
    const what = touched(document, { kind: 'set-entries', table: 'readings', entries });
    expect([...what.tables]).toEqual([
      ['readings', { structure: false, rows: false, entries: [{ row: 'r1', column: 'pressure' }] }],
    ]);
    expect(what.cells.size + what.shown.size).toBe(0);
  });

  test('an unknown row or column refuses the whole edit', () => {
    expect(
      applyEdit(document, {
        kind: 'set-entries',
        table: 'readings',
        entries: [{ row: 'r9', column: 'test', text: 'x' }],
      }),
    ).toEqual({ problem: 'The table readings no longer has that row.' });
    expect(
      applyEdit(document, {
        kind: 'set-entries',
        table: 'readings',
        entries: [{ row: 'r1', column: '__proto__', text: 'x' }],
      }),
    ).toEqual({ problem: 'The table readings no longer has that column.' });
  });
});

describe('rows', () => {
  test('removing scattered rows is undone with each row, and its note, at its place', () => {
    const result = applied({ kind: 'remove-rows', table: 'readings', rows: ['r4', 'r1'] });
    expect(rowsOf(result.document)).toEqual(['r2', 'r3']);
    expect(result.inverse).toMatchObject({ kind: 'insert-rows', at: [0, 3] });
    expect(undone(result)).toStrictEqual(document);
  });

  test('new rows take ids that count on from the highest', () => {
    const ids = newRowIds(readings, 2);
    expect(ids).toEqual(['r5', 'r6']);
    const rows = ids.map((id) => row(id, { test: 'C' }));
    const result = applied({ kind: 'insert-rows', table: 'readings', at: 1, rows });
    expect(rowsOf(result.document)).toEqual(['r1', 'r5', 'r6', 'r2', 'r3', 'r4']);
    expect(result.touched.tables.get('readings')).toEqual({ structure: false, rows: true, entries: [] });
    expect(undone(result)).toStrictEqual(document);
  });

  test.each<[string, number | number[], Row[]]>([
    ['a place past the end', 5, [row('r5', {})]],
    ['no whole place', 0.5, [row('r5', {})]],
    ['places that do not ascend', [2, 2], [row('r5', {}), row('r6', {})]],
    ['more places than rows', [0, 1], [row('r5', {})]],
    ['an id in use', 0, [row('r1', {})]],
    ['the same new id twice', 0, [row('r5', {}), row('r5', {})]],
    ['an id every object answers to', 0, [row('constructor', {})]],
    ['an entry for no column', 0, [row('r5', { nothing: '1' })]],
  ])('%s is refused', (_, at, rows) => {
    expect(applyEdit(document, { kind: 'insert-rows', table: 'readings', at, rows })).toHaveProperty(
      'problem',
    );
  });

  test('a note on a row touches no calculation', () => {
    const result = applied({ kind: 'set-row-note', table: 'readings', row: 'r2', note: 'door opened' });
    expect(findTable(result.document, 'readings')?.rows[1]?.note).toBe('door opened');
    expect(result.touched.tables.size).toBe(0);
    expect([...result.touched.shown]).toEqual(['readings']);
    expect(undone(result)).toStrictEqual(document);
  });
});

describe('columns', () => {
  test('removing a column brings its entries, its place and the table’s use of it back on undo', () => {
    const used = applied({
      kind: 'set-table',
      table: 'readings',
      patch: { reasonColumn: 'test', shownBy: { column: 'test', cell: 'volume' } },
    }).document;
    const result = applied({ kind: 'remove-column', table: 'readings', column: 'test' }, used);
    const table = findTable(result.document, 'readings');
    expect(table).not.toHaveProperty('reasonColumn');
    expect(table).not.toHaveProperty('shownBy');
    expect(table?.rows[0]).toStrictEqual(row('r1', { pressure: '-30' }, 'gusty'));
    expect(undone(result)).toStrictEqual(used);
  });

  test('undoing a new column leaves a reference that led nowhere as it was', () => {
    const dangling = applied({
      kind: 'set-table',
      table: 'readings',
      patch: { reasonColumn: 'why' },
    }).document;
    const added = applied(
      { kind: 'insert-column', table: 'readings', at: 0, column: column('why') },
      dangling,
    );
    const back = applied(added.inverse, added.document);
    expect(back.document).toStrictEqual(dangling);
    expect(undone(back)).toStrictEqual(added.document);
  });

  test('a changed label is shown, a changed formula is structure', () => {
    const label = touched(document, {
      kind: 'set-column',
      table: 'readings',
      column: 'flow',
      patch: { label: 'Flow' },
    });
    expect([label.tables.size, [...label.shown]]).toEqual([0, ['readings']]);
    const formula = touched(document, {
      kind: 'set-column',
      table: 'readings',
      column: 'flow',
      patch: { formula: '2' },
    });
    expect(formula.tables.get('readings')?.structure).toBe(true);
  });

  test('a name in use is refused, and an id is made that is free', () => {
    expect(
      applyEdit(document, { kind: 'insert-column', table: 'readings', at: 0, column: column('flow') }),
    ).toEqual({
      problem: 'The name “flow” is already taken.',
      suggestion: 'Type flow_2.',
    });
    expect(newColumnId(readings, 'flow')).toBe('flow-2');
  });
});

describe('cells and items', () => {
  test('null takes an optional field away, and undoing brings it back', () => {
    const placed = applied({ kind: 'set-cell', cell: 'volume', patch: { places: 2, pinned: true } });
    const bare = applied({ kind: 'set-cell', cell: 'volume', patch: { places: null } }, placed.document);
    expect(findItem(bare.document, 'volume')).not.toHaveProperty('places');
    expect(undone(bare)).toStrictEqual(placed.document);
    expect(undone(placed)).toStrictEqual(document);
  });

  test('fields that are not for editing stay as they are', () => {
    const patch = JSON.parse(
      '{"id": "other", "kind": "table", "__proto__": {"polluted": 1}, "text": "1"}',
    ) as object;
    const result = applied({ kind: 'set-cell', cell: 'volume', patch });
    expect(findItem(result.document, 'volume')).toStrictEqual(cell('volume', '1'));
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });

  test.each<[string, object, string]>([
    [
      'decimals past the limit',
      { places: 13 },
      'cell volume: 13 decimal places; expected a whole number from 0 to 12.',
    ],
    [
      'a half decimal',
      { places: 1.5 },
      'cell volume: 1.5 decimal places; expected a whole number from 0 to 12.',
    ],
    [
      'a text past the limit',
      { text: 'x'.repeat(10_001) },
      'cell volume: 10,001 characters; expected at most 10,000 characters.',
    ],
    ['a name in use', { name: 'readings' }, 'The name “readings” is already taken.'],
    [
      'a name that is none',
      { name: 'a b' },
      'A name holds letters, digits and _ only, and “a b” holds a space.',
    ],
  ])('%s is refused', (_, patch, problem) => {
    expect(applyEdit(document, { kind: 'set-cell', cell: 'volume', patch })).toHaveProperty(
      'problem',
      problem,
    );
  });

  test('an item moves within and between sections', () => {
    const within = applied({ kind: 'move-item', item: 'volume', section: 'first', at: 1 });
    expect(inSection(within.document, 0)).toEqual(['readings', 'volume']);
    expect(undone(within)).toStrictEqual(document);
    const between = applied({ kind: 'move-item', item: 'volume', section: 'second', at: 0 });
    expect([inSection(between.document, 0), inSection(between.document, 1)]).toEqual([
      ['readings'],
      ['volume'],
    ]);
    expect(between.touched).toMatchObject({ outline: true, cells: new Set() });
    expect(undone(between)).toStrictEqual(document);
    expect(
      applyEdit(document, { kind: 'move-item', item: 'volume', section: 'first', at: 2 }),
    ).toHaveProperty('problem');
  });

  test('a table that comes in keeps no blank entries, and is refused when it does not fit together', () => {
    const added: Table = {
      ...readings,
      id: newItemId(document, 'more'),
      name: 'more',
      rows: [row('r1', { test: ' ', flow: '1' }, '')],
    };
    const result = applied({ kind: 'insert-item', section: 'second', at: 0, item: added });
    expect(findTable(result.document, 'more')?.rows).toStrictEqual([row('r1', { flow: '1' })]);
    expect(undone(result)).toStrictEqual(document);
    const twice = { ...added, columns: [column('a'), { ...column('a'), id: 'b' }], rows: [] };
    expect(
      applyEdit(document, { kind: 'insert-item', section: 'second', at: 0, item: twice }),
    ).toHaveProperty('problem');
    const named = { ...added, name: 'volume' };
    expect(
      applyEdit(document, { kind: 'insert-item', section: 'second', at: 0, item: named }),
    ).toHaveProperty('problem');
  });
});

describe('limits', () => {
  test('a table takes 50,000 rows and not one more', () => {
    const many = Array.from({ length: 49_996 }, (_, index) => row(`n${String(index)}`, {}));
    const full = applied({ kind: 'insert-rows', table: 'readings', at: 4, rows: many }).document;
    expect(
      applyEdit(full, { kind: 'insert-rows', table: 'readings', at: 0, rows: [row('last', {})] }),
    ).toEqual({
      problem: 'table readings: 50,001 rows; expected at most 50,000 rows.',
      suggestion: 'Split it into several.',
    });
  });

  test('a table takes 200 columns and not one more', () => {
    const columns = Array.from({ length: 200 }, (_, index) => column(`c${String(index)}`));
    const wide = { ...readings, id: 'wide', name: 'wide', columns, rows: [] };
    const full = applied({ kind: 'insert-item', section: 'second', at: 0, item: wide }).document;
    expect(
      applyEdit(full, { kind: 'insert-column', table: 'wide', at: 0, column: column('last') }),
    ).toHaveProperty('problem', 'table wide: 201 columns; expected at most 200 columns.');
  });

  test('all tables together hold two million entries', () => {
    const columns = Array.from({ length: 100 }, (_, index) => column(`c${String(index)}`));
    const rows = Array.from({ length: 20_000 }, (_, index) => row(`n${String(index)}`, {}));
    const wide = { ...readings, id: 'wide', name: 'wide', columns, rows };
    expect(applyEdit(document, { kind: 'insert-item', section: 'second', at: 0, item: wide })).toHaveProperty(
      'problem',
      'the workbook: 2,000,012 table entries (rows times columns); expected at most 2,000,000 table entries (rows times columns).',
    );
  });
});

describe('batches', () => {
  test('a batch is one step, and nothing when a part of it cannot be made', () => {
    const edits: Edit[] = [
      { kind: 'set-cell', cell: 'volume', patch: { text: '1' } },
      { kind: 'remove-item', item: 'readings' },
    ];
    const result = applied({ kind: 'batch', label: 'tidy up', edits });
    expect(result.inverse).toMatchObject({ kind: 'batch', label: 'tidy up' });
    expect([...result.touched.cells]).toEqual(['volume']);
    expect(result.touched.tables.get('readings')?.structure).toBe(true);
    expect(undone(result)).toStrictEqual(document);
    const bad: Edit = {
      kind: 'batch',
      label: '',
      edits: [...edits, { kind: 'remove-item', item: 'readings' }],
    };
    expect(applyEdit(document, bad)).toHaveProperty('problem');
  });

  test('an edit survives being kept as JSON', () => {
    const result = applied({ kind: 'set-cell', cell: 'volume', patch: { places: 1 } });
    const kept = JSON.parse(JSON.stringify(result.inverse)) as Edit;
    expect(applied(kept, result.document).document).toStrictEqual(document);
  });
});

import { describe, expect, test } from 'vitest';
import type { Cell, Column, Row, Table, WorkbookDocument } from '../../src/workbook/document.ts';
import { applyEdit } from '../../src/workbook/edit.ts';
import { readCsv } from '../../src/workbook/file/csv.ts';
import { writeWorkbook } from '../../src/workbook/file/write.ts';
import { importEdit, shownValue } from '../../src/workbook/import.ts';
import { unsaidBy } from '../../src/workbook/unsaid.ts';
import { findTable } from '../../src/workbook/locate.ts';

function column(name: string, more: Partial<Column> = {}): Column {
  return { id: `c-${name}`, name, label: '', type: 'number', unit: '', note: '', ...more };
}

function row(id: string, test: string, pressure: string, note?: string): Row {
  const entries = { 'c-test': test, 'c-pressure': pressure };
  return note === undefined ? { id, entries } : { id, entries, note };
}

const readings: Table = {
  kind: 'table',
  id: 'id-readings',
  name: 'readings',
  label: '',
  note: '',
  shownBy: { column: 'test', cell: 'shown_test' },
  columns: [
    column('test', { type: 'text', hidden: true }),
    column('pressure', { unit: 'Pa' }),
    column('flow', { unit: 'm3/h' }),
    column('induced', { unit: 'Pa', formula: 'pressure' }),
  ],
  rows: [
    row('r1', 'first', '-60'),
    row('r2', 'second', '-58', 'gusty'),
    row('r7', 'first', '-50'),
    row('r4', 'second', '-48'),
  ],
};

const shown: Cell = {
  kind: 'cell',
  id: 'id-shown_test',
  name: 'shown_test',
  label: '',
  type: 'text',
  text: 'first',
  unit: '',
  note: '',
};

function documentWith(table: Table): WorkbookDocument {
  const sections = [{ id: 'section', title: '', note: '', items: [shown, table] }];
  return { title: '', units: 'si', sheets: [{ id: 'sheet', title: '', note: '', sections }] };
}

/** Rows after the import, as id, test, pressure and flow; and the document as it was, byte for byte, after undo. */
function imported(csv: string, how: 'replace' | 'append', table: Table = readings): (string | undefined)[][] {
  const document = documentWith(table);
  const reading = readCsv(csv, table);
  expect(reading.problems).toEqual([]);
  const applied = applyEdit(document, importEdit(document, table, reading, how));
  if ('problem' in applied) throw new Error(applied.problem);
  const back = applyEdit(applied.document, applied.inverse);
  if ('problem' in back) throw new Error(back.problem);
  expect(writeWorkbook(back.document)).toBe(writeWorkbook(document));
  const { rows } = findTable(applied.document, table.id) ?? readings;
  return rows.map(({ id, entries }) => [id, entries['c-test'], entries['c-pressure'], entries['c-flow']]);
}

const TWO_ROWS = 'pressure,flow\n-62,600\n-51,540\n';

describe('a file that says nothing of the test', () => {
  test('belongs to the test shown: its rows go, those of other tests stay as they are', () => {
    expect(imported(TWO_ROWS, 'replace')).toEqual([
      ['r2', 'second', '-58', undefined],
      ['r4', 'second', '-48', undefined],
      ['r8', 'first', '-62', '600'],
      ['r9', 'first', '-51', '540'],
    ]);
  });

  test('or stands behind what is there', () => {
    expect(imported(TWO_ROWS, 'append').map(([id, name]) => [id, name])).toEqual([
      ['r1', 'first'],
      ['r2', 'second'],
      ['r7', 'first'],
      ['r4', 'second'],
      ['r8', 'first'],
      ['r9', 'first'],
    ]);
  });
});

describe('a file that names its tests', () => {
  test('replaces the rows of those tests and of no others', () => {
    const csv = 'test,pressure,flow\nsecond,-61,600\nthird,-52,540\n';
    expect(imported(csv, 'replace')).toEqual([
      ['r1', 'first', '-60', undefined],
      ['r7', 'first', '-50', undefined],
      ['r8', 'second', '-61', '600'],
      ['r9', 'third', '-52', '540'],
    ]);
  });

  test('rows of it without a test belong to the test shown', () => {
    const csv = 'test,pressure,flow\nsecond,-61,600\n,-52,540\n';
    expect(imported(csv, 'replace')).toEqual([
      ['r8', 'second', '-61', '600'],
      ['r9', 'first', '-52', '540'],
    ]);
  });
});

test('a table that shows all its rows is replaced whole', () => {
  const { shownBy: _, ...plain } = readings;
  expect(imported(TWO_ROWS, 'replace', plain)).toEqual([
    ['r8', undefined, '-62', '600'],
    ['r9', undefined, '-51', '540'],
  ]);
});

test('notes come along, and those of rows that stay keep their rows', () => {
  const table = readings;
  const document = documentWith(table);
  const reading = readCsv('pressure,flow,$note\n-62,600,door ajar\n', table);
  const applied = applyEdit(document, importEdit(document, table, reading, 'replace'));
  if ('problem' in applied) throw new Error(applied.problem);
  const rows = findTable(applied.document, table.id)?.rows ?? [];
  expect(rows.map(({ id, note }) => [id, note])).toEqual([
    ['r2', 'gusty'],
    ['r4', undefined],
    ['r8', 'door ajar'],
  ]);
});

test('one import is one action, named by what was done', () => {
  const edit = importEdit(documentWith(readings), readings, readCsv(TWO_ROWS, readings), 'replace');
  expect(edit).toMatchObject({ kind: 'batch', label: 'import 2 rows' });
});

test('nothing read changes nothing, rather than emptying the table', () => {
  expect(imported('pressure,flow\n', 'append')).toHaveLength(4);
  expect(imported('pressure,flow\n', 'replace')).toHaveLength(4);
  const { shownBy: _, ...plain } = readings;
  expect(imported('pressure,flow\n', 'replace', plain)).toHaveLength(4);
});

test('more rows than a table may hold are refused, and nothing has changed', () => {
  const document = documentWith(readings);
  const rows = Array.from({ length: 50_001 }, () => ({ entries: { 'c-pressure': '1' } }));
  expect(applyEdit(document, importEdit(document, readings, { rows }, 'append'))).toHaveProperty('problem');
});

test('which value the table is shown by', () => {
  expect(shownValue(documentWith(readings), readings)).toBe('first');
  const { shownBy: _, ...plain } = readings;
  expect(shownValue(documentWith(plain), plain)).toBeUndefined();
  const lost: Table = { ...readings, shownBy: { column: 'test', cell: 'gone' } };
  expect(shownValue(documentWith(lost), lost)).toBeUndefined();
});

describe('what goes with the rows that a file takes the place of', () => {
  const photo = { id: 'p1', data: '', width: 1, height: 1 } as unknown as NonNullable<Row['photos']>[number];
  const full: Table = {
    ...readings,
    rows: [
      { id: 'r1', entries: { 'c-test': 'first', 'c-pressure': '-60', 'c-flow': '900' }, note: 'gusty' },
      { id: 'r2', entries: { 'c-test': 'first', 'c-pressure': '-50', 'c-induced': '-51' }, photos: [photo] },
      { id: 'r3', entries: { 'c-test': 'second', 'c-pressure': '-40' }, note: 'of another test' },
    ],
  };
  const unsaid = (csv: string) => {
    const { columns, ...rest } = unsaidBy(documentWith(full), full, readCsv(csv, full));
    return { ...rest, columns: columns.map(({ name }) => name) };
  };

  test('columns that the file does not have or that are left out, notes and photos, of the rows shown', () => {
    expect(unsaid('pressure\n-61\n')).toEqual({ columns: ['flow', 'induced'], notes: 1, photos: 1 });
    expect(unsaid('pressure,flow (Pa)\n-61,5\n').columns).toEqual(['flow', 'induced']);
  });

  test('nothing of what the file says, or of what was blank', () => {
    const all = unsaid('pressure,flow,induced [typed],$note\n-61,5,,\n');
    expect(all).toEqual({ columns: [], notes: 0, photos: 1 });
    expect(unsaid('test,pressure\nsecond,-61\n')).toEqual({ columns: [], notes: 1, photos: 0 });
    expect(unsaid('pressure\n')).toEqual({ columns: [], notes: 0, photos: 0 });
  });
});

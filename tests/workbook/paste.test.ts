import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Column, Row, Table, WorkbookDocument } from '../../src/workbook/document.ts';
import { applyEdit } from '../../src/workbook/edit.ts';
import { pasteInto, readPaste, type PasteTarget } from '../../src/workbook/paste.ts';

const column = (name: string, more: Partial<Column> = {}): Column => ({
  id: `c-${name}`,
  name,
  label: '',
  type: 'number',
  unit: '',
  note: '',
  ...more,
});
const row = (id: string, entries: Record<string, string> = {}): Row => ({ id, entries });
const table: Table = {
  kind: 'table',
  id: 'boards',
  name: 'boards',
  label: '',
  note: '',
  columns: [
    column('mark', { type: 'text' }),
    column('width', { label: 'Width', unit: 'm' }),
    column('length', { label: 'Length', unit: 'm' }),
    column('area', { formula: 'width * length', unit: 'm2' }),
  ],
  rows: [row('r1', { 'c-mark': 'A', 'c-width': '1' }), row('r2'), row('r3', { 'c-mark': 'C' })],
};
const target: PasteTarget = { table, rows: table.rows, columns: table.columns, row: 1, column: 1 };

describe('reading what was copied', () => {
  test.each<[string, string[][]]>([
    [
      '1\t2\n3\t4\n',
      [
        ['1', '2'],
        ['3', '4'],
      ],
    ],
    [
      '1\t2\r\n3\t4',
      [
        ['1', '2'],
        ['3', '4'],
      ],
    ],
    ['1\n\n', [['1'], ['']]],
    ['\n', [['']]],
    ['', [['']]],
    ['\t', [['', '']]],
    ['"two\nlines"\t"a\tb"\t"say ""so"""\n', [['two\nlines', 'a\tb', 'say "so"']]],
    ['""\t""""', [['', '"']]],
    ['3"\t12\' 4 1/2"', [['3"', '12\' 4 1/2"']]],
    ['"open\t1\n2', [['"open', '1'], ['2']]],
    ['"a"b\t1', [['"a"b', '1']]],
    ['"a\t1\nb"\t2', [['a\t1\nb', '2']]],
  ])('%j', (text, grid) => {
    expect(readPaste(text)).toEqual(grid);
  });

  test('what a spreadsheet would copy comes back field by field', () => {
    const field = fc.string({ unit: fc.constantFrom('a', '"', '\t', '\n', ' ', '1'), maxLength: 5 });
    const grids = fc.array(fc.array(field, { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 4 });
    const copied = (text: string) => (/["\t\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
    fc.assert(
      fc.property(grids, (grid) => {
        expect(readPaste(grid.map((fields) => `${fields.map(copied).join('\t')}\r\n`).join(''))).toEqual(
          grid,
        );
      }),
      { numRuns: 1000 },
    );
  });

  test('any text is read without anything thrown or lost past its separators', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom('a', '"', '\t', '\n', '\r'), maxLength: 20 }), (text) => {
        const letters = (from: string) => from.split('a').length - 1;
        expect(letters(readPaste(text).flat().join(''))).toBe(letters(text));
      }),
      { numRuns: 2000 },
    );
  });
});

describe('a block without headings', () => {
  test('goes to its place, clears where it is blank, and adds rows behind the last', () => {
    const pasted = pasteInto(target, [
      ['2', '3'],
      ['', '5 ft'],
      ['7', ''],
    ]);
    expect(pasted.entries).toEqual([
      { row: 'r2', column: 'c-width', text: '2' },
      { row: 'r2', column: 'c-length', text: '3' },
      { row: 'r3', column: 'c-width' },
      { row: 'r3', column: 'c-length', text: '5 ft' },
    ]);
    expect(pasted.added).toEqual([row('r4', { 'c-width': '7' })]);
    expect([pasted.overrides, pasted.problems, pasted.headings]).toEqual([[], [], undefined]);
  });

  test('can be applied as one step', () => {
    const document: WorkbookDocument = {
      title: '',
      units: 'si',
      sheets: [
        { id: 's', title: '', note: '', sections: [{ id: 'p', title: '', note: '', items: [table] }] },
      ],
    };
    const { entries, added } = pasteInto(target, [
      ['2', '3'],
      ['', '5 ft'],
      ['7', ''],
    ]);
    const applied = applyEdit(document, {
      kind: 'batch',
      label: 'paste',
      edits: [
        { kind: 'set-entries', table: 'boards', entries },
        { kind: 'insert-rows', table: 'boards', at: table.rows.length, rows: added },
      ],
    });
    if ('problem' in applied) throw new Error(applied.problem);
    const back = applyEdit(applied.document, applied.inverse);
    expect(back).toHaveProperty('document', document);
  });

  test('tells words that are no choice of a list in another table', () => {
    const rooms = { ...table, columns: table.columns.map((each) => ({ ...each })) };
    const [mark] = rooms.columns;
    if (!mark) throw new Error('no such column');
    const choice: Column = { ...mark, type: 'choice', choices: 'rooms.room' };
    const chosen = {
      ...target,
      table: { ...rooms, columns: [choice] },
      columns: [choice],
      row: 0,
      column: 0,
    };
    const pasted = pasteInto({ ...chosen, allowed: () => ['kitchen', 'bath'] }, [['Bath'], ['porch']]);
    expect(pasted.entries.map(({ text }) => text)).toEqual(['bath', 'porch']);
    expect(pasted.problems).toEqual([
      {
        line: 2,
        column: mark.name,
        found: '“porch”',
        expected: 'one of kitchen, bath',
        suggestion: 'Choose one of them.',
      },
    ]);
  });

  test('keeps entries over a formula apart, to be asked about', () => {
    const pasted = pasteInto({ ...target, column: 2 }, [
      ['3', '9'],
      ['4', ''],
      ['5', '11'],
    ]);
    expect(pasted.overrides).toEqual([
      { row: 'r2', column: 'c-area', text: '9' },
      { row: 'r3', column: 'c-area' },
      { row: 'r4', column: 'c-area', text: '11' },
    ]);
    expect(pasted.entries.every((entry) => entry.column === 'c-length')).toBe(true);
    expect(pasted.added).toEqual([row('r4', { 'c-length': '5' })]);
  });

  test('adds no row for calculated columns alone, and says why', () => {
    const over = { ...target, column: 3 };
    const both = pasteInto({ ...over, row: 2 }, [['9'], ['10']]);
    expect(both.overrides).toEqual([{ row: 'r3', column: 'c-area', text: '9' }]);
    const none = pasteInto({ ...over, row: 3 }, [['9'], ['10']]);
    expect(none.overrides).toEqual([]);
    for (const [{ added, problems }, line] of [
      [both, 2],
      [none, 1],
    ] as const) {
      expect(added).toEqual([]);
      const suggestion = 'These columns are calculated: no row is added.';
      expect(problems).toEqual([expect.objectContaining({ line, suggestion })]);
    }
    // Named by a heading, or past the last column.
    expect(pasteInto({ ...over, row: 3 }, [['area'], ['9']]).added).toEqual([]);
    expect(pasteInto({ ...over, row: 3, column: 4 }, [['9'], ['10']]).added).toEqual([]);
  });

  test('goes to the rows and columns that are shown', () => {
    const [mark, , , area] = table.columns;
    const [first, , third] = table.rows;
    if (!mark || !area || !first || !third) throw new Error('no such place');
    const shown = {
      ...target,
      rows: [third, first],
      columns: [area, mark],
      row: 0,
      column: 1,
      preset: { 'c-length': '2' },
    };
    const pasted = pasteInto(shown, [['x'], ['y'], ['z']]);
    expect(pasted.entries).toEqual([
      { row: 'r3', column: 'c-mark', text: 'x' },
      { row: 'r1', column: 'c-mark', text: 'y' },
    ]);
    expect(pasted.added).toEqual([row('r4', { 'c-length': '2', 'c-mark': 'z' })]);
  });

  test('says what has no column to go to, and what is no number', () => {
    const pasted = pasteInto({ ...target, column: 2, columns: table.columns.slice(0, 3) }, [
      ['3', ''],
      ['wide', '9'],
    ]);
    expect(pasted.problems).toEqual([
      {
        line: 2,
        column: '',
        found: '“9” without a column to go to',
        expected: 'as many columns as the table has from here, or headings that name them',
        suggestion: 'It was left out, and whatever stands below it.',
      },
      {
        line: 2,
        column: 'length',
        found: "'wide' is not a number",
        expected: 'a value in m',
        suggestion: 'type for instance 20 m',
      },
    ]);
    expect(pasted.entries.at(-1)).toEqual({ row: 'r3', column: 'c-length', text: 'wide' });
  });

  test('stops at the most rows a table can have', () => {
    const rows = Array.from({ length: 49_999 }, (_, index) => row(`r${String(index)}`));
    const full = { ...target, table: { ...table, rows }, rows, row: 49_998 };
    const pasted = pasteInto(full, [['1'], ['2'], ['3'], ['4']]);
    expect(pasted.added).toHaveLength(1);
    expect(pasted.problems).toMatchObject([{ line: 3, found: '2 rows too many' }]);
  });
});

describe('a block with headings', () => {
  test('goes to the columns they name, with their units', () => {
    const pasted = pasteInto(target, [
      ['Length (ft)', 'Mark', 'Width, m', '± Width'],
      ['8', 'B', '1.2', '0.01'],
      ['7 m', '', '3', ''],
    ]);
    expect(pasted.headings?.map(({ column: to, unit }) => [to?.name, unit])).toEqual([
      ['length', 'ft'],
      ['mark', undefined],
      ['width', undefined],
      ['width', undefined],
    ]);
    expect(pasted.entries).toEqual([
      { row: 'r2', column: 'c-length', text: '8 ft' },
      { row: 'r2', column: 'c-mark', text: 'B' },
      { row: 'r2', column: 'c-width', text: '1.2 ± 0.01' },
      { row: 'r3', column: 'c-length', text: '7 m' },
      { row: 'r3', column: 'c-mark' },
      { row: 'r3', column: 'c-width', text: '3' },
    ]);
    expect(pasted.problems).toEqual([]);
  });

  test('says which columns were left out', () => {
    const pasted = pasteInto(target, [
      ['Width', 'Colour', 'Area'],
      ['1', 'red', ''],
    ]);
    expect(pasted.problems).toMatchObject([
      { line: 2, column: 'Colour', found: '“red” without a column to go to' },
    ]);
    expect(pasted.entries).toEqual([{ row: 'r2', column: 'c-width', text: '1' }]);
  });

  test('a unit of another kind in a heading leaves the column out and does not turn headings into values', () => {
    const pasted = pasteInto(target, [['Width (Pa)'], ['3']]);
    expect(pasted.entries).toEqual([]);
    expect(pasted.problems[0]).toMatchObject({ line: 1, column: 'width' });
  });

  test('a title and a shared heading above them, and their units below, are no rows', () => {
    const pasted = pasteInto(target, [
      ['Boards, from the yard', '', ''],
      ['', 'Size', ''],
      ['Mark', 'Width', 'Length'],
      ['', '(in)', 'ft'],
      ['B', '1,200.5', '8'],
      ['C', 'n/a', '9'],
    ]);
    expect(pasted.head).toBe(4);
    expect(pasted.entries.slice(0, 3)).toEqual([
      { row: 'r2', column: 'c-mark', text: 'B' },
      { row: 'r2', column: 'c-width', text: '1,200.5 in' },
      { row: 'r2', column: 'c-length', text: '8 ft' },
    ]);
    expect(pasted.problems.map(({ line, found }) => [line, found])).toEqual([
      [1, '“Boards, from the yard” above the headings'],
      [2, '“Size” above the headings'],
      [6, "'n/a' is no value"],
    ]);
  });

  test('a shared heading that is a column’s own does not hide those below it', () => {
    const pasted = pasteInto(target, [
      ['Width', ''],
      ['Mark', 'Length'],
      ['B', '8'],
    ]);
    expect(pasted.headings?.map(({ column: to }) => to?.name)).toEqual(['mark', 'length']);
  });

  test.each([
    ['words', ['red', 'wide']],
    ['a number', ['in', '3']],
    ['a unit under words', ['in', 'm']],
  ])('a row of %s below them holds values', (_, below) => {
    expect(pasteInto(target, [['Mark', 'Width'], below, ['C', '1']]).head).toBe(1);
  });

  test.each([
    [
      'a number above them',
      [
        ['2', 'x'],
        ['Width', 'Length'],
        ['1', '2'],
      ],
    ],
    [
      'a number among them',
      [
        ['Width', '3'],
        ['1', '2'],
      ],
    ],
    ['nothing below them', [['Width']]],
    [
      'few of them known',
      [
        ['Mark', 'x', 'y'],
        ['a', 'b', 'c'],
      ],
    ],
  ])('is one without them when there is %s', (_, grid) => {
    expect(pasteInto({ ...target, column: 0 }, grid).headings).toBeUndefined();
  });
});

/** Widths that are kept from one edit to the next are those that would be found anew. */
import { expect, test } from 'vitest';
import { FunctionLibrary } from '../../../src/engine/index.ts';
import { Session } from '../../../src/face/session.svelte.ts';
import { ColumnWidths, DIGIT, wordWidth } from '../../../src/face/worksheet/widths.ts';
import { Workbook, type Edit, type Table, type WorkbookDocument } from '../../../src/workbook/index.ts';

const DOCUMENT: WorkbookDocument = {
  title: 'Boards',
  units: 'us',
  sheets: [
    {
      id: 's',
      title: 'Boards',
      sections: [
        {
          id: 'c',
          title: '',
          items: [
            { kind: 'cell', id: 'g', name: 'g', label: 'Factor', type: 'number', unit: '', text: '2' },
            {
              kind: 'table',
              id: 't',
              name: 'boards',
              label: 'Boards',
              columns: [
                { id: 'mark', name: 'mark', label: 'Mark', type: 'text', unit: '' },
                { id: 'width', name: 'width', label: 'Width', type: 'number', unit: 'ft' },
                {
                  id: 'area',
                  name: 'area',
                  label: 'Area',
                  type: 'number',
                  unit: 'ft2',
                  formula: 'width ^ 2 * g',
                },
              ],
              rows: Array.from({ length: 60 }, (_, k) => ({
                id: `r${k}`,
                entries: { mark: `B${k}`, width: String(1 + (k % 5)) },
              })),
            },
          ],
        },
      ],
    },
  ],
} as unknown as WorkbookDocument;

test('widths follow entries, formulas, rows, words and units', () => {
  const session = new Session(new Workbook(DOCUMENT, new FunctionLibrary([])));
  const kept = new ColumnWidths();
  const seen = new Set<string>();
  const check = (): void => {
    const table = session.outline.byName.get('boards')?.item as Table;
    const rows = table.rows.map((_, row) => row);
    const units = table.columns.map(({ unit }) => unit);
    const widths = kept.of(session, table, table.columns, rows, units);
    expect(widths).toEqual(new ColumnWidths().of(session, table, table.columns, rows, units));
    seen.add(JSON.stringify(widths));
  };
  const edits: Edit[] = [
    { kind: 'set-entries', table: 't', entries: [{ row: 'r3', column: 'width', text: '123\' 4 5/16"' }] },
    {
      kind: 'set-entries',
      table: 't',
      entries: [{ row: 'r1', column: 'mark', text: 'A mark of many letters' }],
    },
    { kind: 'set-cell', cell: 'g', patch: { text: '2e9' } },
    { kind: 'set-cell', cell: 'g', patch: { text: '= 1 / 0' } },
    { kind: 'set-column', table: 't', column: 'width', patch: { label: 'Widthofeveryboard' } },
  ];
  check();
  for (const edit of edits) {
    expect(session.apply(edit)).toBeUndefined();
    check();
  }
  session.system = 'si';
  check();
  for (let k = 0; k < edits.length; k++) {
    session.undo();
    check();
  }
  expect(seen.size).toBeGreaterThan(4);
});

test('in a long table, which breaks no text into lines, names far down have room as well', () => {
  const rows = Array.from({ length: 3000 }, (_, k) => ({ id: `r${k}`, entries: { mark: `Room ${k}` } }));
  const mark = { id: 'mark', name: 'mark', label: 'Mark', type: 'text', unit: '', note: '' } as const;
  const table: Table = {
    kind: 'table',
    id: 't',
    name: 'boards',
    label: '',
    columns: [mark],
    rows,
    note: '',
  };
  const sections = [{ id: 'c', title: '', note: '', items: [table] }];
  const sheets = [{ id: 's', title: 'Boards', note: '', sections }];
  const session = new Session(new Workbook({ title: 'Long', units: 'us', sheets }, new FunctionLibrary([])));
  const of = (count: number) =>
    new ColumnWidths().of(
      session,
      table,
      [mark],
      rows.slice(0, count).map((_, at) => at),
      [''],
    )[0] ?? 0;
  // A digit takes 0.56 em, the letters of “Room ” 2.7 em as drawn.
  expect(of(3000)).toBeGreaterThan(2.7 + 4 * 0.56);
  expect(of(10)).toBeLessThan(of(3000));
});

test('a day has room in one line: its digits are wider than letters', () => {
  expect(wordWidth('2026-03-02')).toBeGreaterThan(10 * DIGIT);
});

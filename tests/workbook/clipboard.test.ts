import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Column, Table } from '../../src/workbook/document.ts';
import { pasteInto, readPaste } from '../../src/workbook/paste.ts';

/**
 * What desktop and browser spreadsheets put on the clipboard as `text/plain`: tabs between cells, CR LF or LF behind
 * each row and behind the last, quotes round a cell with a tab, a line end or a quote in it.
 */
const copied = (name: string) => readFileSync(new URL(`clipboard/${name}.tsv`, import.meta.url), 'utf8');

const column = (name: string, more: Partial<Column> = {}): Column => ({
  id: name,
  name,
  label: '',
  type: 'number',
  unit: '',
  note: '',
  ...more,
});
const boards: Table = {
  kind: 'table',
  id: 'boards',
  name: 'boards',
  label: 'Boards',
  note: '',
  columns: [
    column('mark', { type: 'text', label: 'Mark' }),
    column('width', { label: 'Width', unit: 'in' }),
    column('length', { label: 'Length', unit: 'ft' }),
  ],
  rows: [],
};

function pasted(name: string, how: { readonly decimalComma?: boolean } = {}) {
  const target = { table: boards, rows: boards.rows, columns: boards.columns, row: 0, column: 0, ...how };
  const { added, problems, commasFit } = pasteInto(target, readPaste(copied(name)));
  return { rows: added.map(({ entries }) => entries), problems, commasFit };
}

describe('blocks copied from spreadsheets', () => {
  test('CR LF, quoted quotes, a line end inside a cell, headings with units', () => {
    expect(pasted('crlf-quoted')).toEqual({
      rows: [
        { mark: 'A1', width: '3.5', length: '8' },
        { mark: 'B "long"', width: '5.5', length: '10' },
        { mark: 'two\nlines', width: '7.25', length: '12' },
      ],
      problems: [],
      commasFit: false,
    });
  });

  test('a tab inside quotes is text', () => {
    expect(pasted('lf-tabs-in-quotes').rows).toEqual([
      { mark: 'left\tright', width: '3.5', length: '8' },
      { mark: 'plain', width: '5.5', length: '10' },
    ]);
  });

  test('decimal commas are read where the person or the browser says so, and told of where not', () => {
    expect(pasted('decimal-commas', { decimalComma: true })).toEqual({
      rows: [
        { mark: 'A1', width: '3.5', length: '2.44' },
        { mark: 'A2', width: '5.5', length: '3.05' },
        { mark: 'A3', width: '1005.5', length: '3' },
      ],
      problems: [],
      commasFit: true,
    });
    const { rows, problems, commasFit } = pasted('decimal-commas');
    expect(rows[0]).toEqual({ mark: 'A1', width: '3,5', length: '2,44' });
    expect(problems).not.toEqual([]);
    expect(commasFit).toBe(true);
  });

  test('commas between thousands stay what they are, whatever was said of decimal commas', () => {
    const rows = [
      { mark: 'A1', width: '1,200', length: '2,440.5' },
      { mark: 'A2', width: '900', length: '3,050' },
    ];
    expect(pasted('thousands')).toEqual({ rows, problems: [], commasFit: false });
    expect(pasted('thousands', { decimalComma: true })).toEqual({ rows, problems: [], commasFit: false });
  });

  test('inch marks are no quotes', () => {
    expect(pasted('inch-marks')).toMatchObject({
      rows: [
        { mark: 'A1', width: '3 1/2"', length: '8\' 0"' },
        { mark: 'A2', width: '5 1/2"', length: '10\' 4 1/2"' },
      ],
      problems: [],
    });
  });

  test('units in headings go with their values', () => {
    expect(pasted('units-in-headings')).toMatchObject({
      rows: [
        { mark: 'A1', width: '89 mm', length: '8' },
        { mark: 'A2', width: '140 mm', length: '10' },
      ],
      problems: [],
    });
  });

  test('blank cells stay blank, and a blank row keeps its place', () => {
    expect(pasted('blank-cells-and-rows').rows).toEqual([
      { mark: 'A1', width: '3.5' },
      {},
      { mark: 'A3', length: '12' },
    ]);
  });
});

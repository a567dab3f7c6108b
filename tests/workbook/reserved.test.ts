import { describe, expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import type { Cell, Item, Table, WorkbookDocument } from '../../src/workbook/document.ts';
import { findItem } from '../../src/workbook/locate.ts';
import { Workbook } from '../../src/workbook/workbook.ts';
import { cell, column, items, rooms } from './small-house.ts';

function documentOf(all: readonly Item[]): WorkbookDocument {
  const sections = [{ id: 'section', title: '', note: '', items: all }];
  return { title: '', units: 'us', sheets: [{ id: 'sheet', title: '', note: '', sections }] };
}

describe('names that a file brings and that are taken by the language', () => {
  const table: Table = { ...rooms, columns: [...rooms.columns, column('h')] };
  const opened = () =>
    new Workbook(
      documentOf([table, cell('and', '2'), cell('both', '1 > 0 and 2 > 1 ? 3 * and : 0'), cell('sum', '4')]),
      new FunctionLibrary([]),
    );

  test('are told, each with why and what to do', () => {
    expect(opened().reservedNames()).toEqual([
      {
        where: 'column rooms.h',
        message: '“h” is a unit (h), and formulas may read it as that. Rename it, h_value say.',
      },
      {
        where: 'cell and',
        message:
          '“and” is a word of the formula language, and formulas may read it as that. Rename it, and_value say.',
      },
      {
        where: 'cell sum',
        message: '“sum” is a function, and formulas may read it as that. Rename it, sum_value say.',
      },
    ]);
    expect(new Workbook(documentOf(items), new FunctionLibrary([])).reservedNames()).toEqual([]);
  });

  test('may be renamed, and no word of a formula goes with them', () => {
    const book = opened();
    book.apply({ kind: 'rename', what: 'cell', id: 'id-and', name: 'second_one' });
    expect((findItem(book.document, 'id-both') as Cell).text).toBe('1 > 0 and 2 > 1 ? 3 * and : 0');
    expect(book.reservedNames().map(({ where }) => where)).toEqual(['column rooms.h', 'cell sum']);
  });
});

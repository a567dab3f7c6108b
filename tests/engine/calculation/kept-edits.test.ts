/** Rule R1: edits that once left an engine another than one built fresh, found by chance and cut down by hand. */
import { describe, expect, test } from 'vitest';
import { Engine, type CellDefinition, type ColumnDefinition } from '../../../src/engine/index.ts';
import { follow } from './follow.ts';
import { LIBRARY, type Edit } from './random-workbook.ts';

const cell = (name: string, text: string, unit?: string, type: CellDefinition['type'] = 'number'): Edit => ({
  do: 'cell',
  cell: { name, type, text, ...(unit === undefined ? {} : { unit }) },
});
const typed = (name: string, ...entries: string[]): ColumnDefinition => ({ name, type: 'number', entries });
const computed = (name: string, formula: string, ...entries: (string | undefined)[]): ColumnDefinition => ({
  name,
  type: 'number',
  formula,
  entries,
});
const table = (name: string, rows: number, ...columns: ColumnDefinition[]): Edit => ({
  do: 'table',
  table: name,
  rows,
  columns,
});

describe('R1: kept edits', () => {
  test('a message that lists columns follows their order, and their going', () => {
    follow([
      [cell('r1', 'rooms.s'), table('rooms', 0, typed('h'), typed('b'))],
      [{ do: 'column', table: 'rooms', column: typed('h'), at: 5 }],
      [{ do: 'remove column', table: 'rooms', name: 'b' }],
    ]);
  });

  test('a suggestion follows the cells that there are', () => {
    follow([[cell('n1', 'n22 + 1')], [cell('n2', '4')], [{ do: 'remove cell', name: 'n2' }]]);
  });

  test('a suggestion follows the tables that there are, also those without a column', () => {
    follow([
      [cell('n1', 'wals + 1'), table('walls', 0)],
      [{ do: 'remove table', table: 'walls' }],
      [table('walls', 0)],
    ]);
  });

  test('a table that only a shared aggregate names comes and goes: the formula that reads it is read afresh', () => {
    const mean = 'mean(where(n2.flow, n2.test == walls))';
    follow([[cell('n2', mean), table('walls', 0)], [{ do: 'remove table', table: 'walls' }]]);
    follow([
      [cell('n1', mean)],
      [cell('n2', '')],
      [table('walls', 0)],
      [{ do: 'remove table', table: 'walls' }],
      [{ do: 'remove cell', name: 'n2' }],
    ]);
    follow([
      [cell('n1', 'sum(rooms.h * walls)'), table('rooms', 2, typed('h', '1', '2')), cell('walls', '3')],
      [{ do: 'remove cell', name: 'walls' }],
      [table('walls', 1, typed('w', '1'))],
      [{ do: 'remove table', table: 'walls' }],
      [cell('walls', '4')],
    ]);
  });

  test('a column read in its row and as a whole: an entry in one row reaches the others', () => {
    const twice = computed('s', 'count(where(rooms.h, rooms.h == h))');
    follow([
      [table('rooms', 3, typed('h', '1', '2', '3'), twice)],
      [{ do: 'entry', table: 'rooms', name: 'h', row: 1, text: '1' }],
    ]);
  });

  test('a record of two rows is typed over, and its formula changes', () => {
    follow([
      [
        table('walls', 0, typed('w'), typed('h')),
        table('rooms', 1, computed('s', 'spread(where(1, is_blank(walls.h)))', undefined)),
      ],
      [{ do: 'column', table: 'rooms', column: computed('s', 'spread(walls.w)', '2'), at: 5 }],
    ]);
  });

  test('who types over a row is told, and so are its readers', () => {
    const text: ColumnDefinition = { name: 'm', type: 'text', formula: '2', entries: [] };
    follow([
      [table('rooms', 2, text, computed('b', 'm * 2')), cell('n1', 'sum(rooms.m)')],
      [{ do: 'entry', table: 'rooms', name: 'm', row: 1, text: '5' }],
      [{ do: 'entry', table: 'rooms', name: 'm', row: 1, text: 'a  b' }],
      [{ do: 'entry', table: 'rooms', name: 'm', row: 1, text: undefined }],
    ]);
  });

  test('a cell typed and then made a formula at one go is told', () => {
    follow([
      [cell('l3', '12 ± 0.5', 'ft')],
      [cell('l1', '12 ± 0.5', 'ft'), cell('l1', 'l3')],
      [cell('q1', 'l1'), cell('l2', 'r2.least')],
      [cell('l2', '3 m'), cell('l2', 'l1')],
    ]);
  });

  test('a cell that came and went at one go is unknown to its readers', () => {
    follow([
      [cell('l3', '12 ± 0.5'), cell('l1', 'l3')],
      [cell('l3', 't1'), { do: 'remove cell', name: 'l3' }],
    ]);
    follow([
      [cell('l3', 'l1'), cell('l1', '-4')],
      [cell('l1', '', 'ftt'), cell('l1', 'l1')],
    ]);
  });

  test('a formula over a column tells what is wrong with the column as it is now', () => {
    follow([
      [
        table('walls', 0, computed('p', '1')),
        table('rooms', 1, computed('n4', 'count(where((walls.p ? walls.h : walls.h), 1))')),
      ],
      [table('walls', 0)],
    ]);
    follow([
      [cell('r2', 'n2'), table('walls', 1, computed('b', 'count(walls.p)'), computed('p', 'r2.ratio != 1'))],
      [cell('n2', '1')],
    ]);
    follow([
      [table('walls', 2), cell('t1', '= sum(where(1 * 1, walls.a))', undefined, 'text')],
      [{ do: 'remove table', table: 'walls' }, table('walls', 0, typed('a'))],
      [table('walls', 5)],
    ]);
  });

  test('a column that turns from typed to computed is told though its numbers stay', () => {
    follow([
      [cell('n2', '0'), table('rooms', 1, typed('a', '0'))],
      [table('rooms', 1, computed('a', 'n2', undefined))],
    ]);
  });

  test('rows that go are counted no more, also where all others are blank', () => {
    follow([
      [cell('n1', 'count((walls.n4) * 1)'), table('walls', 6, typed('n4', '', '', '', '0', '10', '2'))],
      [{ do: 'rows', table: 'walls', rows: 3 }],
    ]);
  });

  test('a reason belongs to the field that is blank', () => {
    follow([
      [
        table('walls', 0, typed('h')),
        cell('r2', 'spread(walls.w)'),
        table('rooms', 1, computed('w', 'max(walls.h)'), computed('s', 'r2')),
      ],
      [table('walls', 1, typed('h', '12 ± 0.5'), computed('w', 'h'))],
    ]);
  });

  test('a column that comes takes its name over in the formulas of its table, and gives it back', () => {
    for (const text of ['a * rate', 'rate', 'a > 1 ? rate : 0'])
      follow([
        [cell('rate', '5'), table('walls', 2, typed('a', '1', '2'), computed('b', text))],
        [{ do: 'column', table: 'walls', column: typed('rate', '7', '8'), at: 1 }],
        [{ do: 'remove column', table: 'walls', name: 'rate' }],
      ]);
  });

  test('also where it is spelled with other signs', () => {
    const [composed, apart] = ['ma\u00df_gr\u00f6\u00dfe', 'ma\u00df_gro\u0308\u00dfe'];
    follow([
      [cell(composed, '5'), table('walls', 1, typed('a', '1'), computed('b', `a * ${apart}`))],
      [{ do: 'column', table: 'walls', column: typed(composed, '7'), at: 1 }],
    ]);
  });

  test('a ± that holds for every row of a column changes, and nothing else does', () => {
    const measured = (each: string): ColumnDefinition => ({ ...typed('a', '10', '20'), each });
    const readers = [cell('n1', 'mean(walls.a)'), cell('n2', 'uncertainty(mean(walls.a))')];
    follow([
      [table('walls', 2, measured('0.5'), computed('b', 'a * 2')), ...readers],
      [table('walls', 2, measured('1.5'), computed('b', 'a * 2'))],
    ]);
  });

  test('a row typed over a formula is calculated again when the table is defined without it', () => {
    follow([
      [table('walls', 2, typed('a', '1', '2'), computed('b', 'a * 2', undefined, '9'))],
      [table('walls', 2, typed('a', '1', '2'), computed('b', 'a * 2'))],
    ]);
  });

  test('reading twice reads the same', () => {
    const engine = new Engine(LIBRARY);
    engine.defineTable({
      name: 'walls',
      rows: 1,
      columns: [typed('a', '1'), { name: 'm', type: 'text', entries: ['a  b'] }],
    });
    engine.defineCell({ name: 'l3', type: 'number', text: '12 ± 0.5', unit: 'ft' });
    engine.defineCell({
      name: 'n1',
      type: 'number',
      text: 'round((is_blank(2.5) ? 1 ft / l3 : lookup(walls.a, walls.m, "a b")))',
    });
    engine.recalculate();
    const first = engine.read('n1');
    expect(first).toMatchObject({ state: 'fault', span: { start: 35, end: 66 } });
    expect(engine.read('n1')).toEqual(first);
  });
});

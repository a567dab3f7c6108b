import { beforeEach, describe, expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import type { Cell, Item, Table, WorkbookDocument } from '../../src/workbook/document.ts';
import type { Edit } from '../../src/workbook/edit.ts';
import { findItem, findTable } from '../../src/workbook/locate.ts';
import { Workbook, type ChangeSet } from '../../src/workbook/workbook.ts';
import { cell, column, items, rooms } from './small-house.ts';

function documentOf(all: readonly Item[]): WorkbookDocument {
  return {
    title: 'Test',
    units: 'us',
    sheets: [
      {
        id: 'sheet',
        title: '',
        note: '',
        sections: [{ id: 'section', title: '', note: '', items: all }],
      },
    ],
  };
}

let workbook: Workbook;
let heard: ChangeSet[];
beforeEach(() => {
  workbook = new Workbook(documentOf(items), new FunctionLibrary(tradeFunctions));
  heard = [];
  workbook.subscribe((changes) => heard.push(changes));
});

function apply(edit: Edit): ChangeSet {
  const done = workbook.apply(edit);
  if ('problem' in done) throw new Error(done.problem);
  return done;
}

const type = (name: string, text: string) => apply({ kind: 'set-cell', cell: `id-${name}`, patch: { text } });
const enter = (row: string, name: string, text: string) =>
  apply({ kind: 'set-entries', table: 'id-rooms', entries: [{ row, column: `c-${name}`, text }] });

/** Value in SI. */
function value(name: string): number {
  const state = workbook.state(name);
  if (state.state !== 'value' || typeof state.value !== 'number') throw new Error(JSON.stringify(state));
  return state.value;
}

const FOOT = 0.3048;

describe('edits', () => {
  test('what depends on an entry follows it, and the changes name all of it and nothing else', () => {
    expect(value('volume')).toBeCloseTo((156 + 40) * 9 * FOOT ** 3, 10);
    const changes = enter('r2', 'width', '10');
    expect(value('volume')).toBeCloseTo((156 + 50) * 9 * FOOT ** 3, 10);
    // Both footers stand under columns that changed; flow50 is blank, so air_changes stays as it was.
    expect([...changes.names].sort()).toEqual(['floor_area', 'rooms.area', 'rooms.width', 'volume']);
    expect(changes.rows.get('rooms.width')).toEqual([1, 2]);
    expect(changes.rows.get('rooms.area')).toEqual([1, 2]);
    expect(changes.structure).toBe(false);
  });

  test('each edit is heard once, as it is given back; a refused one is not heard', () => {
    const changes = type('ceiling_height', `9' 1 1/2"`);
    expect(heard).toEqual([changes]);
    const before = workbook.document;
    const refused = workbook.apply({ kind: 'set-cell', cell: 'id-nothing', patch: { text: '1' } });
    expect(refused).toHaveProperty('problem');
    expect(heard).toHaveLength(1);
    expect(workbook.document).toBe(before);
    expect(workbook.revision).toBe(1);
  });

  test('a batch is one step and one change', () => {
    apply({
      kind: 'batch',
      label: 'two sizes',
      edits: [
        { kind: 'set-cell', cell: 'id-ceiling_height', patch: { text: '8' } },
        { kind: 'set-cell', cell: 'id-flow50', patch: { text: '500' } },
      ],
    });
    expect(heard).toHaveLength(1);
    expect(workbook.undoLabel).toBe('two sizes');
    expect(value('air_changes')).toBeCloseTo((500 * 60) / ((196 * 8) / 1) / 3600, 12);
    workbook.undo();
    expect(workbook.state('air_changes').state).toBe('blank');
    expect(workbook.canUndo).toBe(false);
  });

  test('a listener that has left hears nothing more', () => {
    let count = 0;
    const leave = workbook.subscribe(() => count++);
    type('ceiling_height', '8');
    leave();
    type('ceiling_height', '9');
    expect(count).toBe(1);
  });
});

describe('undo and redo', () => {
  test('one step an action, with its words; a new edit ends what could be redone', () => {
    type('flow50', '500');
    enter('r1', 'length', '14');
    expect([workbook.canUndo, workbook.canRedo, workbook.undoLabel]).toEqual([
      true,
      false,
      'type in a table',
    ]);
    const area = value('floor_area');
    const undone = workbook.undo();
    expect(undone?.names).toContain('floor_area');
    expect(value('floor_area')).toBeCloseTo(196 * FOOT ** 2, 10);
    expect([workbook.redoLabel, workbook.undoLabel]).toEqual(['type in a table', 'change a cell']);
    workbook.redo();
    expect(value('floor_area')).toBe(area);
    workbook.undo();
    type('flow50', '600');
    expect(workbook.canRedo).toBe(false);
    expect(workbook.redo()).toBeUndefined();
  });

  test('nothing to go back to is no mistake', () => {
    expect(workbook.undo()).toBeUndefined();
    expect(workbook.redo()).toBeUndefined();
    expect(heard).toEqual([]);
  });

  test('a removed table comes back with its results', () => {
    apply({ kind: 'remove-item', item: 'id-rooms' });
    expect(workbook.state('floor_area').state).toBe('invalid');
    expect(workbook.state('volume')).toMatchObject({ state: 'waiting', for: 'floor_area' });
    workbook.undo();
    expect(value('volume')).toBeCloseTo(196 * 9 * FOOT ** 3, 10);
    expect(workbook.faults()).toEqual([]);
  });
});

describe('names that are taken by the language', () => {
  test.each([
    ['h', '“h” is a unit (h)'],
    ['ft', '“ft” is a unit (ft)'],
    ['cfm', '“cfm” is a unit (cfm)'],
    ['ACH', '“ACH” is a unit (1/h)'],
    ['sum', '“sum” is a function'],
    ['lookup', '“lookup” is a function'],
    ['power_law_fit', '“power_law_fit” is a function'],
    ['and', '“and” is a word of the formula language'],
    ['not', '“not” is a word of the formula language'],
    ['if', '“if” is a word of the formula language'],
    ['If', '“If” is a word of the formula language'],
    ['TRUE', '“TRUE” is a word of the formula language'],
  ])('%s, in every way a name comes in', (name, why) => {
    const table: Table = { ...rooms, id: 'id-more', name: 'more', rows: [] };
    const withColumn: Table = { ...table, columns: [column(name)] };
    const section = { id: 'part', title: '', note: '', items: [{ ...table, name }] };
    const edits: Edit[] = [
      { kind: 'rename', what: 'cell', id: 'id-volume', name },
      { kind: 'rename', what: 'table', id: 'id-rooms', name },
      { kind: 'rename', what: 'column', table: 'id-rooms', id: 'c-width', name },
      { kind: 'set-cell', cell: 'id-volume', patch: { name } },
      { kind: 'set-table', table: 'id-rooms', patch: { name } },
      { kind: 'set-column', table: 'id-rooms', column: 'c-width', patch: { name } },
      { kind: 'insert-column', table: 'id-rooms', at: 0, column: column(name) },
      { kind: 'insert-item', section: 'section', at: 0, item: cell(name, '1') },
      { kind: 'insert-item', section: 'section', at: 0, item: { ...table, name } },
      { kind: 'insert-item', section: 'section', at: 0, item: withColumn },
      { kind: 'insert-section', sheet: 'sheet', at: 0, section },
      { kind: 'insert-sheet', at: 0, sheet: { id: 'page', title: '', note: '', sections: [section] } },
    ];
    for (const edit of edits) {
      const refused = {
        problem: `${why}, so it cannot be a name.`,
        suggestion: `Type ${name}_value or another word.`,
      };
      expect(workbook.apply(edit), edit.kind).toEqual(refused);
      expect(workbook.apply({ kind: 'batch', label: 'all', edits: [edit] }), edit.kind).toEqual(refused);
    }
    expect(heard).toEqual([]);
    expect(workbook.reserved(name)).toBe(why);
  });

  test('other words are free', () => {
    for (const name of ['volume', 'q50', 'height', 'hour_rate', 'toString_1', 'constructor'])
      expect(workbook.reserved(name), name).toBeUndefined();
  });
});

test('a new column does not come before a cell that the formulas of its table read', () => {
  const rate = column('rate', '', { formula: 'area * ceiling_height' });
  apply({ kind: 'insert-column', table: 'id-rooms', at: 4, column: rate });
  const hiding = {
    kind: 'insert-column',
    table: 'id-rooms',
    at: 0,
    column: column('ceiling_height'),
  } as const;
  const refused = {
    problem:
      'The formula of rooms.rate reads the cell ceiling_height; it would read the column rooms.ceiling_height instead.',
    suggestion: 'Type ceiling_height_2.',
  };
  expect(workbook.apply(hiding)).toEqual(refused);
  expect(workbook.apply({ kind: 'batch', label: 'all', edits: [hiding] })).toEqual(refused);
  apply({ ...hiding, column: column('volume') });
});

describe('renaming', () => {
  test('a cell, a table and a column: what reads them is rewritten, and no result changes', () => {
    type('flow50', '500');
    const before = ['floor_area', 'volume', 'air_changes'].map((name) => workbook.state(name));
    apply({ kind: 'rename', what: 'table', id: 'id-rooms', name: 'spaces' });
    apply({ kind: 'rename', what: 'column', table: 'id-rooms', id: 'c-area', name: 'covered' });
    apply({ kind: 'rename', what: 'column', table: 'id-rooms', id: 'c-length', name: 'long_side' });
    apply({ kind: 'rename', what: 'cell', id: 'id-volume', name: 'house_volume' });
    const text = (id: string) => (findItem(workbook.document, id) as Cell).text;
    expect(text('id-floor_area')).toBe('sum(spaces.covered)');
    expect(text('id-air_changes')).toBe('flow50 / house_volume');
    expect(findTable(workbook.document, 'id-rooms')?.columns[3]?.formula).toBe('long_side * width');
    expect(['floor_area', 'house_volume', 'air_changes'].map((name) => workbook.state(name))).toEqual(before);
    expect(workbook.state('volume').state).toBe('invalid');
    expect(workbook.footer('spaces', 'covered').state).toBe('value');
    expect(workbook.faults()).toEqual([]);
  });

  test('it tells that words changed, and comes undone in one step', () => {
    const changes = apply({ kind: 'rename', what: 'cell', id: 'id-volume', name: 'house_volume' });
    expect(changes.structure).toBe(true);
    workbook.undo();
    expect(workbook.state('volume').state).toBe('value');
    expect((findItem(workbook.document, 'id-air_changes') as Cell).text).toBe('flow50 / volume');
  });
});

describe('footers', () => {
  test('sum, mean, min, max and count, in the unit of the column', () => {
    const footers = { sum: 21, mean: 10.5, min: 8, max: 13 } as const;
    for (const [footer, feet] of Object.entries(footers)) {
      apply({
        kind: 'set-column',
        table: 'id-rooms',
        column: 'c-width',
        patch: { footer: footer as keyof typeof footers },
      });
      const state = workbook.footer('rooms', 'width');
      expect(state.state === 'value' ? state.value : NaN, footer).toBeCloseTo(feet * FOOT, 12);
    }
    apply({ kind: 'set-column', table: 'id-rooms', column: 'c-width', patch: { footer: 'count' } });
    expect(workbook.footer('rooms', 'width')).toMatchObject({ state: 'value', value: 2 });
  });

  test('whoever shows a column hears of its footer by the name of the column', () => {
    const changes = enter('r1', 'width', '14');
    expect([...changes.names].every((name) => !name.includes('footer'))).toBe(true);
    expect(changes.names).toContain('rooms.area');
    expect(workbook.footer('rooms', 'area')).toMatchObject({ state: 'value' });
  });

  test('a footer goes with its column', () => {
    apply({ kind: 'remove-column', table: 'id-rooms', column: 'c-width' });
    expect(workbook.footer('rooms', 'width').state).toBe('invalid');
    // What multiplied by it is wrong where it stands.
    expect(workbook.faults().map(({ where }) => where)).toEqual(['rooms.area']);
  });
});

describe('faults', () => {
  test('each where it stands, in the order of the worksheet; what waits for it is not counted', () => {
    type('ceiling_height', '9 kg');
    enter('r2', 'length', 'five');
    type('flow50', 'flow + ');
    const faults = workbook.faults();
    expect(faults.map(({ where, row }) => [where, row])).toEqual([
      ['ceiling_height', undefined],
      ['rooms.length', 1],
      ['flow50', undefined],
    ]);
    expect(faults[0]).toEqual({
      where: 'ceiling_height',
      label: 'Height of the ceiling',
      message: expect.stringContaining('a mass') as string,
    });
    expect(faults[1]?.label).toContain('row 2');
    for (const name of ['floor_area', 'volume', 'air_changes'])
      expect(workbook.state(name).state, name).toBe('waiting');
    for (let n = 0; n < 3; n++) workbook.undo();
    expect(workbook.faults()).toEqual([]);
  });

  test('a formula that is wrong in every row is one fault, at its column', () => {
    apply({ kind: 'set-column', table: 'id-rooms', column: 'c-area', patch: { formula: 'length + 3 kg' } });
    expect(workbook.faults().map(({ where, row }) => [where, row])).toEqual([['rooms.area', undefined]]);
  });

  test('a mistake while typing is told at its place, and nothing is stored', () => {
    const found = workbook.check('floor_area + ceiling_height', { cell: 'id-volume' });
    expect(found?.message).toBe('these two cannot be added');
    expect(found?.span).toEqual({ start: 0, end: 27 });
    expect(workbook.check('floor_area * ceiling_height', { cell: 'id-volume' })).toBeUndefined();
    expect(workbook.check('12 kg', { table: 'id-rooms', column: 'c-length' })?.message).toContain('a mass');
    expect(workbook.check('12', { table: 'id-rooms', column: 'c-length' })).toBeUndefined();
    expect(workbook.check('width + 1 kg', { table: 'id-rooms', column: 'c-area' })).toBeDefined();
    expect(workbook.check('anything', { table: 'id-rooms', column: 'c-room' })).toBeUndefined();
    expect(workbook.check('x', { cell: 'id-nothing' })).toBeUndefined();
    expect(heard).toEqual([]);
    expect(workbook.faults()).toEqual([]);
  });
});

describe('who reads whom', () => {
  test('in both directions, columns by table and name', () => {
    expect(workbook.precedents('volume').sort()).toEqual(['ceiling_height', 'floor_area']);
    expect(workbook.precedents('rooms.area').sort()).toEqual(['rooms.length', 'rooms.width']);
    expect(workbook.dependents('rooms.area')).toEqual(['floor_area']);
    expect(workbook.dependents('volume')).toEqual(['air_changes']);
    expect(workbook.dependents('air_changes')).toEqual([]);
  });
});

describe('completion', () => {
  const offered = (prefix: string, where: Parameters<Workbook['complete']>[1]) =>
    workbook.complete(prefix, where).map(({ name }) => name);

  test('names that begin so first, those of the wanted kind before others; never the cell itself', () => {
    // A volume is wanted: of the two names that begin with f neither is one, so they stand by the alphabet,
    // and before functions.
    expect(offered('f', { cell: 'id-volume' }).slice(0, 2)).toEqual(['floor_area', 'flow50']);
    apply({ kind: 'insert-item', section: 'section', at: 0, item: cell('free_volume', '100', 'ft3') });
    expect(offered('f', { cell: 'id-volume' })[0]).toBe('free_volume');
    expect(offered('vol', { cell: 'id-volume' })).not.toContain('volume');
    expect(offered('vol', { cell: 'id-air_changes' })).toContain('volume');
    // A later word of a name is found, behind names that begin so.
    expect(offered('area', { cell: 'id-volume' })).toContain('floor_area');
  });

  test('what stands in the list says value and unit, or what a function takes', () => {
    const find = (prefix: string, name: string) =>
      workbook.complete(prefix, { cell: 'id-air_changes' }).find((one) => one.name === name);
    expect(find('floor', 'floor_area')?.detail).toBe('196 ft²');
    expect(find('ceil', 'ceiling_height')).toMatchObject({ detail: '9 ft', label: 'Height of the ceiling' });
    expect(find('lookup', 'lookup(')?.detail).toContain('lookup(');
    expect(find('power_law_f', 'power_law_fit(')?.detail).toMatch(/^power_law_fit\(/u);
    expect(find('rooms', 'rooms')?.detail).toBe('table, 2 rows');
  });

  test('behind a dot the columns of the table; in a column formula its own columns', () => {
    expect(offered('rooms.', { cell: 'id-volume' })).toEqual([
      'rooms.area',
      'rooms.length',
      'rooms.room',
      'rooms.width',
    ]);
    const own = offered('wi', { table: 'id-rooms', column: 'c-area' });
    expect(own[0]).toBe('width');
    expect(offered('ar', { table: 'id-rooms', column: 'c-area' })).not.toContain('area');
  });
});

test('a state in words, in the units of the workbook', () => {
  expect(workbook.describe('floor_area')).toBe('196 ft²');
  expect(workbook.describe('flow50')).toMatch(/^blank/u);
  apply({ kind: 'set-document', patch: { units: 'si' } });
  expect(workbook.describe('floor_area')).toBe('18.21 m²');
  type('ceiling_height', '9 ± 0.1');
  expect(workbook.describe('ceiling_height')).toBe('2.743 ± 0.030 m');
  type('ceiling_height', '9 kg');
  expect(workbook.describe('volume')).toBe('waits for ceiling_height');
});

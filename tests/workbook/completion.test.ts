import { expect, test } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import type { Place } from '../../src/workbook/completion.ts';
import type { Item } from '../../src/workbook/document.ts';
import { Workbook } from '../../src/workbook/workbook.ts';
import { cell, items } from './small-house.ts';

/** With more cells before those of the house. */
function workbookWith(more: readonly Item[]): Workbook {
  const sections = [{ id: 'section', title: '', note: '', items: [...more, ...items] }];
  return new Workbook(
    { title: 'Test', units: 'us', sheets: [{ id: 'sheet', title: '', note: '', sections }] },
    new FunctionLibrary(tradeFunctions),
  );
}

test('before a letter is typed: names that fit first, near ones before others, and no functions', () => {
  const workbook = workbookWith([cell('free_volume', '100', 'ft3')]);
  const names = (before: string, where: Place = { cell: 'id-volume' }) =>
    workbook.complete('', where, 'us', before);
  expect(names('= ')[0]).toEqual({ name: 'free_volume', label: '', detail: '100 ft³' });
  // An area and what? A height.
  expect(names('= floor_area * ')[0]?.name).toBe('ceiling_height');
  expect(names('= volume + ').map(({ name }) => name)).toEqual([
    'free_volume',
    'ceiling_height',
    'floor_area',
    'flow50',
    'air_changes',
    'rooms',
  ]);
  // In a column its own table comes first.
  expect(
    names('', { table: 'id-rooms', column: 'c-area' })
      .map(({ name }) => name)
      .slice(0, 4),
  ).toEqual(['floor_area', 'length', 'width', 'free_volume']);
});

test('with letters typed, what fits there comes before what fits the cell', () => {
  const workbook = workbookWith([cell('cellar_volume', '100', 'ft3')]);
  const first = (before: string) => workbook.complete('ce', { cell: 'id-volume' }, 'us', before)[0]?.name;
  expect(first('')).toBe('cellar_volume');
  expect(first('floor_area * ')).toBe('ceiling_height');
});

test('no more than a short list', () => {
  const workbook = workbookWith(Array.from({ length: 80 }, (_, at) => cell(`e${at}`, '1')));
  expect(workbook.complete('e', { cell: 'id-volume' })).toHaveLength(12);
  expect(workbook.complete('', { cell: 'id-volume' })).toHaveLength(60);
});

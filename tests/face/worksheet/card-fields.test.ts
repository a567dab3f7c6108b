import { expect, test } from 'vitest';
import { fieldAfter, fieldOfNext, numbersInUse } from '../../../src/face/worksheet/card-fields.ts';
import type { Grid } from '../../../src/face/worksheet/grid.svelte.ts';

type Entries = Readonly<Record<string, string>>;

/** What the order of fields asks of a grid: its columns, the rows that are shown, and what is typed in them. */
function gridOf(
  types: Readonly<Record<string, 'number' | 'text'>>,
  all: readonly Entries[],
  shown?: number[],
): Grid {
  const columns = Object.entries(types).map(([id, type]) => ({ id, name: id, type }));
  const table = { rows: all.map((entries, at) => ({ id: String(at), entries })) };
  const rows = shown ?? all.map((_, at) => at);
  const textOf = ({ row, column }: { row: number; column: number }) =>
    all[rows[row] ?? -1]?.[columns[column]?.id ?? ''] ?? '';
  return { columns, table, rows, textOf } as unknown as Grid;
}

const READING = { house: 'number', fan: 'number', flow: 'number', remark: 'text' } as const;
const names = (fields: readonly { readonly column: { readonly name: string } }[]) =>
  fields.map(({ column }) => column.name);

test('the first row has nothing to go by, those behind it go as it does', () => {
  expect(names(numbersInUse(gridOf(READING, [{ house: '60' }]), 0))).toEqual(['house', 'fan', 'flow']);
  const second = gridOf(READING, [{ house: '60', flow: '870' }, { house: '50' }]);
  expect(names(numbersInUse(second, 1))).toEqual(['house', 'flow']);
  expect(fieldAfter(second, [], { row: 1, column: 0 })?.column.name).toBe('flow');
  expect(fieldAfter(second, [], { row: 1, column: 2 })).toBeUndefined();
});

test('the first reading of a retest goes as those of the tests that are not shown', () => {
  const retest = gridOf(READING, [{ house: '60', flow: '870' }, { house: '-60' }], [1]);
  expect(names(numbersInUse(retest, 0))).toEqual(['house', 'flow']);
});

test('in a row with a name words that others have are come to from a number, in a reading never', () => {
  const find = { mark: 'text', size: 'number', who: 'text', remark: 'text' } as const;
  const log = gridOf(find, [
    { mark: 'L1', size: '2', who: 'air keeper' },
    { mark: 'L2', size: '3' },
  ]);
  expect(fieldAfter(log, [0], { row: 1, column: 1 })?.column.name).toBe('who');
  // A flow measured again was measured by whoever stands there: no letters are asked for.
  const again = gridOf(find, [
    { mark: 'L1', size: '2', who: 'air keeper' },
    { mark: 'L2', size: '3', who: 'air keeper' },
  ]);
  expect(fieldAfter(again, [0], { row: 1, column: 1 })).toBeUndefined();
  const reading = gridOf(READING, [{ house: '60', remark: 'gusts' }, { house: '50' }]);
  expect(fieldAfter(reading, [], { row: 1, column: 0 })).toBeUndefined();
});

test('Next comes into a row with a name at what it lacks, and into one that lacks nothing at no field', () => {
  const point = { step: 'number', point: 'text', who: 'text' } as const;
  const points = gridOf(point, [
    { step: '1', point: 'framing', who: 'site lead' },
    { step: '2', point: 'board' },
    { step: '3', point: 'trim', who: 'site lead' },
  ]);
  expect(fieldOfNext(points, [1], 1)?.column.name).toBe('who');
  expect(fieldOfNext(points, [1], 2)).toBeUndefined();
  expect(fieldOfNext(gridOf(READING, [{ house: '60' }, { house: '50' }]), [], 1)?.column.name).toBe('house');
});

import { beforeEach, expect, test, vi } from 'vitest';
import { defineFunction, FunctionLibrary, quantityInWords } from '../../../src/engine/index.ts';
import type { Grid } from '../../../src/face/worksheet/grid.svelte.ts';
import type { Column, Table } from '../../../src/workbook/document.ts';
import { Workbook } from '../../../src/workbook/workbook.ts';

const inWords = defineFunction({
  name: 'told',
  summary: 'A pressure in words.',
  source: 'for this test',
  limits: 'none',
  parameters: [{ name: 'pressure', type: { kind: 'quantity', unit: 'Pa' }, summary: 'Pressure' }],
  result: { kind: 'text' },
  example: { formula: 'told(20.5 Pa)', arguments: [20.5], result: 'at 20.5 Pa' },
  compute: (pressure: number) => `at ${quantityInWords(pressure, 'Pa', 1)}`,
});

const column = (name: string, more: Partial<Column> = {}): Column => ({
  id: name,
  name,
  label: '',
  type: 'number',
  unit: 'Pa',
  note: '',
  ...more,
});

/** What is copied of one row of all columns, in the language of a browser. */
async function copiedIn(language: string): Promise<string> {
  vi.stubGlobal('navigator', { language });
  vi.resetModules();
  const { copied } = await import('../../../src/face/worksheet/copied.ts');
  const columns = [
    column('house'),
    column('half', { formula: 'house / 2' }),
    column('said', { type: 'text', unit: '', formula: 'told(house)' }),
  ];
  const rows = [{ id: 'r1', entries: { house: '20.5' } }];
  const table: Table = { kind: 'table', id: 't', name: 'readings', label: '', note: '', columns, rows };
  const sections = [{ id: 's', title: '', note: '', items: [table] }];
  const workbook = new Workbook(
    { title: 'Test', units: 'us', sheets: [{ id: 'sheet', title: '', note: '', sections }] },
    new FunctionLibrary([inWords]),
  );
  const grid = {
    table,
    columns,
    rows: [0],
    range: { top: 0, bottom: 0, left: 0, right: 2 },
    session: { system: 'us', columnState: workbook.columnState.bind(workbook) },
    unitsOf: () => ({ own: 'Pa', shown: 'Pa' }),
  } as unknown as Grid;
  return copied(grid);
}

beforeEach(() => () => {
  vi.unstubAllGlobals();
  vi.resetModules();
});

test('typed cells, numbers and calculated words are copied as the screen has them, without marks of their numbers', async () => {
  expect(await copiedIn('en-US')).toBe('20.5\t10.25\tat 20.5 Pa');
  expect(await copiedIn('de-DE')).toBe('20,5\t10,25\tat 20,5 Pa');
});

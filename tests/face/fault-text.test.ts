import { beforeEach, expect, test, vi } from 'vitest';
import { FunctionLibrary } from '../../src/engine/index.ts';
import type { Column, Table } from '../../src/workbook/document.ts';
import { Workbook } from '../../src/workbook/workbook.ts';

/** What the screen shows hangs on the language of the browser, which is read once. */
async function faultsIn(language: string): Promise<string[]> {
  vi.stubGlobal('navigator', { language });
  vi.resetModules();
  const { faultText } = await import('../../src/face/fault-text.ts');
  const pressure: Column = { id: 'c', name: 'house', label: 'House', type: 'number', unit: 'Pa', note: '' };
  const rows = [{ id: 'r1', entries: { c: '20.5 cfm' } }];
  const note = '{nowhere}';
  const table: Table = {
    kind: 'table',
    id: 't',
    name: 'readings',
    label: 'Readings',
    note,
    columns: [pressure],
    rows,
  };
  const sections = [{ id: 's', title: '', note: '', items: [table] }];
  const workbook = new Workbook(
    { title: 'Test', units: 'us', sheets: [{ id: 'sheet', title: '', note: '', sections }] },
    new FunctionLibrary([]),
  );
  return workbook.faults().map((fault) => faultText({ workbook, system: 'us' }, fault));
}

beforeEach(() => () => {
  vi.unstubAllGlobals();
  vi.resetModules();
});

test('the list of faults says what their cells say, with the decimal commas of the screen', async () => {
  const [row, text] = await faultsIn('de-DE');
  expect(row).toBe("'20,5 cfm' is a volume flow; this entry is a pressure");
  expect(text).toContain('nowhere');
});

test('where points are decimal signs they stay', async () => {
  expect((await faultsIn('en-US'))[0]).toBe("'20.5 cfm' is a volume flow; this entry is a pressure");
});

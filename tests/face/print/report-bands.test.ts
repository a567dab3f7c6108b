import { expect, test } from 'vitest';
import { NUMBER, reportBands } from '../../../src/face/print/report-bands.ts';

const table = (columns: number, keys: readonly string[]) => ({
  kind: 'table' as const,
  title: 'Rooms',
  headers: Array.from({ length: columns }, (_, at) => `Heading ${at}`),
  numeric: Array.from({ length: columns }, (_, at) => at > 0),
  rows: [
    ...keys.map((key) => ({ texts: [key, ...Array<string>(columns - 1).fill('1,234.5')], leftOut: '' })),
    { texts: Array<string>(columns).fill(''), leftOut: '', footer: true },
  ],
});

test('a table that fits the paper stays whole', () => {
  expect(reportBands(table(6, ['living', 'hall']), 11.3)).toEqual([[0, 1, 2, 3, 4, 5]]);
});

test('a wider one is divided; every band begins with the first column, and each other column stands once', () => {
  const bands = reportBands(table(23, ['living', 'hall']), 11.3);
  expect(bands.length).toBeGreaterThan(1);
  for (const band of bands) expect(band[0]).toBe(0);
  expect(bands.flatMap((band) => band.slice(1))).toEqual(Array.from({ length: 22 }, (_, at) => at + 1));
  // In larger type there are more of them.
  const larger = reportBands(table(30, ['living', 'hall']), 15.3);
  expect(larger.length).toBeGreaterThan(reportBands(table(30, ['living', 'hall']), 11.3).length);
});

test('rows that their first column does not tell apart are numbered', () => {
  for (const keys of [
    ['living', 'living'],
    ['living', ''],
  ])
    for (const band of reportBands(table(23, keys), 11.3)) expect(band.slice(0, 2)).toEqual([NUMBER, 0]);
});

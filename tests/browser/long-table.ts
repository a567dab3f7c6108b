import { readFile } from 'node:fs/promises';
import type { Page } from '@playwright/test';
import { expect } from './support.ts';

interface Item {
  name?: string;
  rows?: Record<string, string>[];
}

/** Opens the demo with that many readings in its table, all of the test shown. */
export async function openWithReadings(page: Page, count: number): Promise<void> {
  await page.goto('/');
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as file' }).click(),
  ]);
  const workbook = JSON.parse(await readFile(await download.path(), 'utf8')) as {
    sheets: { sections: { items: Item[] }[] }[];
  };
  const table = workbook.sheets
    .flatMap((sheet) => sheet.sections)
    .flatMap((section) => section.items)
    .find((item) => item.name === 'readings');
  if (!table?.rows) throw new Error('no readings');
  const shown = table.rows.find((row) => Object.values(row).includes('sealed, depressurised'));
  table.rows = Array.from({ length: count }, (_, row) => ({
    ...shown,
    $id: `r${row + 1}`,
    house_pressure: String(-10 - row / 200),
  }));
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open', exact: true }).click(),
  ]);
  await chooser.setFiles({
    name: 'long.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(workbook)),
  });
  await expect(page.getByRole('grid', { name: 'Readings' })).toHaveAttribute(
    'aria-rowcount',
    String(count + 2),
  );
}

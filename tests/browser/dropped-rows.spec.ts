import type { Page } from '@playwright/test';
import { openWorkbook } from '../tooling/open-workbook.mjs';
import { axe, expect, openSheet, test } from './support.ts';

/** Drops a file on what the selector finds. */
async function dropOn(page: Page, selector: string, name: string, content: string | number[]) {
  const data = await page.evaluateHandle(
    ([fileName, body]) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([typeof body === 'string' ? body : new Uint8Array(body)], fileName));
      return transfer;
    },
    [name, content] as const,
  );
  await page.dispatchEvent(selector, 'drop', { dataTransfer: data });
}

test('rows dropped on the page find their table, on a table they go to that one, and what is no text says so', async ({
  page,
}) => {
  await page.goto('/');
  await dropOn(page, 'main', 'rooms.csv', 'Room;Length;Width\nGuest;12 ft;10 ft\n');
  await expect(page.getByRole('dialog')).toHaveAccessibleName('1 row from rooms.csv');
  await expect(page.getByRole('dialog').getByLabel('into the table').locator('option:checked')).toHaveText(
    /House$/,
  );
  expect(await axe(page)).toEqual([]);
  await page
    .getByRole('dialog')
    .getByRole('button', { name: /^Add to the/ })
    .click();
  await expect(page.locator('[data-at]:focus')).toHaveText('Guest');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByText('Guest', { exact: true })).toHaveCount(0);

  // Headings of other words are given to columns, and the rows go where the person says.
  await openSheet(page, /^Air test/);
  const csv = 'Building [Pa];Fan;Range\n-20,5;30,1;MID\n-31;45;huge\n';
  await dropOn(page, '[data-table="readings"]', 'gauge.csv', csv);
  await expect(page.getByRole('dialog').getByText('“huge”; expected one of open, mid, low')).toBeVisible();
  await page.getByRole('dialog').getByLabel('“Building [Pa]”').selectOption('House');
  await expect(page.getByRole('dialog')).toContainText('Building [Pa] → House');
  await page.getByRole('dialog').getByRole('button', { name: 'The commas are decimal points' }).click();
  await expect(page.getByRole('dialog').getByRole('cell', { name: '-20.5' })).toBeVisible();
  await page.getByRole('dialog').getByRole('button', { name: 'Replace the 10 rows' }).click();
  const grid = page.locator('[data-table="readings"]');
  await expect(grid).toHaveAttribute('aria-rowcount', '4');
  await expect(grid.locator('[data-at="0:0"]')).toHaveText('mid');
  await expect(grid.locator('[data-at="0:1"]')).toContainText('−20.5');
  await expect(grid.locator('[data-at="1:0"]')).toContainText('huge');

  await dropOn(page, 'main', 'gauge.xlsx', [0x50, 0x4b, 3, 4, 0]);
  await expect(page.getByRole('alert')).toContainText('gauge.xlsx is a spreadsheet’s own file');
  await dropOn(page, 'main', 'gauge.csv', '');
  await expect(page.getByRole('alert')).toContainText('gauge.csv is empty');
});

test('one row that is there is called the row', async ({ page }) => {
  const columns = [{ id: 'room', name: 'room', label: 'Room', type: 'text' }];
  const item = {
    kind: 'table',
    id: 't',
    name: 't',
    label: 'Rooms',
    columns,
    rows: [{ $id: 'a', room: 'study' }],
  };
  const sheets = [{ id: 's', title: 'S', sections: [{ id: 'x', title: 'X', items: [item] }] }];
  await page.goto('/');
  await openWorkbook(
    page,
    'rooms.json',
    JSON.stringify({ app: 'close-in', format: 1, title: 'Rooms', units: 'us', sheets }),
  );
  await dropOn(page, 'main', 'rooms.csv', 'Room\nGuest\n');
  const dialog = page.getByRole('dialog');
  await expect(dialog.getByRole('button', { name: 'Add to the row', exact: true })).toBeVisible();
  await expect(dialog.getByRole('button', { name: 'Replace the row', exact: true })).toBeVisible();
});

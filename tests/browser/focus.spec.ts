/** Whoever works by keyboard is never thrown back to the top of the page: after each deed the focus stands near it. */
import { readFile } from 'node:fs/promises';
import type { Page } from '@playwright/test';
import { expect, test } from './support.ts';

const focus = (page: Page) => page.locator(':focus');
const part = (page: Page, id: string) => page.locator(`[data-part="${id}"]`);

test.beforeEach(async ({ page }) => {
  await page.goto('/');
  await expect(page.getByRole('heading', { name: 'Air test', level: 1 })).toBeVisible();
});

test('arranging ends at the part at which it was, by Ctrl+E and by Done; a new column leaves the focus to the next one', async ({
  page,
}) => {
  await page.keyboard.press('Control+e');
  await part(page, 'target_ach50').focus();
  await page.keyboard.press('Control+e');
  await expect(page.locator('#cell-target_ach50 button:focus')).toBeVisible();

  await page.keyboard.press('Control+e');
  await part(page, 'readings').click();
  await page.getByLabel('Add a column').fill('Half (Pa) = house_pressure / 2');
  await page.keyboard.press('Enter');
  // Several columns are typed one after the other; the last one stands a Tab before the field.
  await expect(page.getByLabel('Add a column')).toBeFocused();
  await expect(page.getByLabel('Add a column')).toHaveValue('');
  await page.keyboard.type('Third (Pa) = house_pressure / 3');
  await page.keyboard.press('Enter');
  await expect(page.getByLabel('Add a column')).toBeFocused();
  await page.keyboard.press('Shift+Tab');
  await expect(page.locator('[data-column-row="third"]')).toBeFocused();
  await expect(page.locator('[data-column-row="half"]')).toBeVisible();
  await page.getByRole('button', { name: 'Done' }).press('Enter');
  await expect(page.getByRole('grid', { name: /Readings/ }).locator('[data-at]:focus')).toBeVisible();

  await page.keyboard.press('Control+e');
  const section = page.locator('.section [data-part]').first();
  await section.focus();
  const title = (await section.locator('.title').textContent()) ?? '?';
  await page.keyboard.press('Control+e');
  await expect(focus(page)).toHaveText(title);
});

test('where a worksheet was deleted its neighbour has the focus, and where a section was, what followed it', async ({
  page,
}) => {
  await page.keyboard.press('Control+e');
  await page.getByRole('navigation').getByRole('button').nth(1).click();
  const sheet = page.locator('.worksheet [data-part]');
  const before = await sheet.getAttribute('data-part');
  const [first, second] = [
    page.locator('.section [data-part]').nth(0),
    page.locator('.section [data-part]').nth(1),
  ];
  const next = (await second.getAttribute('data-part')) ?? '';
  await first.focus();
  await page.keyboard.press('Delete');
  await expect(part(page, next)).toBeFocused();
  await sheet.focus();
  await page.keyboard.press('Delete');
  await expect(sheet).not.toHaveAttribute('data-part', before ?? '');
  await expect(sheet).toBeFocused();
});

test('rows of a file are gone to when they are in, and a look at them that is ended gives the focus back', async ({
  page,
}) => {
  const rows = page.getByRole('button', { name: 'Rows of Readings' });
  const choose = async () => {
    await rows.click();
    const [chooser] = await Promise.all([
      page.waitForEvent('filechooser'),
      page.getByRole('button', { name: 'Import CSV…' }).click(),
    ]);
    const buffer = Buffer.from('house pressure (Pa),measured flow (m3/h)\n-60,800\n-40,615\n');
    await chooser.setFiles({ name: 'gauge.csv', mimeType: 'text/csv', buffer });
  };
  await choose();
  await page.getByRole('button', { name: 'Cancel' }).press('Enter');
  await expect(rows).toBeFocused();
  await choose();
  await page.getByRole('button', { name: /^Add to the \d+ rows/ }).press('Enter');
  const grid = page.getByRole('grid', { name: /Readings/ });
  await expect(grid.locator('[data-at]:focus')).toHaveAttribute('data-at', '10:0');
});

test('after “Take over” the heading of the comparison has the focus', async ({ page }) => {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as file' }).click(),
  ]);
  const text = await readFile(await download.path(), 'utf8');
  await page.getByRole('button', { name: 'More', exact: true }).click();
  await page.getByRole('button', { name: /^Compare with another/ }).click();
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Choose a file' }).click(),
  ]);
  const workbook = JSON.parse(text) as { sheets: { title: string }[] };
  for (const sheet of workbook.sheets.slice(0, 1)) sheet.title = 'Air test of the house';
  const buffer = Buffer.from(JSON.stringify(workbook));
  await chooser.setFiles({ name: 'theirs.json', mimeType: 'application/json', buffer });
  await page.getByRole('button', { name: 'Take over' }).press('Enter');
  await expect(page.getByText('1 difference is taken over')).toBeVisible();
  await expect(page.getByRole('heading', { name: /^Compared with/ })).toBeFocused();
});

test('Undo and Redo hand the focus to one another where there is nothing left to do', async ({ page }) => {
  await page.keyboard.press('Control+e');
  await part(page, 'target_ach50').focus();
  await page.keyboard.press('Control+d');
  const [undo, redo] = [
    page.getByRole('button', { name: 'Undo', exact: true }).first(),
    page.getByRole('button', { name: 'Redo', exact: true }),
  ];
  await expect(undo).toBeEnabled();
  for (let n = 0; n < 5 && (await undo.isEnabled()); n++) await undo.press('Enter');
  await expect(undo).toBeDisabled();
  await expect(redo).toBeFocused();
  for (let n = 0; n < 5 && (await redo.isEnabled()); n++) await redo.press('Enter');
  await expect(undo).toBeFocused();
});

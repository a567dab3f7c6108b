import { openWithReadings } from './long-table.ts';
import { expect, test } from './support.ts';

test('a worksheet is printed without what is pressed, and with the title block under every page', async ({
  page,
}) => {
  await page.goto('/');
  await page.evaluate(() => (document.documentElement.dataset.theme = 'dark'));
  await page.getByRole('grid', { name: 'Readings' }).locator('[data-at="1:1"]').click();
  await page.emulateMedia({ media: 'print' });
  // Letter less its margins, in CSS pixels.
  await page.setViewportSize({ width: 710, height: 1000 });
  await expect(page.getByRole('heading', { level: 1, name: 'Air test' })).toBeVisible();
  for (const name of ['Menu', 'Rows of Readings', 'edit', 'rename'])
    await expect(page.getByRole('button', { name, exact: true }).filter({ visible: true })).toHaveCount(0);
  await expect(page.getByRole('navigation')).toHaveCount(0);
  // The foot of a table is what a browser repeats under each page.
  const block = page.getByRole('contentinfo', { name: 'Title block' });
  await expect(block).toHaveCSS('display', 'table-footer-group');
  await expect(block).toContainText('1.029');
  // Nothing is cut at the edge of the paper, and no ink is of the dark screen.
  const main = await page.locator('main').boundingBox();
  for (const grid of await page.getByRole('grid').all()) {
    const box = await grid.boundingBox();
    expect((box?.x ?? 0) + (box?.width ?? 0)).toBeLessThanOrEqual((main?.x ?? 0) + (main?.width ?? 0) + 1);
  }
  await expect(page.locator('.hold').first()).toHaveCSS('color', 'rgb(133, 86, 0)');
});

test('a workbook without a headline has room to say that it is saved', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  const empty = page.getByRole('button', { name: 'Empty workbook' });
  await expect(empty).toBeInViewport({ ratio: 1 });
  await empty.click();
  const kept = page.getByRole('contentinfo', { name: 'Title block' }).locator('.kept b').first();
  await expect(kept).toHaveText(/saved|no changes/);
  expect(await kept.evaluate((element) => element.scrollWidth - element.clientWidth)).toBe(0);
});

test('a long table is printed whole, its heading on every page, and stands afterwards as it stood', async ({
  page,
}, info) => {
  await openWithReadings(page, 1_000);
  const grid = page.getByRole('grid', { name: 'Readings' });
  const nodes = () => grid.locator('tbody tr[aria-rowindex]').count();
  await grid.locator('[data-at="0:1"]').click();
  await page.keyboard.press('Control+End');
  const focused = page.locator('[data-at]:focus');
  await expect(focused).toHaveAttribute('data-at', '1000:7');
  const top = () => grid.evaluate((element) => element.parentElement?.scrollTop);
  const stood = await top();
  expect(stood).toBeGreaterThan(10_000);
  // What is on paper: it is laid out when the page has been told of it.
  await page.evaluate(() => {
    addEventListener('beforeprint', () => {
      const rows = document.querySelectorAll('[data-table="readings"] tbody tr[aria-rowindex]:not(.new)');
      const notes = document.querySelectorAll('.on-paper-only').length;
      document.body.dataset.printed = [rows.length, notes].join(' ');
    });
  });
  const path = info.outputPath('long-table.pdf');
  const pdf = (await page.pdf({ path, format: 'Letter', preferCSSPageSize: false })).toString('latin1');
  await expect(page.locator('body')).toHaveAttribute('data-printed', '1000 0');
  // Some forty rows a page, and a page or two for the rest of the worksheet.
  const pages = [...pdf.matchAll(/\/Type\s*\/Page\b/g)].length;
  expect(pages).toBeGreaterThan(1_000 / 60);
  expect(pages).toBeLessThan(1_000 / 25);

  expect(await nodes()).toBeLessThanOrEqual(200);
  await expect(focused).toHaveAttribute('data-at', '1000:7');
  expect(await top()).toBe(stood);

  await page.emulateMedia({ media: 'print' });
  await expect(grid.locator('thead')).toHaveCSS('display', 'table-header-group');
  await expect(grid.locator('tr.new')).toBeHidden();
});

test('on paper a wide table is not cut off, and its foot stands once, after its last row', async ({
  page,
}) => {
  await page.goto('/');
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^House/ })
    .click();
  await expect(page.getByRole('heading', { level: 1, name: 'House' })).toBeVisible();
  await page.emulateMedia({ media: 'print' });
  // Letter less its margins, in CSS pixels: the schedule of rooms with its 23 columns is not cut off.
  await page.setViewportSize({ width: 710, height: 1000 });
  for (const grid of await page.getByRole('grid').all()) {
    const box = await grid.boundingBox();
    expect((box?.x ?? 0) + (box?.width ?? 0)).toBeLessThanOrEqual(711);
  }
  // The browser would repeat a table's foot under each of its pages.
  for (const foot of await page.locator('main tfoot').all())
    await expect(foot).toHaveCSS('display', 'table-row-group');
  expect(await page.locator('main tfoot').count()).toBeGreaterThan(1);
});

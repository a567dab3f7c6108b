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

/** A first visit shows the demo at once, and offers a look round that never stands in the way. */
import { axe, expect, test } from './support.ts';

const region = 'A look round';

test('the look round is offered beside the first number, led by keyboard, and not offered again', async ({
  page,
}) => {
  await page.goto('/');
  const tour = page.getByRole('region', { name: region });
  await expect(page.getByRole('contentinfo', { name: 'Title block' })).toContainText('1.029');
  const start = tour.getByRole('button', { name: /look round/ });
  await start.focus();
  await page.keyboard.press('Enter');
  await expect(tour).toContainText('1 of 5');
  await expect(page.locator('[data-at]:focus')).toHaveAttribute('data-column', 'fan_pressure');
  expect(await axe(page)).toEqual([]);

  const on = tour.getByRole('button', { name: 'Go on' });
  await on.press('Enter');
  await expect(page.locator('#cell-ach50')).toContainText('q50');
  await on.press('Enter');
  await on.press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'What if' })).toBeVisible();
  await tour.getByRole('button', { name: 'Back' }).press('Enter');
  await expect(tour).toContainText('3 of 5');
  await on.press('Enter');
  await on.press('Enter');
  await tour.getByRole('button', { name: 'Done' }).press('Enter');
  await expect(tour).toHaveCount(0);

  await page.reload();
  await expect(page.getByRole('contentinfo', { name: 'Title block' })).toContainText('1.029');
  await expect(tour).toHaveCount(0);
});

test('who does not want it is not asked twice, and it fits a phone', async ({ page }) => {
  await page.setViewportSize({ width: 360, height: 740 });
  await page.goto('/');
  const tour = page.getByRole('region', { name: region });
  await tour.getByRole('button', { name: /look round/ }).click();
  await expect(tour).toBeInViewport({ ratio: 1 });
  await expect(page.locator('[data-table="readings"] .card')).toBeInViewport();
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  expect(await axe(page)).toEqual([]);
  await tour.getByRole('button', { name: 'leave' }).click();
  await expect(tour).toHaveCount(0);
  await page.reload();
  await expect(page.getByRole('heading', { level: 1, name: 'Air test' })).toBeVisible();
  await expect(tour).toHaveCount(0);
});

test('Help leads to the look round from any worksheet, to all functions and to the keys', async ({
  page,
}) => {
  await page.goto('/');
  const tour = page.getByRole('region', { name: region });
  await tour.getByRole('button', { name: 'not now' }).click();
  await page.getByRole('navigation').getByRole('button', { name: /^Trim/ }).first().click();
  const help = page.getByRole('button', { name: 'Help', exact: true });
  await help.press('Enter');
  await page.getByRole('button', { name: 'Look round' }).press('Enter');
  await expect(tour).toContainText('1 of 5');
  await expect(page.locator('[data-at]:focus')).toHaveAttribute('data-column', 'fan_pressure');
  await tour.getByRole('button', { name: 'leave' }).click();
  await expect(tour).toHaveCount(0);

  await help.press('Enter');
  await page.getByRole('button', { name: 'Keys', exact: true }).press('Enter');
  const keys = page.getByRole('dialog', { name: 'Keys' });
  await expect(keys).toContainText('Find a cell, a table or a column');
  await expect(keys).toContainText('Insert a row below');
  expect(await axe(page)).toEqual([]);
  await page.keyboard.press('Escape');
  await expect(keys).toHaveCount(0);
  await page.keyboard.press('F1');
  await expect(page.getByRole('heading', { level: 1, name: 'Functions and units' })).toBeVisible();
});

test('the look round finds a way in a workbook without readings', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.locator('header').getByRole('button', { name: 'Trim', exact: true }).click();
  await expect(page.getByRole('heading', { level: 1 })).toContainText(/Inputs|job/);
  await page.getByRole('button', { name: 'Help', exact: true }).click();
  await page.getByRole('button', { name: 'Look round' }).click();
  const tour = page.getByRole('region', { name: region });
  await expect(tour).toContainText('1 of 5');
  await expect(page.getByRole('heading', { level: 1, name: 'Inputs of the job' })).toHaveCount(0);
});

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

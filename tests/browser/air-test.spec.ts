import type { Page } from '@playwright/test';
import { axe, expect, test } from './support.ts';

/** The number a named cell shows, without its ±. */
const shownIn = (page: Page, name: string) => page.locator(`#cell-${name} .number`);
const readings = (page: Page) => page.getByRole('grid', { name: 'Readings' });

/** What is drawn in the first figure, as an image. */
const drawing = (page: Page) =>
  page
    .locator('#figures canvas')
    .first()
    .evaluate((canvas: HTMLCanvasElement) => canvas.toDataURL());

test('a reading typed: coefficient, exponent and the figure follow, and undo brings them back', async ({
  page,
}) => {
  await page.goto('/');
  await expect(page.getByRole('heading', { level: 1, name: 'Air test' })).toBeVisible();
  const coefficient = shownIn(page, 'flow_coefficient');
  const exponent = shownIn(page, 'pressure_exponent');
  const block = page.getByRole('contentinfo', { name: 'Title block' });
  await expect(coefficient).toHaveText('35.2');
  await expect(exponent).toHaveText('0.6461');
  await expect(block).toContainText('1.029 ± 0.033 1/h');
  await expect(block).toContainText('0.171 under');
  await expect(block).toContainText('targets: too close');
  await expect(page.locator('#figures')).toContainText('n 0.6461 ± 0.0090, r² 0.9999, 10 points');
  await expect.poll(() => drawing(page)).toContain('data:image/png');
  const before = await drawing(page);

  const fan = readings(page).getByRole('gridcell', { name: '99.80 ± 0.50' });
  await fan.click();
  await page.keyboard.type('199.8');
  await page.keyboard.press('Enter');
  await expect(coefficient).not.toHaveText('35.2');
  await expect(exponent).not.toHaveText('0.6461');
  await expect(page.locator('#figures')).not.toContainText('r² 0.9999');
  await expect.poll(() => drawing(page)).not.toBe(before);
  await expect(block).toContainText('rev 1');
  await expect(block).toContainText(/saved \d+:\d\d/);

  await page.keyboard.press('Control+z');
  await expect(coefficient).toHaveText('35.2');
  await expect(exponent).toHaveText('0.6461');
  await expect.poll(() => drawing(page)).toBe(before);
  await page.getByRole('button', { name: 'Redo' }).click();
  await expect(coefficient).not.toHaveText('35.2');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(coefficient).toHaveText('35.2');
});

test('a point left out is struck through with its reason, and marked in the figure', async ({ page }) => {
  await page.goto('/');
  const row = readings(page).getByRole('row').nth(3);
  await row.getByRole('gridcell').last().click();
  await page.keyboard.type('gust of wind');
  await page.keyboard.press('Enter');
  await expect(row).toContainText('gust of wind');
  await expect(row.getByRole('gridcell').nth(1)).toHaveCSS('text-decoration-line', 'line-through');
  await expect(page.locator('#figures')).toContainText('9 points, 1 left out');
  await page.locator('#figures summary').first().click();
  await expect(page.locator('#figures table').first()).toContainText('left out: gust of wind');
});

test('a wrong unit: said while typing at its place, kept as a fault at its cell, and only there', async ({
  page,
}) => {
  await page.goto('/');
  await page
    .locator('#cell-target_ach50')
    .getByRole('button', { name: /First target/ })
    .click();
  await page.keyboard.press('Enter');
  const text = page.getByRole('textbox', { name: /First target/ });
  await text.fill('1.2 m');
  await expect(text).toHaveAttribute('aria-invalid', 'true');
  await expect(page.locator('#cell-target_ach50 .diagnostic')).toContainText('length');
  await expect(shownIn(page, 'margin_ach50')).toHaveText('0.171');

  await text.press('Enter');
  const block = page.getByRole('contentinfo', { name: 'Title block' });
  await expect(block).toContainText('1 fault');
  await expect(page.locator('#cell-target_ach50')).toContainText('fault here');
  await expect(page.locator('#cell-target_ach50 > p')).toContainText('length');
  // What reads it waits for it, with a link, and shows no old number.
  const waiting = page.locator('#cell-margin_ach50');
  await expect(waiting).toContainText('waits for First target, at most');
  await expect(waiting.locator('.number')).toHaveCount(0);
  await expect(block).toContainText('waits');

  await waiting.getByRole('button', { name: 'First target, at most' }).first().click();
  await expect(page.locator('#cell-target_ach50')).toHaveClass(/selected/);
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^House/ })
    .click();
  await block.getByRole('button', { name: /1 fault/ }).click();
  await expect(
    page.locator('#cell-target_ach50').getByRole('button', { name: /First target/ }),
  ).toBeFocused();
  expect(await axe(page)).toEqual([]);
  await page.keyboard.press('Control+z');
  await expect(shownIn(page, 'margin_ach50')).toHaveText('0.171');
  await expect(block).toContainText('none');
});

test('a suggestion can be taken with one press', async ({ page }) => {
  await page.goto('/');
  await page.locator('#cell-ach50').getByRole('button').first().click();
  await page.keyboard.press('F2');
  const text = page.getByRole('textbox', { name: /Air changes at 50 Pa/ });
  await text.fill('q50 / bilding_volume');
  await page.getByRole('button', { name: 'Use building_volume' }).click();
  await expect(text).toHaveValue('q50 / building_volume');
  await expect(text).toBeFocused();
  await text.press('Enter');
  await expect(page.getByRole('contentinfo')).toContainText('none');
});

test('names are offered while a formula is typed, and Enter takes the one pointed at', async ({ page }) => {
  await page.goto('/');
  await page.locator('#cell-ach50').getByRole('button').first().click();
  await page.keyboard.press('Enter');
  const text = page.getByRole('textbox', { name: /Air changes at 50 Pa/ });
  await text.fill('q50 / ');
  await text.pressSequentially('build');
  const option = page.getByRole('option', { name: /building_volume/ });
  await expect(option).toContainText('ft³');
  // Half a name is pointed at by itself; the arrows point elsewhere and back.
  await expect(option).toHaveAttribute('aria-selected', 'true');
  await text.press('ArrowDown');
  await expect(option).toHaveAttribute('aria-selected', 'false');
  await text.press('ArrowUp');
  await expect(option).toHaveAttribute('aria-selected', 'true');
  await expect(text).toHaveAttribute('aria-activedescendant', /.+/);
  await text.press('Enter');
  await expect(text).toHaveValue('q50 / building_volume');
  await text.press('Escape');
  await expect(text).toHaveCount(0);
  await expect(page.locator('#cell-ach50').getByRole('button').first()).toBeFocused();
});

test('the unit switch changes what is shown and nothing else', async ({ page }) => {
  await page.goto('/');
  const q50 = page.locator('#cell-q50');
  await expect(q50).toContainText('441 ± 13');
  await page.getByRole('button', { name: 'm · m³/h' }).click();
  await expect(q50).toContainText('750 ± 23');
  await expect(q50).toContainText('m³/h');
  await expect(page.locator('#figures')).toContainText('Fit');
  await page.locator('#figures summary').first().click();
  await expect(page.locator('#figures th').nth(1)).toHaveText('Flow, m³/h, the air of the test');
  const block = page.getByRole('contentinfo');
  await expect(block).toContainText('rev 0');
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();

  // A bare number typed now means the unit on the screen, and says so in what is stored.
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^House/ })
    .click();
  await page.locator('#cell-site_elevation').getByRole('button').first().click();
  await page.keyboard.type('400');
  await page.keyboard.press('Enter');
  const elevation = page.locator('#cell-site_elevation');
  await expect(elevation).toContainText('400');
  await elevation.getByRole('button').first().click();
  await expect(elevation.locator('code')).toHaveText('400 m');
  await page.getByRole('button', { name: 'ft · cfm' }).click();
  await expect(elevation).toContainText('1,312');
});

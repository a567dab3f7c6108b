/**
 * How the pages look, held against the pictures that were accepted last: `npm run pictures`. Whoever changes a look
 * looks at each picture that differs (test-results/), and accepts them with `npm run pictures -- -u`. No part of
 * `npm test`: another browser draws letters a little differently.
 */
import type { Page } from '@playwright/test';
import { chooseSheet } from './phone-pad.ts';
import { expect, test } from './support.ts';

const DESK = { width: 1440, height: 900 };
const PHONE = { width: 360, height: 740 };
/** Those that between them have every kind of item: cells, grids, figures, verdicts, plans, a schedule. */
const SHEETS = ['Air test', 'House', 'Beams', 'Trim', 'Hold points', 'What if'];
/** The same inks and papers stand on all of them. */
const DARK = ['Air test', 'Trim'];

async function openDemo(page: Page, size: { width: number; height: number }): Promise<void> {
  await page.setViewportSize(size);
  await page.clock.setFixedTime(new Date('2026-03-02T10:00:00Z'));
  await page.goto('/');
  await page.getByRole('button', { name: 'not now' }).click();
  // The choices of a phone carry their verdicts once all worksheets are worked out.
  await expect(page.getByRole('contentinfo')).toContainText('none');
}

async function held(page: Page, name: string): Promise<void> {
  // Figures are drawn a moment after the worksheet; a plan is proved in a worker.
  await page.waitForLoadState('networkidle');
  await expect.poll(() => page.evaluate(() => document.fonts.status)).toBe('loaded');
  await expect(page.getByRole('progressbar')).toHaveCount(0, { timeout: 60_000 });
  await expect(page.getByText('not yet proved')).toHaveCount(0, { timeout: 60_000 });
  await expect(page).toHaveScreenshot(`${name}.png`);
}

for (const colorScheme of ['light', 'dark'] as const) {
  test.describe(colorScheme, () => {
    test.use({ colorScheme });

    for (const sheet of colorScheme === 'dark' ? DARK : SHEETS) {
      const name = `${sheet.toLowerCase().replace(' ', '-')}-${colorScheme}`;

      test(`${sheet}, at the desk`, async ({ page }) => {
        await openDemo(page, DESK);
        await page
          .getByRole('navigation')
          .getByRole('button', { name: new RegExp(`^${sheet}`) })
          .first()
          .click();
        await held(page, `desk-${name}`);
      });

      test(`${sheet}, on a phone`, async ({ page }) => {
        await openDemo(page, PHONE);
        await chooseSheet(page, new RegExp(`^${sheet}`));
        await held(page, `phone-${name}`);
      });
    }

    test.describe('with a finger', () => {
      test.use({ hasTouch: true, isMobile: true });

      test('a reading on the key pad of a phone', async ({ page }) => {
        await openDemo(page, PHONE);
        const lines = page.getByRole('group', { name: 'Readings', exact: true });
        await lines.getByRole('button', { name: /56\.2/ }).tap();
        const card = page.getByRole('group', { name: 'Row 2', exact: true });
        await card.getByRole('textbox', { name: /^House/ }).tap();
        await expect(page.getByRole('region', { name: /^Keys for/ })).toBeVisible();
        await held(page, `phone-key-pad-${colorScheme}`);
      });

      test('the names that fit a formula, on a phone', async ({ page }) => {
        await openDemo(page, PHONE);
        const row = page.locator('#cell-margin_ach50');
        for (let tap = 0; tap < 2; tap++) await row.getByRole('button').first().tap();
        await row.getByRole('textbox').fill('target_ach50 - ');
        await page.getByRole('button', { name: 'names that fit' }).tap();
        await expect(page.getByRole('listbox', { name: 'Names' })).toBeVisible();
        await held(page, `phone-names-${colorScheme}`);
      });
    });

    test('every kind of figure', async ({ page }) => {
      await page.setViewportSize({ width: 1000, height: 900 });
      await page.goto('/gallery.html');
      await held(page, `gallery-${colorScheme}`);
    });
  });
}

test('a wide table on paper', async ({ page }) => {
  await openDemo(page, DESK);
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^House/ })
    .click();
  await expect(page.locator('[data-paper="rooms"]')).toBeAttached();
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
  await page.emulateMedia({ media: 'print' });
  // Letter less its margins.
  await page.setViewportSize({ width: 710, height: 1_400 });
  await held(page, 'paper-house');
});

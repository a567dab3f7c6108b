import { readFile } from 'node:fs/promises';
import { axe, expect, test } from './support.ts';

test('the gallery shows every kind, at the desk and on a phone, and axe finds nothing', async ({ page }) => {
  await page.goto('/gallery.html');
  await expect(page.getByRole('heading', { name: 'All kinds of figure' })).toBeVisible();
  await expect(page.locator('figure canvas').first()).toBeVisible();
  expect(await axe(page)).toEqual([]);
  await page.setViewportSize({ width: 360, height: 740 });
  // The figures are laid out anew for the narrower page a moment later.
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
});

test('a figure is kept as SVG with its title and units, and as PNG', async ({ page }) => {
  await page.goto('/');
  const keep = async (format: string) => {
    await page.getByRole('button', { name: 'Keep “Fit” as a picture' }).click();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: `Save as ${format}` }).click(),
    ]);
    expect(download.suggestedFilename()).toBe(`fit.${format.toLowerCase()}`);
    return readFile(await download.path());
  };
  const svg = (await keep('SVG')).toString();
  const parsed = await page.evaluate((text) => {
    const picture = new DOMParser().parseFromString(text, 'image/svg+xml');
    return {
      faults: picture.querySelectorAll('parsererror').length,
      styles: picture.querySelectorAll('[style], style').length,
      words: [...picture.querySelectorAll('text')].map((each) => each.textContent),
      curves: [...picture.querySelectorAll('path[fill=none]')].length,
    };
  }, svg);
  expect(parsed).toMatchObject({ faults: 0, styles: 0 });
  expect(parsed.words).toEqual(
    expect.arrayContaining(['Fit', expect.stringMatching(/^flow.*, cfm/), 'induced pressure, Pa']),
  );
  expect(parsed.curves).toBeGreaterThan(1);
  expect([...(await keep('PNG')).subarray(1, 4)]).toEqual([0x50, 0x4e, 0x47]);
});

test('the point under the pointer says its values', async ({ page }) => {
  await page.goto('/gallery.html');
  const canvas = page.locator('section', { hasText: 'rows with their ± against a target' }).locator('canvas');
  await canvas.scrollIntoViewIfNeeded();
  const before = await canvas.screenshot();
  await canvas.hover({ position: { x: 220, y: 40 } });
  await expect.poll(async () => before.equals(await canvas.screenshot())).toBe(false);
});

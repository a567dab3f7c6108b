/** A workbook shows its first worksheet before the others are worked out. */
import type { Page } from '@playwright/test';
import { expect, test } from './support.ts';

interface Held {
  release(): void;
}

/** The page finds no idle moment until it is told of one. */
function withoutIdleMoments(): void {
  const held: (() => void)[] = [];
  let isBusy = true;
  globalThis.requestIdleCallback = (run) => {
    const go = () => run({ didTimeout: false, timeRemaining: () => 0 });
    if (isBusy) held.push(go);
    else setTimeout(go);
    return 0;
  };
  Object.assign(globalThis, {
    release() {
      isBusy = false;
      for (const go of held) go();
    },
  });
}

const block = (page: Page) => page.getByRole('contentinfo', { name: 'Title block' });
const sheets = (page: Page) => page.getByRole('navigation', { name: 'Worksheets' });
const releaseIdle = (page: Page) =>
  page.evaluate(() => {
    (globalThis as unknown as Held).release();
  });

test.describe('while the page is busy', () => {
  test.beforeEach(async ({ page }) => {
    await page.addInitScript(withoutIdleMoments);
    await page.goto('/');
    await expect(block(page)).toContainText('1.029 ± 0.033 1/h');
    await expect(block(page)).toContainText('…');
  });

  test('a reading is answered by then, and what comes later knows of it', async ({ page }) => {
    const pressure = page.getByRole('grid', { name: 'Readings' }).locator('[data-at="0:1"]');
    await pressure.click();
    await page.keyboard.type('-40.5');
    await page.keyboard.press('Enter');
    await expect(block(page)).not.toContainText('1.029');
    await expect(block(page)).toContainText('…');
    await expect(sheets(page).getByRole('button', { name: 'Hold points' })).toHaveText('Hold points');

    await releaseIdle(page);
    await expect(block(page)).toContainText('none');
    await expect(sheets(page).getByRole('button', { name: 'Hold points' })).toContainText('hold');
    await expect(block(page)).not.toContainText('1.029');
    // All of the first worksheet is there too, down to its last section.
    await expect(page.locator('#cell-suspicion_level')).toContainText('5');
    await page.keyboard.press('Control+z');
    await expect(block(page)).toContainText('1.029 ± 0.033 1/h');
  });

  test('a worksheet that is gone to before its turn is whole', async ({ page }) => {
    await sheets(page).getByRole('button', { name: 'Beams' }).click();
    await expect(page.getByRole('heading', { level: 1, name: 'Beams' })).toBeVisible();
    await expect(page.locator('main')).not.toContainText('there is nothing named');
    const before = await page.locator('main').innerText();
    await releaseIdle(page);
    await expect(block(page)).toContainText('none');
    expect(await page.locator('main').innerText()).toBe(before);
  });

  test('what is looked for below the screen is found', async ({ page }) => {
    await expect(page.locator('#cell-suspicion_level')).toHaveCount(0);
    await page.keyboard.press('Control+k');
    await page.keyboard.type('suspicion_level');
    await page.keyboard.press('Enter');
    await expect(page.locator('#cell-suspicion_level').getByRole('button').first()).toBeFocused();
  });

  test('an edit of a formula takes all of it along', async ({ page }) => {
    await page
      .locator('#cell-target_ach50')
      .getByRole('button', { name: /First target/ })
      .focus();
    await page.keyboard.press('Enter');
    await page
      .getByRole('textbox', { name: /First target/ })
      .fill('building_volume > 1 ft3 ? 1.1 1/h : 1.2 1/h');
    await page.keyboard.press('Enter');
    await expect(block(page)).toContainText('1.10');
    await releaseIdle(page);
    await expect(block(page)).toContainText('none');
  });
});

test('a browser that cannot tell when it is idle has all of it soon', async ({ page }) => {
  await page.addInitScript(() => Reflect.deleteProperty(globalThis, 'requestIdleCallback'));
  await page.goto('/');
  await expect(block(page)).toContainText('none', { timeout: 5_000 });
  await expect(page.locator('#cell-suspicion_level')).toContainText('5');
});

interface Moved {
  readonly moved: string[];
}

/** Notes what the browser itself saw move without a hand on the page. */
function watchMoves(): void {
  const moved: string[] = [];
  Object.assign(globalThis, { moved });
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries() as (PerformanceEntry & { sources: { node?: Node }[] })[])
      for (const { node } of entry.sources) moved.push((node?.textContent ?? 'something').slice(0, 60));
  }).observe({ type: 'layout-shift', buffered: true });
}

for (const [width, height] of [
  [1440, 900],
  [360, 740],
] as const)
  test(`nothing moves once it is shown, at ${width} px`, async ({ page }) => {
    await page.setViewportSize({ width, height });
    await page.addInitScript(watchMoves);
    await page.goto('/');
    await expect(page.getByRole('region', { name: 'A look round' })).toBeVisible();
    await expect(page.locator('#figures canvas').first()).toBeVisible();
    await expect(page.locator('#cell-suspicion_level')).toContainText('5');
    expect(await page.evaluate(() => (globalThis as unknown as Moved).moved)).toEqual([]);
  });

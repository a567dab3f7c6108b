import type { Page } from '@playwright/test';
import { kept, title, typeTitle } from './kept-job.ts';
import { expect, test } from './support.ts';

const SAVED = /saved \d+:\d\d/;
const reading = (page: Page) => page.getByRole('status').filter({ hasText: 'For reading only' });

test('a second tab follows live and may take over; closing the writer hands it on', async ({
  context,
  page,
}) => {
  await page.goto('/');
  await typeTitle(page, 'First');
  await expect(kept(page)).toContainText(SAVED);
  const second = await context.newPage();
  await second.goto('/');
  await expect(reading(second)).toBeVisible();
  await expect(title(second)).toHaveValue('First');
  await typeTitle(page, 'Seen at once');
  await expect(title(second)).toHaveValue('Seen at once');
  // What is typed in the reader is refused in words, undo too.
  await typeTitle(second, 'Refused');
  await second.keyboard.press('Control+z');
  await expect(title(page)).toHaveValue('Seen at once');

  await second.getByRole('button', { name: 'Edit here instead' }).click();
  await expect(reading(page)).toBeVisible();
  await expect(reading(second)).toHaveCount(0);
  await typeTitle(second, 'From the second');
  await expect(kept(second)).toContainText(SAVED);
  await expect(title(page)).toHaveValue('From the second');

  await second.close();
  await expect(reading(page)).toHaveCount(0);
  await typeTitle(page, 'First again');
  await expect(kept(page)).toContainText(SAVED);
  await page.reload();
  await expect(title(page)).toHaveValue('First again');
});

test('where the browser refuses locks the page works and keeps what is typed', async ({ page }) => {
  await page.addInitScript(() => {
    LockManager.prototype.request = () =>
      Promise.reject(new DOMException('The document is not active.', 'InvalidStateError'));
  });
  await page.goto('/');
  await typeTitle(page, 'Without locks');
  await expect(kept(page)).toContainText(SAVED);
  await page.reload();
  await expect(title(page)).toHaveValue('Without locks');
});

/** Numbers from 0 up to 1 (mulberry32); equal seeds, equal course. */
function chanceFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

test('three tabs in any order: one writer at most, and no saved edit is lost', async ({ context, page }) => {
  test.setTimeout(240_000);
  const chance = chanceFrom(20);
  const tabs = [page, await context.newPage(), await context.newPage()];
  await page.goto('/');
  await typeTitle(page, '0');
  await expect(kept(page)).toContainText(SAVED);
  for (const tab of tabs.slice(1)) await tab.goto('/');
  let newest = 0;
  const writers = async () => {
    const counts = await Promise.all(tabs.map((tab) => reading(tab).count()));
    return tabs.filter((_, at) => counts[at] === 0);
  };
  for (let step = 0; step < 24; step++) {
    await expect.poll(async () => (await writers()).length).toBe(1);
    const [writer] = await writers();
    if (!writer) continue;
    const others = tabs.filter((tab) => tab !== writer);
    const deed = chance();
    const other = others[Math.floor(chance() * others.length)];
    if (deed < 0.5) {
      await typeTitle(writer, String(++newest));
      await expect(kept(writer)).toContainText(SAVED);
    } else if (deed < 0.75) {
      await other?.getByRole('button', { name: 'Edit here instead' }).click();
    } else if (deed < 0.88) {
      await writer.reload();
    } else {
      await other?.reload();
    }
    for (const tab of tabs) await expect(title(tab)).toHaveValue(String(newest));
  }
  expect(newest).toBeGreaterThan(5);
});

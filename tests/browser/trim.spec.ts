import type { Page } from '@playwright/test';
import { chooseSheet } from './phone-pad.ts';
import { axe, expect, test } from './support.ts';

async function openTrim(page: Page): Promise<void> {
  await page.goto('/');
  await page.getByRole('navigation').getByRole('button', { name: /^Trim/ }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Trim' })).toBeVisible();
}

const price = (page: Page) => page.locator('#cell-trim_price .number');
const plan = (page: Page) => page.locator('#figures figure').filter({ hasText: 'Cutting plan' });

test('plans stand at once, are proved beside the page, and another profile is drawn when asked', async ({
  page,
}) => {
  test.setTimeout(180_000);
  await openTrim(page);
  await expect(plan(page)).toContainText('22');
  await expect(price(page)).toHaveText(/1[,.]?0\d\d\.\d\d/);
  // Invented data; the least price was proved by an independent integer program.
  await expect(price(page)).toHaveText(/1[,.]?065\.70/, { timeout: 150_000 });
  await expect(plan(page)).toContainText('least price, proved');
  await expect(page.getByRole('progressbar')).toHaveCount(0);
  await plan(page).getByText('As a table').click();
  await expect(plan(page).getByRole('row').nth(1)).toContainText('☐ T25 181 5/16"');
  expect(await axe(page, '#figures')).toEqual([]);
});

test('a plan far below what a phone shows follows its proof as well', async ({ page }) => {
  test.setTimeout(180_000);
  await page.setViewportSize({ width: 360, height: 740 });
  await page.goto('/');
  await chooseSheet(page, /^Trim/);
  await expect(plan(page)).toContainText('quick plan, not yet proved');
  await expect(plan(page)).toContainText('least price, proved', { timeout: 150_000 });
  await expect(plan(page)).not.toBeInViewport();
});

test('a proof is stopped at once, says so, and goes on when asked', async ({ page, context }) => {
  test.setTimeout(180_000);
  // The solver arrives only when the test lets it: until then a proof is under way.
  let arrive: () => void = () => undefined;
  const held = new Promise<void>((resolve) => (arrive = resolve));
  await context.route('**/*.wasm', async (route) => {
    await held;
    await route.continue();
  });
  await openTrim(page);
  const first = page.locator('#cell-trim_price');
  await expect(first).toBeVisible();
  const before = (await first.boundingBox())?.y;
  await expect(page.getByRole('progressbar')).toBeInViewport();
  // It lies over the foot of the sheet and moves nothing.
  expect((await first.boundingBox())?.y).toBe(before);
  await expect(plan(page)).toContainText('quick plan, not yet proved');
  await page.getByRole('button', { name: 'Stop' }).click();
  await expect(page.getByText('4 plans are not proved.')).toBeVisible();
  arrive();
  await page.getByRole('button', { name: 'Go on' }).click();
  await expect(price(page)).toHaveText(/1[,.]?065\.70/, { timeout: 150_000 });
});

test('the cut list of a profile is printed alone: every piece with its box, nothing cut by a page', async ({
  page,
}) => {
  await openTrim(page);
  await page.locator('#cell-shown_profile select').selectOption('casing');
  await expect(plan(page)).toContainText(/casing; \d+ sticks/);
  await page.evaluate(() => {
    globalThis.print = () => undefined;
  });
  await plan(page).getByRole('button', { name: /^Keep/ }).click();
  await page.getByRole('button', { name: 'Print the cut list' }).click();
  await page.emulateMedia({ media: 'print' });
  await expect(page.locator('main')).toBeHidden();
  // The picture of 25 sticks is longer than a page.
  await expect(plan(page).locator('.drawing')).toBeHidden();
  const list = plan(page).locator('.paper');
  await expect(list).toBeVisible();
  expect((await list.innerText()).match(/☐/g)).toHaveLength(47);
  for (const format of ['Letter', 'A4']) {
    await page.evaluate(() => {
      for (const part of [document.body, document.querySelector('#figures figure')])
        part?.classList.add('printed-alone');
    });
    const pdf = (await page.pdf({ format })).toString('latin1');
    expect([...pdf.matchAll(/\/Type\s*\/Page\b/g)]).toHaveLength(1);
  }
});

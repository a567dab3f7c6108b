import { readFile } from 'node:fs/promises';
import type { Page } from '@playwright/test';
import { expect, test } from './support.ts';

const block = (page: Page) => page.getByRole('contentinfo', { name: 'Title block' });

async function typeTarget(page: Page, text: string) {
  await page
    .locator('#cell-target_ach50')
    .getByRole('button', { name: /First target/ })
    .focus();
  await page.keyboard.press('Enter');
  await page.getByRole('textbox', { name: /First target/ }).fill(text);
  await page.keyboard.press('Enter');
}

async function saveAsFile(page: Page): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as file' }).first().click(),
  ]);
  expect(download.suggestedFilename()).toBe('juniper-hollow-house.json');
  return readFile(await download.path(), 'utf8');
}

async function open(page: Page, name: string, text: string) {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open', exact: true }).click(),
  ]);
  await chooser.setFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
}

test('saved as a file, opened again: the same job and the same results, to the byte', async ({ page }) => {
  await page.goto('/');
  await typeTarget(page, '1.1');
  await expect(block(page)).toContainText('0.071 under');
  await page.getByRole('button', { name: 'm · m³/h' }).click();
  const saved = await saveAsFile(page);
  expect(JSON.parse(saved)).toMatchObject({ format: 1, title: 'Juniper Hollow house' });
  await typeTarget(page, '2');
  await expect(block(page)).toContainText('0.971 under');

  await open(page, 'job.json', saved);
  await expect(block(page)).toContainText('0.071 under');
  await expect(block(page)).toContainText('rev 0');
  expect(await saveAsFile(page)).toBe(saved);
});

test('a file that is opened and not edited is there after a reload, and opened again it is the same workbook', async ({
  page,
}) => {
  await page.goto('/');
  await typeTarget(page, '1.1');
  const theirs = (await saveAsFile(page)).replace('"title": "Juniper Hollow house"', '"title": "Lower barn"');
  await open(page, 'barn.json', theirs);
  await expect(block(page)).toContainText('Lower barn');
  await expect(block(page)).toContainText(/saved \d+:\d\d/);
  await page.reload();
  await expect(block(page)).toContainText('Lower barn');
  await expect(block(page)).toContainText('as in barn.json');
  await open(page, 'barn.json', theirs);
  await expect(block(page)).toContainText('as in barn.json');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('button', { name: 'All workbooks on this device…' }).click();
  await expect(page.getByRole('dialog').getByText('Lower barn')).toHaveCount(1);
});

test('kept on this device: a reload finds the last edit', async ({ page }) => {
  await page.goto('/');
  await expect(block(page)).toContainText('no changes yet');
  await typeTarget(page, '1.07');
  await expect(block(page)).toContainText(/saved \d+:\d\d/);
  await page.reload();
  await expect(page.locator('#cell-target_ach50')).toContainText('1.07');
  await expect(block(page)).toContainText(/saved \d+:\d\d/);

  // Another job does not take the place of the first; both can be found again.
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('banner').getByRole('button', { name: 'Air test', exact: true }).click();
  await expect(page.getByRole('textbox', { name: 'Job' })).not.toHaveValue('Juniper Hollow house');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('button', { name: /Juniper Hollow house/ }).click();
  await expect(page.locator('#cell-target_ach50')).toContainText('1.07');
});

test('the job’s title is changed in place and undone', async ({ page }) => {
  await page.goto('/');
  const title = page.getByRole('textbox', { name: 'Job' });
  await title.fill('North wing');
  await title.press('Enter');
  await expect(block(page)).toContainText('North wing');
  await expect(page).toHaveTitle('North wing · Close-in');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(title).toHaveValue('Juniper Hollow house');
});

test('where nothing can be kept, a banner says so and work goes on', async ({ page }) => {
  await page.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('no room left', 'QuotaExceededError');
    };
  });
  await page.goto('/');
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
  // What may be kept on a full device does not pass for gone.
  await expect(page.getByRole('alert')).toContainText('cannot be listed');
  await typeTarget(page, '1.1');
  const banner = page.getByRole('alert').filter({ hasText: 'Not kept' });
  await expect(banner).toContainText('Not kept on this device');
  await expect(banner).toContainText('no room left');
  await expect(block(page)).toContainText('not kept');
  await expect(block(page)).toContainText('0.071 under');
  await typeTarget(page, '1.3');
  await expect(block(page)).toContainText('0.27');
  await expect(banner).toBeVisible();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    banner.getByRole('button', { name: 'Save as file' }).click(),
  ]);
  expect(JSON.parse(await readFile(await download.path(), 'utf8'))).toMatchObject({ format: 1 });
});

test('a file that is no workbook is refused in words, and the open job stays', async ({ page }) => {
  await page.goto('/');
  await open(page, 'notes.json', '{ "shopping": ["milk"] }');
  await expect(page.getByRole('alert')).toContainText('notes.json was not opened');
  await expect(page.getByRole('textbox', { name: 'Job' })).toHaveValue('Juniper Hollow house');
  await page.getByRole('button', { name: 'Dismiss' }).click();
  await expect(page.getByRole('alert')).toHaveCount(0);
});

test('markup in a stranger’s labels, notes and texts is text', async ({ page }) => {
  await page.goto('/');
  const saved = await saveAsFile(page);
  const bomb = '<img src=x onerror="document.title=1"><b>bold</b>';
  const workbook = JSON.parse(saved) as {
    title: string;
    sheets: { note: string; sections: { items: object[] }[] }[];
  };
  workbook.title = bomb;
  for (const sheet of workbook.sheets) {
    sheet.note = bomb;
    for (const section of sheet.sections) {
      for (const item of section.items)
        Object.assign(item, 'label' in item ? { label: bomb, note: bomb } : {});
    }
  }
  await open(page, 'stranger.json', JSON.stringify(workbook));
  await expect(page.getByRole('textbox', { name: 'Job' })).toHaveValue(bomb);
  await expect(page.locator('main')).toContainText(bomb);
  await expect(page.locator('main img, main b:not(.card b), header img, footer img')).toHaveCount(0);
  await expect(page).toHaveTitle(`${bomb} · Close-in`);
});

test.describe('on a slow line', () => {
  test.use({ serviceWorkers: 'block' });

  test('a page that comes late takes the focus from no menu', async ({ page, problems }) => {
    await page.route(/InputsPage/, async (route) => {
      await new Promise((resolve) => setTimeout(resolve, 700));
      await route.continue();
    });
    await page.goto('/');
    await page.getByRole('button', { name: 'New', exact: true }).click();
    await page.getByRole('banner').getByRole('button', { name: 'Air test', exact: true }).click();
    await expect(page.getByRole('textbox', { name: 'Job' })).not.toHaveValue('Juniper Hollow house');
    await page.getByRole('button', { name: 'New', exact: true }).click();
    await expect(page.getByRole('heading', { name: 'Inputs of the job' })).toBeVisible();
    await expect(page.getByRole('button', { name: 'New', exact: true })).toHaveAttribute(
      'aria-expanded',
      'true',
    );
    // The worker that is blocked here tells of it.
    problems.splice(0, problems.length, ...problems.filter((problem) => !/service worker/i.test(problem)));
  });
});

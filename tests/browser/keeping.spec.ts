import { readFile } from 'node:fs/promises';
import { checksumOf } from '../../src/workbook/file/checksum.ts';
import { change, kept, loseSecondCopies, title, typeTitle } from './kept-job.ts';
import type { Page } from '@playwright/test';
import { axe, expect, test } from './support.ts';

const SAVED = /saved \d+:\d\d/;

test('the list of workbooks: open, rename, copy, delete and bring back', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('button', { name: 'All workbooks on this device…' }).click();
  const panel = page.getByRole('dialog', { name: 'Workbooks on this device' });
  await expect(panel).toContainText('Nothing is kept yet');
  await panel.getByRole('button', { name: 'Close', exact: true }).click();

  await typeTitle(page, 'North wing');
  await expect(kept(page)).toContainText(SAVED);
  const openList = async () => {
    await page.getByRole('button', { name: 'New', exact: true }).click();
    await page.getByRole('button', { name: 'All workbooks on this device…' }).click();
  };
  await openList();
  const rows = panel.locator('.what');
  await expect(rows).toHaveCount(1);
  await expect(rows).toContainText('open now');
  await expect(rows).toContainText(/\d+ kB · in no file yet/);
  await panel.getByRole('button', { name: 'Copy North wing' }).click();
  await expect(rows).toHaveCount(2);
  await panel.getByRole('button', { name: 'Rename North wing, copy' }).click();
  await panel.getByRole('textbox').fill('South wing');
  await panel.getByRole('textbox').press('Enter');
  await expect(panel.getByRole('button', { name: 'South wing', exact: true })).toBeVisible();
  await panel.getByRole('button', { name: 'Rename North wing' }).click();
  await panel.getByRole('textbox').fill('East wing');
  await panel.getByRole('textbox').press('Enter');
  await expect(title(page)).toHaveValue('East wing');
  expect(await axe(page)).toEqual([]);

  const [download] = await Promise.all([
    page.waitForEvent('download'),
    panel.getByRole('button', { name: 'Download a copy of South wing' }).click(),
  ]);
  expect(JSON.parse(await readFile(await download.path(), 'utf8'))).toMatchObject({ title: 'South wing' });

  await panel.getByRole('button', { name: 'Delete South wing' }).click();
  await expect(rows).toHaveCount(1);
  await panel.getByRole('button', { name: 'Undo' }).click();
  await expect(rows).toHaveCount(2);
  // The open one: the next takes its place, and it can be brought back.
  await panel.getByRole('button', { name: 'Delete East wing' }).click();
  await expect(title(page)).toHaveValue('South wing');
  await panel.getByRole('button', { name: 'Bring back East wing' }).click();
  await panel.getByRole('button', { name: 'East wing', exact: true }).click();
  await expect(title(page)).toHaveValue('East wing');
  await expect(panel).toBeHidden();
  await page.reload();
  await expect(title(page)).toHaveValue(/(East|South) wing/);
});

test('a device that refuses to delete the open workbook: it stays, and the reason is told', async ({
  page,
}) => {
  await page.goto('/');
  await typeTitle(page, 'North wing');
  await expect(kept(page)).toContainText(SAVED);
  await page.evaluate(() => {
    const put = Reflect.get<IDBObjectStore, 'put'>(IDBObjectStore.prototype, 'put');
    IDBObjectStore.prototype.put = function (value: unknown, ...key) {
      if (typeof value === 'object' && value && 'deletedAt' in value)
        throw new DOMException('The disk is read-only', 'UnknownError');
      return put.call(this, value, ...key);
    };
  });
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('button', { name: 'All workbooks on this device…' }).click();
  const panel = page.getByRole('dialog', { name: 'Workbooks on this device' });
  await panel.getByRole('button', { name: 'Delete North wing' }).click();
  await expect(panel).toContainText('The disk is read-only');
  await expect(panel).not.toContainText('is deleted');
  await expect(panel.locator('.what')).toHaveCount(1);
  await expect(title(page)).toHaveValue('North wing');
});

test('a damaged snapshot or log is told, and what can be read is there', async ({ page }) => {
  await page.goto('/');
  for (let n = 1; n <= 8; n++) await typeTitle(page, `Job ${n}`);
  await expect(kept(page)).toContainText(SAVED);
  expect(await change(page, 'log', 'flip')).toBeGreaterThan(3);
  await page.reload();
  await expect(page.getByRole('status').filter({ hasText: 'damaged' })).toContainText(
    'It is whole again, from its second copy',
  );
  await expect(title(page)).toHaveValue('Job 8');
  // Where the second copy is none either.
  await loseSecondCopies(page);
  await page.reload();
  const notes = page.getByRole('status').filter({ hasText: 'damaged' });
  await expect(notes).toContainText('is damaged and was left out');
  // The snapshot, made with one of the first: more than three entries of the log came after it.
  await expect(title(page)).toHaveValue(/^Job [1-4]$/);
  // Going on makes it whole again.
  await typeTitle(page, 'Mended');
  await expect(kept(page)).toContainText(SAVED);
  await page.reload();
  await expect(title(page)).toHaveValue('Mended');
  await expect(notes).toHaveCount(0);
  await change(page, 'snapshots', 'flip');
  await loseSecondCopies(page);
  await page.reload();
  await expect(page.getByRole('alert')).toContainText('What is kept of it on this device is damaged');
  await expect(title(page)).toHaveValue('Juniper Hollow house');
});

test('a browser that lost its database: the workbooks come back from their second copy, and that is told', async ({
  page,
}) => {
  await page.goto('/');
  for (const name of ['North wing', 'South wing', 'West wing']) await typeTitle(page, name);
  await expect(kept(page)).toContainText(SAVED);
  await page.goto('/gallery.html');
  await page.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const request = indexedDB.deleteDatabase('close-in');
        request.onsuccess = resolve;
        request.onerror = reject;
      }),
  );
  await page.goto('/');
  await expect(title(page)).toHaveValue('West wing');
  const note = page.getByRole('status').filter({ hasText: 'From the second copy' });
  await expect(note).toContainText('came back: “West wing”');
  // It is kept like any other again, and told once.
  await typeTitle(page, 'East wing');
  await expect(kept(page)).toContainText(SAVED);
  await page.reload();
  await expect(title(page)).toHaveValue('East wing');
  await expect(note).toHaveCount(0);
});

test('a device without room: said at once, nothing is lost, and kept when there is room again', async ({
  page,
  baseURL,
}) => {
  await page.goto('/');
  await typeTitle(page, 'Before');
  await expect(kept(page)).toContainText(SAVED);
  const session = await page.context().newCDPSession(page);
  const origin = new URL(baseURL ?? '').origin;
  await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1 });
  // The browser looks at its quota only now and then.
  let tries = 0;
  await expect
    .poll(
      async () => {
        await typeTitle(page, `While full ${++tries}`);
        await page.waitForTimeout(1_000);
        return kept(page).textContent();
      },
      { timeout: 60_000 },
    )
    .toContain('not kept');
  const banner = page.getByRole('alert');
  await expect(banner).toContainText('Not kept on this device');
  await expect(banner).toContainText('no room is left on this device');
  await expect(kept(page)).toContainText('not kept');
  await typeTitle(page, 'Still typing');
  await expect(kept(page)).toContainText('not kept');
  // Another job would push this one out: that is asked first.
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('banner').getByRole('button', { name: 'Air test', exact: true }).click();
  await expect(page.getByRole('alert').first()).toContainText('kept nowhere');
  await page.getByRole('button', { name: 'Stay here' }).click();
  await expect(title(page)).toHaveValue('Still typing');
  await session.send('Storage.overrideQuotaForOrigin', { origin });
  await expect
    .poll(
      async () => {
        const again = banner.getByRole('button', { name: 'Try again' });
        if (await again.isVisible()) await again.click();
        return kept(page).textContent();
      },
      { timeout: 60_000, intervals: [1_000] },
    )
    .toMatch(SAVED);
  await expect(banner).toHaveCount(0);
  await page.reload();
  await expect(title(page)).toHaveValue('Still typing');
});

test('the browser is asked once to keep what would be missed, and a file is asked for after many edits', async ({
  page,
}) => {
  await page.addInitScript(() => {
    const asked = { times: 0 };
    Object.assign(globalThis, { asked });
    navigator.storage.persisted = () => Promise.resolve(false);
    navigator.storage.persist = () => Promise.resolve(++asked.times > 0);
  });
  const asked = () =>
    page.evaluate(() => (globalThis as unknown as { asked: { times: number } }).asked.times);
  await page.goto('/');
  await typeTitle(page, 'One edit');
  await expect(kept(page)).toContainText(SAVED);
  expect(await asked()).toBe(0);
  for (let n = 2; n <= 26; n++) await typeTitle(page, `Edit ${n}`);
  await expect.poll(asked).toBe(1);
  await expect(kept(page)).toContainText(SAVED);
  const reminder = page.getByRole('status').filter({ hasText: 'A file is the backup' });
  await expect(reminder).toHaveCount(0);
  await page.clock.setSystemTime(Date.now() + 8 * 86_400_000);
  await page.reload();
  await expect(title(page)).toHaveValue('Edit 26');
  await expect(reminder).toContainText('26 edits and it was never saved as a file');
  await reminder.getByRole('button', { name: 'Later' }).click();
  await expect(reminder).toHaveCount(0);
  await page.clock.setSystemTime(Date.now() + 16 * 86_400_000);
  await page.reload();
  await expect(reminder).toBeVisible();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    reminder.getByRole('button', { name: 'Save as file' }).click(),
  ]);
  expect(JSON.parse(await readFile(await download.path(), 'utf8'))).toMatchObject({ title: 'Edit 26' });
  await expect(reminder).toHaveCount(0);
});

test('an error of the page offers what was typed, as a file', async ({ page, problems }) => {
  await page.goto('/');
  await typeTitle(page, 'Precious');
  await page.evaluate(() => {
    setTimeout(() => {
      throw new Error('made to fail');
    });
  });
  const rescue = page.getByRole('alertdialog', { name: 'Something went wrong' });
  await expect(rescue).toContainText('made to fail');
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    rescue.getByRole('button', { name: 'Download my data' }).click(),
  ]);
  expect(JSON.parse(await readFile(await download.path(), 'utf8'))).toMatchObject({ title: 'Precious' });
  expect(await axe(page, '.rescue')).toEqual([]);
  await rescue.getByRole('button', { name: 'Go on' }).click();
  await expect(rescue).toHaveCount(0);
  expect(problems.splice(0).join()).toContain('made to fail');
});

test('what version 1 of the page kept is found', async ({ page }) => {
  const text = await readFile(new URL('../workbook/file/frozen/format-1.json', import.meta.url), 'utf8');
  // A page of the origin without the app.
  await page.goto('/icon.svg');
  await page.evaluate(async (file) => {
    const open = indexedDB.open('close-in', 1);
    open.onupgradeneeded = () => {
      const store = open.result.createObjectStore('workbooks', { keyPath: 'id' });
      store.createIndex('savedAt', 'savedAt');
      store.put({ id: 'old', title: 'Kept long ago', text: file, savedAt: 1_700_000_000_000 });
    };
    await new Promise((resolve) => (open.onsuccess = resolve));
    open.result.close();
  }, text);
  await page.goto('/');
  const { title: expected } = JSON.parse(text) as { title: string };
  await expect(title(page)).toHaveValue(expected);
  await expect(kept(page)).toContainText(SAVED);
  await typeTitle(page, 'Edited since');
  await expect(kept(page)).toContainText(SAVED);
  await page.reload();
  await expect(title(page)).toHaveValue('Edited since');
});

test('what version 2 of the page kept, which knew no files to write in place, is found', async ({ page }) => {
  const text = await readFile(new URL('../workbook/file/frozen/format-1.json', import.meta.url), 'utf8');
  await page.goto('/icon.svg');
  await page.evaluate(
    async ([written, checksum]) => {
      const open = indexedDB.open('close-in', 2);
      open.onupgradeneeded = () => {
        const at = 1_700_000_000_000;
        const head = { id: 'old', title: 'Kept before', format: 1, sequence: 4, writer: '', createdAt: at };
        const heads = open.result.createObjectStore('heads', { keyPath: 'id' });
        heads.put({ ...head, savedAt: at, characters: written.length, filed: { sequence: 3, at } });
        const snapshots = open.result.createObjectStore('snapshots', { keyPath: ['id', 'sequence'] });
        snapshots.put({ id: 'old', sequence: 4, text: written, checksum, at });
        open.result.createObjectStore('log', { keyPath: ['id', 'sequence'] });
      };
      await new Promise((resolve) => (open.onsuccess = resolve));
      open.result.close();
    },
    [text, checksumOf(text)] as const,
  );
  await page.goto('/');
  const { title: expected } = JSON.parse(text) as { title: string };
  await expect(title(page)).toHaveValue(expected);
  await expect(kept(page)).toContainText('1 edit behind');
  await typeTitle(page, 'Edited since');
  await expect(kept(page)).toContainText(SAVED);
  await page.reload();
  await expect(title(page)).toHaveValue('Edited since');
});

test('beside a newer version: its workbook is for reading, its database is left alone', async ({ page }) => {
  await page.goto('/');
  await typeTitle(page, 'Shared');
  await expect(kept(page)).toContainText(SAVED);
  await change(page, 'heads', '{"format": 2}');
  await page.reload();
  await expect(page.getByRole('status').filter({ hasText: 'newer version' })).toContainText(
    'for reading only',
  );
  await typeTitle(page, 'Not allowed');
  await page.reload();
  await expect(title(page)).toHaveValue('Shared');
  await change(page, 'heads', '{"format": 1}');
  await page.reload();

  // A newer page in another tab brings a newer database: this tab lets go of it, and says what to do.
  const newer = await page.context().newPage();
  await newer.goto('/icon.svg');
  await newer.evaluate(async () => {
    const open = indexedDB.open('close-in', 4);
    await new Promise((resolve) => (open.onsuccess = resolve));
    open.result.close();
  });
  await typeTitle(page, 'After');
  await expect(page.getByRole('alert')).toContainText('a newer version of this page keeps them');
  await page.reload();
  await expect(page.getByRole('alert')).toContainText('load this page again');
});

test('beside an old tab that holds the database: says which tab to close', async ({ page }) => {
  const old = await page.context().newPage();
  await old.goto('/icon.svg');
  await old.evaluate(async () => {
    const open = indexedDB.open('close-in', 1);
    open.onupgradeneeded = () => {
      open.result.createObjectStore('workbooks', { keyPath: 'id' });
    };
    await new Promise((resolve) => (open.onsuccess = resolve));
    Object.assign(globalThis, { held: open.result });
  });
  await page.goto('/');
  await expect(page.getByRole('alert')).toContainText('another tab holds an older version of this page');
  await old.close();
  await typeTitle(page, 'Goes on');
  await expect(kept(page)).toContainText(SAVED);
});

test.describe('a database that does not open', () => {
  /** The first so many attempts of every page that is loaded fail, as they do right after a crash. */
  const fail = (page: Page, times: number) =>
    page.evaluate((n) => {
      localStorage.setItem('attempts that fail', String(n));
    }, times);

  test.beforeEach(async ({ page }) => {
    await page.addInitScript(() => {
      const open = Reflect.get<IDBFactory, 'open'>(IDBFactory.prototype, 'open');
      let left = Number(localStorage.getItem('attempts that fail') ?? 0);
      IDBFactory.prototype.open = function (...given) {
        if (left-- > 0) throw new DOMException('Internal error opening backing store', 'UnknownError');
        return open.apply(this, given);
      };
    });
    await page.goto('/');
    await typeTitle(page, 'Not gone');
    await expect(kept(page)).toContainText(SAVED);
  });

  test('at once, opens a moment later', async ({ page }) => {
    await fail(page, 3);
    await page.reload();
    await expect(title(page)).toHaveValue('Not gone');
    await expect(page.getByRole('alert')).toHaveCount(0);
  });

  test('for long, is told beside the demo, and does not pass for empty', async ({ page }) => {
    await fail(page, 99);
    await page.reload();
    await expect(page.getByRole('alert')).toContainText('cannot be listed');
    await expect(page.getByRole('alert')).toContainText('Load this page again');
    await fail(page, 0);
    await page.reload();
    await expect(title(page)).toHaveValue('Not gone');
  });
});

import type { Page } from '@playwright/test';
import { kept, title, typeTitle } from './kept-job.ts';
import { axe, expect, test } from './support.ts';

test.use({ writesFiles: true });

const SAVED = /saved \d+:\d\d/;

/**
 * Real handles and a real disk: files of the origin's private file system, which have the same interface as the
 * person's own. Only the pickers are the test's, and what the browser says when it is asked for permission.
 */
async function withDisk(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const root = () => navigator.storage.getDirectory();
    const pick = async (create: boolean) => {
      const name = localStorage.getItem('pick') ?? '';
      if (name === '') throw new DOMException('closed', 'AbortError');
      return (await root()).getFileHandle(name, { create });
    };
    const permission = () => Promise.resolve(localStorage.getItem('permission') ?? 'granted');
    Object.assign(globalThis, {
      showOpenFilePicker: async () => [await pick(false)],
      showSaveFilePicker: () => pick(true),
    });
    Object.assign(FileSystemHandle.prototype, { queryPermission: permission, requestPermission: permission });
    const { createWritable } = FileSystemFileHandle.prototype as {
      createWritable: (this: FileSystemFileHandle) => Promise<FileSystemWritableFileStream>;
    };
    FileSystemFileHandle.prototype.createWritable = async function (this: FileSystemFileHandle) {
      const stream = await createWritable.call(this);
      if (localStorage.getItem('disk') === 'full')
        stream.close = () => Promise.reject(new DOMException('the disk is full', 'QuotaExceededError'));
      return stream;
    };
  });
}

const set = (page: Page, key: string, value: string) =>
  page.evaluate(([name, text]) => localStorage.setItem(name, text), [key, value] as const);

const onDisk = (page: Page, name: string) =>
  page.evaluate(async (file) => {
    const root = await navigator.storage.getDirectory();
    return (await (await root.getFileHandle(file)).getFile()).text();
  }, name);

/** As another program would. */
const writeElsewhere = (page: Page, name: string, text: string) =>
  page.evaluate(
    async ([file, content]) => {
      const stream = await (
        await (await navigator.storage.getDirectory()).getFileHandle(file, { create: true })
      ).createWritable();
      await stream.write(content);
      await stream.close();
    },
    [name, text] as const,
  );

const titleOf = (text: string) => (JSON.parse(text) as { title: string }).title;
const retitled = (text: string, to: string) => JSON.stringify({ ...(JSON.parse(text) as object), title: to });
const notice = (page: Page, text: string) => page.locator('.notice').filter({ hasText: text });

async function startSaved(page: Page, name = 'job.json', as = 'First') {
  await withDisk(page);
  await page.goto('/');
  await typeTitle(page, as);
  await expect(kept(page)).toContainText('in no file yet');
  await set(page, 'pick', name);
  await page.keyboard.press('Control+s');
  await expect(kept(page)).toContainText(`as in ${name}`);
}

test('saved to a file, edited, saved again: the same file, after a reload too', async ({ page }) => {
  await startSaved(page);
  expect(titleOf(await onDisk(page, 'job.json'))).toBe('First');
  // No picker from now on.
  await set(page, 'pick', '');
  await typeTitle(page, 'Second');
  await expect(kept(page)).toContainText('1 edit not in job.json');
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await expect(kept(page)).toContainText('as in job.json');
  expect(titleOf(await onDisk(page, 'job.json'))).toBe('Second');

  await typeTitle(page, 'Third');
  await expect(kept(page)).toContainText(SAVED);
  await page.reload();
  await expect(title(page)).toHaveValue('Third');
  await expect(kept(page)).toContainText('1 edit not in job.json');
  await expect(page.getByRole('button', { name: 'Save', exact: true })).toBeVisible();
  // What is still being typed goes into the file with it.
  await title(page).fill('Fourth');
  await page.keyboard.press('Control+s');
  await expect(kept(page)).toContainText('as in job.json');
  expect(titleOf(await onDisk(page, 'job.json'))).toBe('Fourth');
  await page.reload();
  await expect(kept(page)).toContainText('as in job.json');
});

test('Ctrl+S leaves the person where they were typing: in the job’s name, in a cell, in a table', async ({
  page,
}) => {
  await startSaved(page);
  await title(page).fill('Fifth');
  await page.keyboard.press('Home');
  await page.keyboard.press('Control+s');
  await expect(kept(page)).toContainText('as in job.json');
  await expect(title(page)).toBeFocused();
  await page.keyboard.type('The ');
  await expect(title(page)).toHaveValue('The Fifth');
  await page.keyboard.press('Enter');

  const grid = page.getByRole('grid', { name: 'Readings' }).first();
  const cell = grid.getByRole('gridcell', { name: '99.80 ± 0.50' });
  await cell.click();
  await page.keyboard.type('98.7');
  await page.keyboard.press('Control+s');
  await expect(kept(page)).toContainText('as in job.json');
  expect(await onDisk(page, 'job.json')).toContain('"98.7"');
  await expect(grid.getByRole('gridcell', { name: /^98\.7/ })).toBeFocused();
  await page.keyboard.press('ArrowDown');
  await expect(grid.getByRole('gridcell', { name: /^86\.30/ })).toBeFocused();
});

test('opened from a file: it is saved there, and opening it again finds the same workbook', async ({
  page,
}) => {
  await startSaved(page, 'other.json', 'Other');
  const text = await onDisk(page, 'other.json');
  await writeElsewhere(page, 'sent.json', retitled(text, 'Sent'));
  await set(page, 'pick', 'sent.json');
  await page.getByRole('button', { name: 'Open', exact: true }).click();
  await expect(title(page)).toHaveValue('Sent');
  await expect(kept(page)).toContainText('as in sent.json');
  await typeTitle(page, 'Answered');
  await page.keyboard.press('Control+s');
  await expect(kept(page)).toContainText('as in sent.json');
  expect(titleOf(await onDisk(page, 'sent.json'))).toBe('Answered');
  expect(titleOf(await onDisk(page, 'other.json'))).toBe('Other');
  await typeTitle(page, 'Answered twice');
  await expect(kept(page)).toContainText(SAVED);

  // Another one between, then the file again: the edits that are not in it are there.
  await set(page, 'pick', 'other.json');
  await page.getByRole('button', { name: 'Open', exact: true }).click();
  await expect(title(page)).toHaveValue('Other');
  await set(page, 'pick', 'sent.json');
  await page.getByRole('button', { name: 'Open', exact: true }).click();
  await expect(title(page)).toHaveValue('Answered twice');
  await expect(kept(page)).toContainText('1 edit not in sent.json');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('button', { name: 'All workbooks on this device…' }).click();
  await expect(page.getByRole('dialog').locator('.what')).toHaveCount(2);
});

test('changed elsewhere meanwhile: nothing is written over unasked, and whichever is chosen, the other stays', async ({
  page,
}) => {
  await startSaved(page);
  const text = await onDisk(page, 'job.json');
  await typeTitle(page, 'Mine');
  await writeElsewhere(page, 'job.json', retitled(text, 'Theirs'));
  await page.keyboard.press('Control+s');
  const changed = notice(page, 'job.json was changed elsewhere');
  await expect(changed).toBeVisible();
  expect(titleOf(await onDisk(page, 'job.json'))).toBe('Theirs');
  expect(await axe(page)).toEqual([]);

  await changed.getByRole('button', { name: 'Keep what is here' }).click();
  await expect(changed).toHaveCount(0);
  await expect(kept(page)).toContainText('as in job.json');
  expect(titleOf(await onDisk(page, 'job.json'))).toBe('Mine');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await expect(page.getByRole('button', { name: 'Theirs, as it was in job.json' })).toBeVisible();
  await page.keyboard.press('Escape');

  // The other way: what the file holds is opened, and what was here stays among the workbooks.
  await typeTitle(page, 'Mine again');
  await expect(kept(page)).toContainText(SAVED);
  await writeElsewhere(page, 'job.json', retitled(text, 'Theirs again'));
  // Seen without saving, by coming back to the page.
  await page.evaluate(() => dispatchEvent(new Event('focus')));
  await changed.getByRole('button', { name: 'Open what the file holds' }).click();
  await expect(title(page)).toHaveValue('Theirs again');
  await expect(kept(page)).toContainText('as in job.json');
  await typeTitle(page, 'Answered');
  await page.keyboard.press('Control+s');
  await expect(kept(page)).toContainText('as in job.json');
  expect(titleOf(await onDisk(page, 'job.json'))).toBe('Answered');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('button', { name: 'Mine again' }).click();
  await expect(title(page)).toHaveValue('Mine again');
  // It has no file of its own any more, so it cannot be written over the other's.
  await expect(page.getByRole('button', { name: 'Save as file' })).toBeVisible();
});

test('changed elsewhere while nothing was edited here: opening the file again shows what it holds now', async ({
  page,
}) => {
  await startSaved(page);
  await writeElsewhere(page, 'job.json', retitled(await onDisk(page, 'job.json'), 'Newer'));
  await page.getByRole('button', { name: 'Open', exact: true }).click();
  await expect(title(page)).toHaveValue('Newer');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('button', { name: 'All workbooks on this device…' }).click();
  const dialog = page.getByRole('dialog');
  await expect(dialog.locator('.what')).toHaveCount(1);
  await expect(dialog.getByRole('button', { name: 'Bring back First' })).toBeVisible();
  await page.reload();
  await expect(title(page)).toHaveValue('Newer');
  await expect(kept(page)).toContainText('as in job.json');
});

test('permission refused, the disk full, the file gone: said plainly, the file as it was, and other ways out', async ({
  page,
}) => {
  await startSaved(page);
  await typeTitle(page, 'Second');
  await set(page, 'permission', 'denied');
  await page.keyboard.press('Control+s');
  const refused = notice(page, 'was not allowed to write job.json');
  await expect(refused).toBeVisible();
  await expect(kept(page)).toContainText('1 edit not in job.json');
  expect(titleOf(await onDisk(page, 'job.json'))).toBe('First');
  await set(page, 'permission', 'granted');
  await set(page, 'disk', 'full');
  await refused.getByRole('button', { name: 'Ask again' }).click();
  const failed = notice(page, 'job.json was not written');
  await expect(failed).toContainText('the disk is full');
  expect(titleOf(await onDisk(page, 'job.json'))).toBe('First');
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    failed.getByRole('button', { name: 'Download a copy' }).click(),
  ]);
  expect(download.suggestedFilename()).toBe('second.json');
  await expect(kept(page)).toContainText('1 edit not in job.json');
  await set(page, 'disk', '');
  await failed.getByRole('button', { name: 'Try again' }).click();
  await expect(kept(page)).toContainText('as in job.json');
  expect(titleOf(await onDisk(page, 'job.json'))).toBe('Second');

  await typeTitle(page, 'Third');
  await page.evaluate(async () => (await navigator.storage.getDirectory()).removeEntry('job.json'));
  await page.keyboard.press('Control+s');
  const gone = notice(page, 'job.json is no longer where it was');
  await set(page, 'pick', 'moved.json');
  await gone.getByRole('button', { name: 'Save as another file' }).click();
  await expect(kept(page)).toContainText('as in moved.json');
  expect(titleOf(await onDisk(page, 'moved.json'))).toBe('Third');
});

test('a file whose picker is closed or shut: nothing happens, or a copy is downloaded and called one', async ({
  page,
}) => {
  await withDisk(page);
  await page.goto('/');
  await typeTitle(page, 'First');
  await page.getByRole('button', { name: 'Save as file' }).click();
  await expect(kept(page)).toContainText('in no file yet');
  await page.evaluate(() => {
    Object.assign(globalThis, {
      showSaveFilePicker: () => Promise.reject(new DOMException('by policy', 'SecurityError')),
    });
  });
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as file' }).click(),
  ]);
  expect(download.suggestedFilename()).toBe('first.json');
  await expect(kept(page)).toContainText('downloaded');
  await typeTitle(page, 'Second');
  await expect(kept(page)).toContainText('1 edit behind');
});

test('two tabs: the one that took over writes the same file, and does not take the other’s save for a stranger’s', async ({
  context,
  page,
}) => {
  await startSaved(page);
  const second = await context.newPage();
  await withDisk(second);
  await second.goto('/');
  await expect(notice(second, 'For reading only')).toBeVisible();
  await typeTitle(page, 'From the first');
  await page.keyboard.press('Control+s');
  await expect(kept(page)).toContainText('as in job.json');
  await second.getByRole('button', { name: 'Edit here instead' }).click();
  await expect(notice(page, 'For reading only')).toBeVisible();
  await typeTitle(second, 'From the second');
  await second.keyboard.press('Control+s');
  await expect(kept(second)).toContainText('as in job.json');
  await expect(notice(second, 'changed elsewhere')).toHaveCount(0);
  expect(titleOf(await onDisk(page, 'job.json'))).toBe('From the second');
  await expect(kept(page)).toContainText('as in job.json');
});

test('a file that is dropped keeps its handle', async ({ page }) => {
  await startSaved(page, 'other.json', 'Other');
  await writeElsewhere(page, 'dropped.json', retitled(await onDisk(page, 'other.json'), 'Dropped'));
  await page.evaluate(async () => {
    const handle = await (await navigator.storage.getDirectory()).getFileHandle('dropped.json');
    const transfer = new DataTransfer();
    transfer.items.add(await handle.getFile());
    Object.assign(DataTransferItem.prototype, { getAsFileSystemHandle: () => Promise.resolve(handle) });
    window.dispatchEvent(new DragEvent('drop', { dataTransfer: transfer, cancelable: true, bubbles: true }));
  });
  await page.getByRole('button', { name: 'Open it' }).click();
  await expect(title(page)).toHaveValue('Dropped');
  await typeTitle(page, 'Dropped and edited');
  await page.keyboard.press('Control+s');
  await expect(kept(page)).toContainText('as in dropped.json');
  expect(titleOf(await onDisk(page, 'dropped.json'))).toBe('Dropped and edited');
});

test('a browser that cannot write files says that a copy was downloaded, and makes none by Ctrl S', async ({
  page,
}) => {
  await page.addInitScript(() => {
    Reflect.deleteProperty(globalThis, 'showSaveFilePicker');
  });
  await page.goto('/');
  await typeTitle(page, 'First');
  let downloads = 0;
  page.on('download', () => downloads++);
  await page.keyboard.press('Control+s');
  await expect(page.locator('.unseen[role="status"]')).toContainText('Kept on this device');
  expect(downloads).toBe(0);
  await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as file' }).click(),
  ]);
  await expect(kept(page)).toContainText('downloaded');
});

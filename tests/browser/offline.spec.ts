import { readFile, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { kept, title, typeTitle } from './kept-job.ts';
import { expect, test } from './support.ts';

test.use({ serviceWorkers: 'allow' });

const WORKER = fileURLToPath(new URL('../../dist/sw.js', import.meta.url));

test('without network after the first visit: open, edit, reload, save, new job from a template', async ({
  context,
  page,
}) => {
  await page.goto('/');
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    if (!navigator.serviceWorker.controller)
      await new Promise((resolve) => {
        navigator.serviceWorker.addEventListener('controllerchange', resolve, { once: true });
      });
  });
  await context.setOffline(true);
  await page.reload();
  await typeTitle(page, 'In the cellar');
  await expect(kept(page)).toContainText(/saved \d+:\d\d/);
  await page.reload();
  await expect(title(page)).toHaveValue('In the cellar');
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as file' }).first().click(),
  ]);
  expect(JSON.parse(await readFile(await download.path(), 'utf8'))).toMatchObject({ title: 'In the cellar' });
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('banner').getByRole('button', { name: 'Air test', exact: true }).click();
  await expect(title(page)).not.toHaveValue('In the cellar');
  const fresh = await context.newPage();
  await fresh.goto('/');
  await expect(title(fresh)).toHaveValue('In the cellar');
});

test('without network the solver proves a cutting plan', async ({ context, page }) => {
  test.setTimeout(180_000);
  await page.goto('/');
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    if (!navigator.serviceWorker.controller)
      await new Promise((resolve) => {
        navigator.serviceWorker.addEventListener('controllerchange', resolve, { once: true });
      });
  });
  await context.setOffline(true);
  await page.reload();
  await page.getByRole('navigation').getByRole('button', { name: /^Trim/ }).click();
  await expect(page.locator('#cell-trim_price .number')).toHaveText(/1[,.]?065\.70/, { timeout: 150_000 });
  await expect(page.locator('#figures')).toContainText('least price, proved');
});

test('can be installed: a manifest with a name, a start and icons that are there', async ({
  page,
  request,
}) => {
  await page.goto('/');
  const address = await page.locator('link[rel="manifest"]').getAttribute('href');
  const manifest = (await (await request.get(address ?? '')).json()) as {
    name: string;
    start_url: string;
    display: string;
    icons: { src: string; sizes: string; purpose?: string }[];
    file_handlers: { action: string; accept: Record<string, string[]> }[];
  };
  expect(manifest).toMatchObject({ name: 'Close-in', start_url: './', display: 'standalone' });
  for (const size of ['192x192', '512x512'])
    expect(manifest.icons.some(({ sizes }) => sizes === size)).toBe(true);
  expect(manifest.icons.some(({ purpose }) => purpose === 'maskable')).toBe(true);
  for (const { src } of manifest.icons) expect((await request.get(src)).ok()).toBe(true);
  expect(manifest.file_handlers).toMatchObject([{ action: './', accept: { 'application/json': ['.json'] } }]);
});

test('the browser’s own reader of manifests takes this one whole, file handlers too, and could install it', async ({
  context,
  page,
}) => {
  const devtools = await context.newCDPSession(page);
  const read = async () => {
    await page.goto('/');
    const { errors } = await devtools.send('Page.getAppManifest');
    return errors.map(({ message }) => message);
  };
  expect(await read()).toEqual([]);
  const { installabilityErrors } = await devtools.send('Page.getInstallabilityErrors');
  expect(installabilityErrors).toEqual([]);
  // It does look at them: an extension without its dot is told.
  await page.route('**/manifest.webmanifest', async (route) => {
    const manifest = (await (await route.fetch()).json()) as object;
    const json = { ...manifest, file_handlers: [{ action: './', accept: { 'application/json': ['json'] } }] };
    await route.fulfill({ json, contentType: 'application/manifest+json' });
  });
  expect((await read()).join()).toContain('FileHandler ignored');
});

test.describe('files that the system hands over', () => {
  test.use({ writesFiles: true });

  test('are opened and saved in place; one that cannot be read is told', async ({ page }) => {
    const text = await readFile(new URL('../../templates/trim.json', import.meta.url), 'utf8');
    // Only the system's list of files is missing here: queue, handles and disk are the browser's own.
    await page.addInitScript(() => {
      const queue = (
        globalThis as unknown as { LaunchQueue: { prototype: { setConsumer: (consumer: unknown) => void } } }
      ).LaunchQueue.prototype;
      const { setConsumer } = queue;
      queue.setConsumer = function (consumer) {
        setConsumer.call(this, consumer);
        Object.assign(globalThis, { consumer });
      };
    });
    await page.goto('/');
    const launch = (name: string, content?: string) =>
      page.evaluate(
        async ([file, written]) => {
          const root = await navigator.storage.getDirectory();
          const handle = await root.getFileHandle(file, { create: true });
          const stream = await handle.createWritable();
          await stream.write(written ?? '');
          await stream.close();
          if (written === undefined) await root.removeEntry(file);
          (globalThis as unknown as { consumer: (launch: object) => void }).consumer({ files: [handle] });
        },
        [name, content] as const,
      );
    await expect.poll(() => page.evaluate(() => 'consumer' in globalThis)).toBe(true);
    await launch('from-the-list.json', text);
    await expect(title(page)).toHaveValue('Trim');
    await expect(kept(page)).toContainText('as in from-the-list.json');
    await launch('gone.json');
    await expect(page.getByRole('alert')).toContainText('gone.json could not be read');
    await typeTitle(page, 'Trim of the north wing');
    await page.keyboard.press('Control+s');
    await expect(kept(page)).toContainText('as in from-the-list.json');
    const saved = await page.evaluate(async () => {
      const root = await navigator.storage.getDirectory();
      return (await (await root.getFileHandle('from-the-list.json')).getFile()).text();
    });
    expect(JSON.parse(saved)).toMatchObject({ title: 'Trim of the north wing' });
  });
});

test('a new version waits until it is loaded; an edit made before is there after', async ({ page }) => {
  await page.goto('/');
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.reload();
  await typeTitle(page, 'Before the new version');
  await expect(kept(page)).toContainText(/saved \d+:\d\d/);
  const script = await readFile(WORKER, 'utf8');
  try {
    await writeFile(WORKER, `${script}\n// another version\n`);
    await page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.update());
    const notice = page.getByRole('status').filter({ hasText: 'A new version of Close-in is ready' });
    await expect(notice).toBeVisible();
    await typeTitle(page, 'Still the old one');
    await expect(kept(page)).toContainText(/saved \d+:\d\d/);
    await Promise.all([
      page.waitForEvent('load'),
      notice.getByRole('button', { name: 'Load it now' }).click(),
    ]);
    await expect(title(page)).toHaveValue('Still the old one');
    await expect(notice).toHaveCount(0);
  } finally {
    await writeFile(WORKER, script);
  }
});

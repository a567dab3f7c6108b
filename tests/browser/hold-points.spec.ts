import { readFile } from 'node:fs/promises';
import type { Locator, Page } from '@playwright/test';
import { axe, expect, test } from './support.ts';

interface Item {
  kind: string;
  name?: string;
  id: string;
  text?: string;
  rows?: Record<string, string>[];
}
interface File {
  sheets: { id: string; title: string; sections: { id: string; title: string; items: Item[] }[] }[];
}

async function demo(): Promise<File> {
  return JSON.parse(
    await readFile(new URL('../../templates/juniper-hollow.json', import.meta.url), 'utf8'),
  ) as File;
}

function itemOf(file: File, name: string): Item {
  for (const { sections } of file.sheets)
    for (const { items } of sections)
      for (const item of items) if (item.name === name || item.id === name) return item;
  throw new Error(`no item ${name}`);
}

function enter(file: File, table: string, mark: string, entries: Record<string, string>): void {
  const row = itemOf(file, table).rows?.find((each) => each.mark === mark);
  if (!row) throw new Error(`no row ${mark} in ${table}`);
  Object.assign(row, entries);
}

async function open(page: Page, file: File | string): Promise<void> {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open', exact: true }).click(),
  ]);
  const text = typeof file === 'string' ? file : JSON.stringify(file);
  await chooser.setFiles({ name: 'job.json', mimeType: 'application/json', buffer: Buffer.from(text) });
}

async function go(page: Page, sheet: string): Promise<void> {
  await page.getByRole('navigation', { name: 'Worksheets' }).getByRole('button', { name: sheet }).click();
  await expect(page.getByRole('heading', { level: 1, name: sheet, exact: true })).toBeVisible();
}

/** A value of the row that shows `lead`, typed as a person does. */
async function typeInRow(grid: Locator, lead: string, column: string, text: string): Promise<void> {
  const row = grid.locator('tbody tr').filter({ has: grid.page().getByText(lead, { exact: true }) });
  await row.first().locator(`[data-column="${column}"]`).click();
  await grid.page().keyboard.type(text);
  await grid.page().keyboard.press('Enter');
}

test('the point before board turns from hold to release with the retest and the last leak, and says so when a condition fails later', async ({
  page,
}) => {
  const file = await demo();
  for (const mark of ['F04', 'F09']) enter(file, 'framing_readings', mark, { reading: '0.0625' });
  enter(file, 'framing_moisture', 'M4', { moisture: '11' });
  enter(file, 'leak_finds', 'L15', { status: 'sealed' });
  enter(file, 'penetrations', 'P10', { status: 'closed' });
  itemOf(file, 'tests').rows?.push({
    $id: 'last',
    test: 'last before board',
    stage: 'before cover',
    direction: 'depressurise',
    date: 'day 138',
    indoor_temperature: '65',
    outdoor_temperature: '38',
    wind_speed: '4',
    baseline_before: '-2.0',
    baseline_after: '-1.6',
  });
  itemOf(file, 'shown_test').text = 'last before board';
  const readings = (itemOf(file, 'readings').rows ?? [])
    .filter(({ test: of }) => of === 'sealed, depressurised')
    .map((row) => [row.fan_range, row.house_pressure, Number(row.fan_pressure) * 0.9].join('\t'));
  expect(readings.length).toBeGreaterThan(5);

  await page.goto('/');
  await open(page, file);
  await go(page, 'Hold points');
  const may = page.locator('#cell-board_may_start .value');
  await expect(may).toHaveText('hold');
  // Why it holds leads to the cell that says so.
  const holds = page.locator('#text-hold_now');
  await expect(holds).toContainText('Framing within limits: met; dry: met. Leaks closed: not met');
  await holds.getByRole('link', { name: 'not met' }).first().click();
  await expect(page.locator('#cell-finds_leaks')).toBeInViewport();

  await go(page, 'Air test');
  const taken = page.getByRole('grid', { name: 'Readings' });
  await taken.locator('[data-at="0:0"]').click();
  await page.evaluate((plain) => {
    const data = new DataTransfer();
    data.setData('text/plain', plain);
    const paste = new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true });
    document.activeElement?.dispatchEvent(paste);
  }, readings.join('\n'));
  await page.getByRole('button', { name: /^Paste, adding/ }).click();
  await expect(taken).toHaveAttribute('aria-rowcount', String(readings.length + 2));
  await go(page, 'Hold points');
  await expect(may).toHaveText('hold');

  await go(page, 'Leaks');
  await typeInRow(page.getByRole('grid', { name: /Leak/ }).first(), 'L16', 'status', 's');
  await go(page, 'Hold points');
  await expect(may).toHaveText('ready to release');

  const points = page.getByRole('grid', { name: 'Hold points, in order' });
  const board = 'board may start';
  await typeInRow(points, board, 'released', 'y');
  await expect(may).toHaveText('hold: write who released it and when');
  await typeInRow(points, board, 'who', 'site lead');
  await typeInRow(points, board, 'released_on', 'day 139');
  await expect(may).toHaveText('released');

  await go(page, 'Leaks');
  await typeInRow(page.getByRole('grid', { name: /Leak/ }).first(), 'L07', 'status', 'o');
  await go(page, 'Hold points');
  await expect(may).toContainText('a condition fails after the release');
  const row = points.locator('tbody tr').filter({ has: page.getByText(board, { exact: true }) });
  await expect(row.first()).toContainText('no leak find of the size that holds is open');

  // Against it stands nothing but a written reason, and the reason is printed.
  const reason = 'door reached from both sides until day 150';
  const conditions = page.getByRole('grid', { name: 'Conditions' });
  await typeInRow(conditions, 'no leak find of the size that holds is open', 'reason', reason);
  await expect(may).toHaveText('released against a condition, with a reason');
  await page.getByRole('button', { name: 'Report', exact: true }).click();
  const report = page.getByRole('region', { name: 'Report' });
  await report.getByLabel('Report').selectOption('sections');
  await report.getByRole('checkbox', { name: 'Hold points', exact: true }).first().check();
  await expect(report.locator('article')).toContainText(reason);
  await expect(report.locator('article')).toContainText('released against a condition, with a reason');
});

test('a text shows its cells as they stand, follows a renaming and the units, and says what stands for nothing', async ({
  page,
}) => {
  await page.goto('/');
  await go(page, 'Trade sheets');
  const text = page.locator('#text-board_before');
  await expect(text).toContainText(
    '1.038 ± 0.033 1/h at 50 Pa in the last test before the board is hung (stage “after sealing”)',
  );
  await text.getByRole('button', { name: 'Edit the text' }).click();
  const editor = page.getByRole('textbox', { name: 'Text' });
  await editor.press('Control+End');
  await editor.pressSequentially(' Close {hole_to');
  await page.getByRole('option', { name: /hole_to_close/ }).click();
  await editor.pressSequentially(', not {hole_two} or {{this}.');
  await editor.press('Control+Enter');
  await expect(text).toContainText('Close 2.4 in², not {hole_two}');
  await expect(text).toContainText('Nothing is named hole_two.');
  await expect(text).toContainText('or {this}.');
  await expect(page.getByRole('contentinfo', { name: 'Title block' })).toContainText('1 fault');
  expect(await axe(page, 'main')).toEqual([]);

  await page.getByRole('button', { name: 'm · m³/h' }).click();
  await expect(text).toContainText('Close 15 cm²');

  // Renamed where it stands; the text is among what reads it.
  await text.getByRole('link', { name: '15 cm²' }).click();
  const cell = page.locator('#cell-hole_to_close');
  await cell.getByRole('button').first().click();
  await expect(cell).toContainText('stands in text “Done before you');
  await cell.getByRole('button', { name: 'rename' }).click();
  await cell.getByRole('textbox', { name: /New name/ }).fill('hole_left');
  await page.keyboard.press('Enter');
  await go(page, 'Trade sheets');
  await expect(text).toContainText('Close 15 cm²');
  await text.getByRole('button', { name: 'Edit the text' }).click();
  await expect(editor).toHaveValue(/Close \{hole_left\}, not \{hole_two\} or \{\{this\}\./);
  await editor.press('Escape');
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await expect(text).not.toContainText('Close');
});

/** A picture of its own, with a mark that a camera might have left in it. */
async function picture(page: Page, width: number, height: number): Promise<Buffer> {
  const base64 = await page.evaluate(
    ([w, h]) => {
      const canvas = document.createElement('canvas');
      canvas.width = w;
      canvas.height = h;
      const context = canvas.getContext('2d');
      if (!context) throw new Error('no canvas');
      for (let at = 0; at < 400; at++) {
        context.fillStyle = `hsl(${(at * 37) % 360} 60% ${30 + (at % 50)}%)`;
        context.fillRect((at * 131) % w, (at * 197) % h, w / 9, h / 7);
      }
      return canvas.toDataURL('image/jpeg', 0.95).split(',')[1] ?? '';
    },
    [width, height] as const,
  );
  const jpeg = Buffer.from(base64, 'base64');
  const words = Buffer.from('Exif\0\0GPS 45.0000 -93.0000');
  const segment = Buffer.from([0xff, 0xe1, 0, words.length + 2]);
  return Buffer.concat([jpeg.subarray(0, 2), segment, words, jpeg.subarray(2)]);
}

async function addPicture(page: Page, name: string, mimeType: string, buffer: Buffer): Promise<void> {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Add a picture' }).click(),
  ]);
  await chooser.setFiles({ name, mimeType, buffer });
}

test('a photo stays with its penetration through a reload and a file, small and without what the camera wrote', async ({
  page,
}, info) => {
  await page.goto('/');
  await go(page, 'Hold points');
  const log = page.getByRole('grid', { name: 'Penetrations' });
  const row = log.locator('tbody tr').filter({ has: page.getByText('P03', { exact: true }) });
  await row.first().locator('[data-column="mark"]').click({ button: 'right' });
  await page.getByRole('button', { name: 'Note on the row' }).click();

  await addPicture(page, 'invoice.pdf', 'application/pdf', Buffer.from('%PDF-1.7 nothing to see'));
  await expect(page.getByRole('alert')).toContainText('“invoice.pdf” is not a picture');
  await addPicture(page, 'huge.jpg', 'image/jpeg', Buffer.alloc(40_000_000));
  await expect(page.getByRole('alert')).toContainText('“huge.jpg” has 40 MB; 30 MB is the most');
  await addPicture(page, 'wall.jpg', 'image/jpeg', await picture(page, 3000, 2000));
  const thumb = page.getByRole('button', { name: 'Photo 1' });
  await expect(thumb).toBeVisible();
  await expect(page.getByRole('button', { name: 'Add a picture' })).toBeFocused();
  await thumb.click();
  const dialog = page.getByRole('dialog', { name: 'Photo' });
  await dialog.getByLabel('Caption').fill('sleeve with tape in view');
  await page.screenshot({ path: info.outputPath('photo.png') });
  expect(await axe(page, 'dialog')).toEqual([]);
  await dialog.getByRole('button', { name: 'Close' }).click();
  await page.keyboard.press('Escape');
  await expect(log).toContainText('1 photo');

  const block = page.getByRole('contentinfo', { name: 'Title block' });
  await expect(block).toContainText(/saved \d+:\d\d/);
  await page.reload();
  await go(page, 'Hold points');
  await expect(log).toContainText('1 photo');
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as file' }).first().click(),
  ]);
  const saved = await readFile(await download.path(), 'utf8');
  const { photos } = JSON.parse(saved) as { photos: { data: string; caption: string }[] };
  expect(photos).toHaveLength(1);
  expect(photos[0]?.caption).toBe('sleeve with tape in view');
  const bytes = Buffer.from(photos[0]?.data ?? '', 'base64');
  expect(bytes.length).toBeLessThanOrEqual(200_000);
  expect(bytes.toString('latin1')).not.toContain('GPS');

  await page.goto('/');
  await open(page, saved);
  await go(page, 'Hold points');
  await page.getByRole('button', { name: 'Report', exact: true }).click();
  const report = page.getByRole('region', { name: 'Report' });
  await report.getByLabel('Report').selectOption('sections');
  await report.getByRole('checkbox', { name: 'Penetration log' }).check();
  const printed = report.locator('figure img');
  await expect(printed).toHaveCount(1);
  const size = () => printed.evaluate((img: HTMLImageElement) => [img.naturalWidth, img.naturalHeight]);
  await expect.poll(size).toEqual([1600, 1067]);
  await expect(report.locator('figcaption')).toContainText('P03: sleeve with tape in view');
});

test('each trade has a sheet of one page, on Letter and on A4', async ({ page }, info) => {
  test.setTimeout(180_000);
  await page.goto('/');
  await page.getByRole('button', { name: 'Report', exact: true }).click();
  const report = page.getByRole('region', { name: 'Report' });
  await report.getByLabel('Report').selectOption('trade');
  const trades = await report
    .getByRole('combobox', { name: /^Trade/ })
    .locator('option')
    .allInnerTexts();
  expect(trades).toEqual([
    'Board hangers',
    'Plasterers',
    'Trim carpenters',
    'Electricians',
    'Ventilation installers',
  ]);
  await page.emulateMedia({ media: 'print' });
  for (const size of ['letter', 'A4']) {
    for (const trade of trades) {
      await page.emulateMedia({ media: 'screen' });
      await report.getByLabel('Paper').selectOption(size);
      await report.getByRole('combobox', { name: /^Trade/ }).selectOption(trade);
      const sheet = report.locator('article');
      await expect(sheet.getByRole('heading', { level: 1 })).toHaveText(`Trade sheet: ${trade}`);
      for (const part of ['Never cut', 'Limits', 'Call']) await expect(sheet).toContainText(part);
      await expect(sheet).not.toContainText(/[{}]|Nothing is named|not typed yet/);
      await page.emulateMedia({ media: 'print' });
      const pdf = await page.pdf({
        path: info.outputPath(`${trade}-${size}.pdf`),
        preferCSSPageSize: true,
      });
      expect([...pdf.toString('latin1').matchAll(/\/Type\s*\/Page\b/g)], `${trade}, ${size}`).toHaveLength(1);
    }
  }
  await page.emulateMedia({ media: 'screen' });
  await page.setViewportSize({ width: 360, height: 740 });
  const sheet = report.locator('article');
  expect(await sheet.evaluate((element) => element.scrollWidth <= element.clientWidth)).toBe(true);
  expect(await axe(page)).toEqual([]);
});

test('the timeline is drawn, and its dates move when a quantity changes', async ({ page }, info) => {
  await page.goto('/');
  await go(page, 'Timeline');
  const end = page.locator('#cell-timeline_end .value');
  const before = (await end.textContent())?.trim() ?? '';
  expect(before).toMatch(/^\d{4}-\d\d-\d\d$/);
  const figures = page.locator('#figures');
  await expect(figures).toContainText('next hold point: board may start, hold');
  await expect(figures).toContainText(/From 4\/5\/2027 to \d/);
  await page.screenshot({ path: info.outputPath('timeline.png') });
  const stages = page.getByRole('grid', { name: 'Stages, in order' });
  await typeInRow(stages, 'Board', 'crews', '1');
  await expect(end).not.toHaveText(before);
  await page.keyboard.press('Control+z');
  await expect(end).toHaveText(before);
  await go(page, 'House');
  await typeInRow(page.getByRole('grid', { name: /^Rooms/ }).first(), 'living', 'length', '60 ft');
  await go(page, 'Timeline');
  await expect(end).not.toHaveText(before);
  expect(await axe(page)).toEqual([]);
});

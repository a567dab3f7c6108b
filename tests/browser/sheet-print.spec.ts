import type { Page } from '@playwright/test';
import { openWithReadings } from './long-table.ts';
import { axe, expect, test, openSheet } from './support.ts';

test('a worksheet is printed without what is pressed, and with the title block under every page', async ({
  page,
}) => {
  await page.goto('/');
  await page.evaluate(() => (document.documentElement.dataset.theme = 'dark'));
  await page.getByRole('grid', { name: 'Readings' }).locator('[data-at="1:1"]').click();
  await page.keyboard.type('fifty');
  await page.keyboard.press('Enter');
  await page.emulateMedia({ media: 'print' });
  // Letter less its margins, in CSS pixels.
  await page.setViewportSize({ width: 710, height: 1000 });
  await expect(page.getByRole('heading', { level: 1, name: 'Air test' })).toBeVisible();
  for (const name of ['Menu', 'Rows of Readings', 'edit', 'rename'])
    await expect(page.getByRole('button', { name, exact: true }).filter({ visible: true })).toHaveCount(0);
  await expect(page.getByRole('navigation')).toHaveCount(0);
  // The foot of a table is what a browser repeats under each page.
  const block = page.getByRole('contentinfo', { name: 'Title block' });
  await expect(block).toHaveCSS('display', 'table-footer-group');
  await expect(block.getByText('1 fault', { exact: true })).toBeVisible();
  // Nothing is cut at the edge of the paper, and no ink is of the dark screen.
  const main = await page.locator('main').boundingBox();
  for (const grid of await page.getByRole('grid').all()) {
    const box = await grid.boundingBox();
    expect((box?.x ?? 0) + (box?.width ?? 0)).toBeLessThanOrEqual((main?.x ?? 0) + (main?.width ?? 0) + 1);
  }
  await expect(page.locator('.hold').first()).toHaveCSS('color', 'rgb(133, 86, 0)');
});

test('a printed worksheet says of which day and which file it is, and on the screen nothing of it', async ({
  page,
}) => {
  await page.addInitScript(() => {
    window.print = () => (document.body.dataset.printed = 'yes');
  });
  await page.goto('/');
  const line = page.locator('main .paper-only');
  await expect(line).toBeHidden();
  await expect(line).toHaveText(/^Juniper Hollow house/);
  await page.keyboard.press('Control+p');
  await expect(page.locator('body')).toHaveAttribute('data-printed', 'yes');
  await onPaper(page, LETTER);
  await expect(line).toBeVisible();
  await expect(line).toHaveText(/^Juniper Hollow house · .*\d{4} · US units · file [0-9a-f]{16}$/);
  await page.emulateMedia({ media: 'screen' });
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  // Of what has been changed since then the fingerprint is another.
  await page.getByRole('grid', { name: 'Readings' }).locator('[data-at="1:1"]').click();
  await page.keyboard.type('-50');
  await page.keyboard.press('Enter');
  await expect(line).not.toHaveText(/file/);
});

test('a workbook without a headline has room to say that it is saved', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  const empty = page.getByRole('button', { name: 'Empty workbook' });
  await expect(empty).toBeInViewport({ ratio: 1 });
  await empty.click();
  const kept = page.getByRole('contentinfo', { name: 'Title block' }).locator('.kept b').first();
  await expect(kept).toHaveText(/saved|no changes/);
  expect(await kept.evaluate((element) => element.scrollWidth - element.clientWidth)).toBe(0);
});

/** Lays the worksheet out as the browser's print would, and shows it as on paper of this width. */
async function onPaper(page: Page, width: number): Promise<void> {
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width, height: 1000 });
}

/** Letter and A4 less the margins of the page, in CSS pixels. */
const LETTER = 710;
const A4 = 688;
const LETTER_ACROSS = 950;

const paper = (page: Page, table: string) => page.locator(`[data-paper="${table}"]`);

test('a long table is printed whole, its heading on every page, and stands afterwards as it stood', async ({
  page,
}, info) => {
  await openWithReadings(page, 1_000);
  const grid = page.getByRole('grid', { name: 'Readings' });
  const nodes = () => grid.locator('tbody tr[aria-rowindex]').count();
  await grid.locator('[data-at="0:1"]').click();
  await page.keyboard.press('Control+End');
  const focused = page.locator('[data-at]:focus');
  await expect(focused).toHaveAttribute('data-at', '1000:7');
  const top = () => grid.evaluate((element) => element.parentElement?.scrollTop);
  const stood = await top();
  expect(stood).toBeGreaterThan(10_000);
  await expect(paper(page, 'readings')).toBeAttached();
  // What is on paper: it is laid out when the page has been told of it.
  await page.evaluate(() => {
    addEventListener('beforeprint', () => {
      const rows = document.querySelectorAll('[data-paper="readings"] tbody tr');
      const first = rows[0]?.textContent ?? '';
      document.body.dataset.printed = `${rows.length} ${first.includes('−10.00') ? 'from the first' : first}`;
    });
  });
  const path = info.outputPath('long-table.pdf');
  const pdf = (await page.pdf({ path, format: 'Letter', preferCSSPageSize: false })).toString('latin1');
  await expect(page.locator('body')).toHaveAttribute('data-printed', '1000 from the first');
  // Some fifty rows a page, and a page or two for the rest of the worksheet.
  const pages = [...pdf.matchAll(/\/Type\s*\/Page\b/g)].length;
  expect(pages).toBeGreaterThan(1_000 / 70);
  expect(pages).toBeLessThan(1_000 / 25);

  expect(await nodes()).toBeLessThanOrEqual(200);
  await expect(paper(page, 'readings')).toBeEmpty();
  await expect(focused).toHaveAttribute('data-at', '1000:7');
  expect(await top()).toBe(stood);

  await onPaper(page, LETTER);
  await expect(paper(page, 'readings').locator('thead')).toHaveCSS('display', 'table-header-group');
  expect(await grid.evaluate((element) => element.parentElement?.clientHeight)).toBe(0);
  // A browser may show a sliver of what is clipped to nothing.
  await expect(page.locator('[data-paper="readings"] + *')).toHaveCSS('opacity', '0');
});

test('a long print is prepared piece by piece: it is said how far it is, and it can be left', async ({
  page,
}) => {
  await page.addInitScript(() => {
    globalThis.print = () => {
      dispatchEvent(new Event('beforeprint'));
      const rows = document.querySelectorAll('[data-paper="readings"] tbody tr').length;
      document.body.dataset.printed = `${document.body.dataset.printed ?? ''}${rows} rows;`;
      dispatchEvent(new Event('afterprint'));
    };
  });
  await openWithReadings(page, 3_000);
  await expect(paper(page, 'readings')).toBeAttached();
  // As on a slow phone, so that there is something to be seen.
  const slow = await page.context().newCDPSession(page);
  await slow.send('Emulation.setCPUThrottlingRate', { rate: 4 });
  const strip = page.getByRole('progressbar', { name: 'prepared for paper' });
  const said = page.locator('.said[role="status"]');

  await page.keyboard.press('Control+p');
  await expect(strip).toBeVisible();
  await expect(said).toContainText(/Preparing 3\d\d\d rows for paper/);
  expect(await axe(page, '.strip')).toEqual([]);
  await page.getByRole('button', { name: 'Cancel' }).click();
  await expect(strip).toBeHidden();
  await expect(said).toHaveText('Nothing was printed.');
  await expect(paper(page, 'readings')).toBeEmpty();
  await expect(page.locator('body')).not.toHaveAttribute('data-printed');

  // By the key as well; and gone on with, it is printed whole.
  await page.keyboard.press('Control+p');
  await expect(strip).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(strip).toBeHidden();
  await slow.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  await page.getByRole('button', { name: 'More', exact: true }).click();
  await page.getByRole('button', { name: 'Print this worksheet' }).click();
  await expect(page.locator('body')).toHaveAttribute('data-printed', '3000 rows;');
  await expect(strip).toBeHidden();
  await expect(paper(page, 'readings')).toBeEmpty();
});

test('on paper a wide table stands in bands that say which room they tell of, in letters that can be read', async ({
  page,
}) => {
  await page.goto('/');
  await openSheet(page, /^House/);
  await expect(page.getByRole('heading', { level: 1, name: 'House' })).toBeVisible();
  await expect(paper(page, 'rooms')).toBeAttached();
  for (const width of [LETTER, A4, LETTER_ACROSS]) {
    await onPaper(page, width);
    const bands = paper(page, 'rooms').locator('table').filter({ visible: true });
    await expect(bands).toHaveCount(2);
    const headings: string[] = [];
    for (const band of await bands.all()) {
      await expect(band.locator('thead')).toContainText(/columns \d+ to \d+ of 23/);
      const rooms = band.locator('tbody td:first-child');
      await expect(rooms.first()).toHaveText('living');
      await expect(rooms).toHaveCount(18);
      headings.push(...(await band.locator('th[scope="col"]').allTextContents()).slice(1));
      const box = await band.boundingBox();
      expect((box?.x ?? 0) + (box?.width ?? 0)).toBeLessThanOrEqual(width + 1);
    }
    // All columns but the first, each once.
    expect(headings).toHaveLength(22);
    expect(new Set(headings).size).toBe(22);
    // 7.5 pt, and no row is cut.
    const least = await paper(page, 'rooms')
      .locator(':is(th, td, td *)')
      .evaluateAll((nodes) => Math.min(...nodes.map((node) => parseFloat(getComputedStyle(node).fontSize))));
    expect(least).toBeGreaterThanOrEqual(10);
    await expect(paper(page, 'rooms').locator('tbody tr').first()).toHaveCSS('break-inside', 'avoid');
    await page.evaluate(() => dispatchEvent(new Event('afterprint')));
    await page.emulateMedia({ media: 'screen' });
    await page.setViewportSize({ width: 1280, height: 800 });
  }
  // Where the first column does not tell the rows apart, every band has their numbers.
  await page.locator('[data-table="rooms"] [data-at="0:0"]').click();
  await page.keyboard.type('dining');
  await page.keyboard.press('Enter');
  await onPaper(page, LETTER);
  for (const band of await paper(page, 'rooms').locator('table').filter({ visible: true }).all()) {
    await expect(band.locator('th[scope="col"]').first()).toHaveText('#');
    await expect(band.locator('tbody tr').nth(6).locator('td').first()).toHaveText('7');
  }
});

const heightOfText = (node: Element): number => {
  const range = document.createRange();
  range.selectNodeContents(node);
  return Math.round(range.getBoundingClientRect().height);
};

test('a long table of many columns is divided for the way the paper lies', async ({ page }, info) => {
  await page.goto('/');
  await openSheet(page, /^Leaks/);
  const grid = page.getByRole('grid', { name: 'Leak log' });
  const count = 450;
  await grid.locator('[data-at="0:0"]').click();
  await page.evaluate(async (rows) => {
    const text = Array.from({ length: rows }, (_, at) => `M${at}`).join('\n');
    const data = new DataTransfer();
    data.setData('text/plain', text);
    document.activeElement?.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData: data, bubbles: true }),
    );
    await Promise.resolve();
  }, count);
  await page
    .getByRole('dialog')
    .getByRole('button', { name: /^Paste/ })
    .click();
  await expect(grid).toHaveAttribute('aria-rowcount', String(count + 2));
  await expect(paper(page, 'leak_finds')).toBeAttached();

  // What a column says on paper stands there once, and in every row.
  const bands = paper(page, 'leak_finds').locator('table').filter({ visible: true });
  const headings = async () =>
    (await bands.locator('th[scope="col"]').allTextContents()).filter((text) =>
      /^(Mark|Place|Photo)/.test(text),
    );
  await onPaper(page, LETTER);
  await expect(bands).toHaveCount(2);
  for (const band of await bands.all()) await expect(band.locator('tbody tr')).toHaveCount(count);
  expect(await headings()).toEqual(['Mark', 'Place', 'Mark', 'Photo']);
  await onPaper(page, LETTER_ACROSS);
  await expect(bands).toHaveCount(1);
  await expect(bands.locator('tbody tr')).toHaveCount(count);
  await expect(bands.locator('tbody tr').nth(1)).toContainText('slab edge, gasket gap under the west plate');
  expect(await headings()).toEqual(['Mark', 'Place', 'Photo']);
  // A word of a heading stands in one line.
  const component = bands.getByRole('columnheader', { name: 'Component' });
  expect(await component.evaluate((node) => node.scrollWidth - node.clientWidth)).toBe(0);
  const oneLine = await bands.getByRole('columnheader', { name: 'Photo' }).evaluate(heightOfText);
  expect(await component.evaluate(heightOfText)).toBe(oneLine);

  // And the browser's own print takes the one that fits: some forty rows a page, each once.
  await page.emulateMedia({ media: null });
  const path = info.outputPath('leaks.pdf');
  const pdf = (await page.pdf({ path, format: 'Letter', landscape: true })).toString('latin1');
  expect([...pdf.matchAll(/\/Type\s*\/Page\b/g)].length).toBeLessThan(24);
});

test('on paper the foot of a table stands once, after its last row, and its numbers are whole', async ({
  page,
}) => {
  await page.goto('/');
  await openSheet(page, /^House/);
  await expect(paper(page, 'rooms')).toBeAttached();
  await onPaper(page, LETTER);
  // The browser would repeat a table's foot under each of its pages.
  const feet = page.locator('main [data-paper] tfoot').filter({ visible: true });
  expect(await feet.count()).toBeGreaterThan(1);
  for (const foot of await feet.all()) await expect(foot).toHaveCSS('display', 'table-row-group');
  await expect(feet.locator('td', { hasText: '2,574.7' })).toHaveText('sum 2,574.7');
  for (const number of await feet.locator('span').all()) {
    const isWhole = await number.evaluate(
      (node) => node.getBoundingClientRect().width <= (node.parentElement?.clientWidth ?? 0),
    );
    expect(isWhole, (await number.textContent()) ?? '').toBe(true);
  }
});

test('what is left out is struck through on paper and says why, and a filter says that it is one', async ({
  page,
}) => {
  await page.goto('/');
  const grid = page.getByRole('grid', { name: 'Readings' });
  await expect(paper(page, 'readings')).toBeAttached();
  await grid.locator('[data-at="6:7"]').click();
  await page.keyboard.type('gust of wind');
  await page.keyboard.press('Enter');
  await grid.locator('th[data-at="-1:1"]').click();
  await page.getByRole('textbox', { name: 'at least' }).fill('-50');
  await page.keyboard.press('Escape');
  await expect(page.getByText(/^\d of 10 rows$/)).toBeVisible();
  await onPaper(page, LETTER);
  const rows = paper(page, 'readings').locator('tbody tr');
  await expect(rows).toHaveCount(await grid.locator('tbody tr:not(.new)[aria-rowindex]').count());
  const out = paper(page, 'readings').locator('tr.out');
  await expect(out).toHaveCount(1);
  await expect(out.locator('td').nth(1)).toHaveCSS('text-decoration-line', 'line-through');
  await expect(out).toContainText('gust of wind');
  await expect(paper(page, 'readings').locator('th[scope="col"]').nth(1)).toContainText('filtered');
  await expect(page.getByText(/^\d of 10 rows$/)).toBeVisible();
  await expect(page.getByRole('button', { name: 'Show all rows' })).toBeHidden();
});

test('a drawing wider than the column of the paper is drawn smaller and not cut, and “typed over” takes one line', async ({
  page,
}) => {
  // While the browser lays a page out for paper it tells nobody of another size.
  await page.addInitScript(() => {
    const Sizes = globalThis.ResizeObserver;
    globalThis.ResizeObserver = class extends Sizes {
      constructor(told: ResizeObserverCallback) {
        super((entries, observer) => {
          if (!matchMedia('print').matches) told(entries, observer);
        });
      }
    };
  });
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.goto('/');
  await openSheet(page, /^Timeline/);
  const drawing = page.locator('#figures svg[role="img"]').first();
  await expect(drawing).toBeVisible();
  const screen = (await drawing.boundingBox())?.width ?? 0;
  await onPaper(page, A4);
  const printed = (await drawing.boundingBox())?.width ?? 0;
  const column = (await drawing.locator('..').boundingBox())?.width ?? 0;
  expect(column).toBeLessThan(screen);
  expect(printed).toBeLessThanOrEqual(column + 0.5);
  // All of it, and not its left part alone.
  await expect(drawing).toHaveAttribute('viewBox', new RegExp(`^0 0 ${Math.round(screen)} `));

  await page.emulateMedia({ media: 'screen' });
  await page.setViewportSize({ width: 1440, height: 900 });
  await openSheet(page, /^Ventilation (?!rules)/);
  await onPaper(page, A4);
  const over = paper(page, 'ventilation_rooms').getByText('typed over').first();
  await expect(over).toBeVisible();
  expect(await over.evaluate((words) => words.getClientRects().length)).toBe(1);
});

test('on paper what is said of a row stands under what is typed in its last column', async ({ page }) => {
  await page.goto('/');
  await expect(page.locator('#figures canvas').first()).toBeVisible();
  await expect(page.getByRole('contentinfo')).toContainText('none');
  await onPaper(page, LETTER);
  const source = paper(page, 'targets').locator('td:visible').filter({ hasText: 'invented' }).first();
  await expect(source.locator('br + .about')).toHaveText('met');
});

import { readFile } from 'node:fs/promises';
import type { Locator, Page } from '@playwright/test';
import { openWithReadings } from './long-table.ts';
import { axe, expect, test, openSheet } from './support.ts';

const readings = (page: Page) => page.getByRole('grid', { name: 'Readings' });
const at = (grid: Locator, row: number, column: number) => grid.locator(`[data-at="${row}:${column}"]`);

async function paste(page: Page, text: string) {
  await page.evaluate((plain) => {
    const data = new DataTransfer();
    data.setData('text/plain', plain);
    const event = new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true });
    document.activeElement?.dispatchEvent(event);
  }, text);
}

test('the keys of a grid', async ({ page }) => {
  await page.goto('/');
  const grid = readings(page);
  await expect(grid).toHaveAttribute('aria-rowcount', '12');
  const stops = () => grid.locator('[tabindex="0"]').count();
  expect(await stops()).toBe(1);
  await at(grid, 0, 1).click();
  const focused = page.locator('[data-at]:focus');
  const stand = (place: string) => expect(focused).toHaveAttribute('data-at', place);
  await page.keyboard.press('ArrowDown');
  await stand('1:1');
  await page.keyboard.press('ArrowRight');
  await stand('1:2');
  await page.keyboard.press('End');
  await stand('1:7');
  await page.keyboard.press('Home');
  await stand('1:0');
  await page.keyboard.press('Control+End');
  await stand('10:7');
  await page.keyboard.press('Control+Home');
  await stand('0:0');
  await page.keyboard.press('PageDown');
  await expect(focused).not.toHaveAttribute('data-at', '0:0');
  expect(await stops()).toBe(1);

  // Enter and F2 edit, Escape leaves the value, Enter commits and moves down, Tab to the right.
  await at(grid, 2, 1).click();
  await page.keyboard.press('F2');
  await expect(page.getByRole('textbox', { name: 'House' })).toBeFocused();
  await page.keyboard.press('Escape');
  await stand('2:1');
  await page.keyboard.type('-50');
  await page.keyboard.press('Escape');
  await expect(at(grid, 2, 1)).toContainText('−50.60');
  await page.keyboard.type('-51');
  await page.keyboard.press('Enter');
  await stand('3:1');
  await expect(at(grid, 2, 1)).toContainText('−51.00');
  await page.keyboard.type('-44');
  await page.keyboard.press('Tab');
  await stand('3:2');
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await expect(at(grid, 2, 1)).toContainText('−50.60');

  // Shift and arrows select; Delete clears what was typed, as one step.
  await at(grid, 2, 1).click();
  await page.keyboard.press('Shift+ArrowDown');
  await page.keyboard.press('Shift+ArrowRight');
  await expect(grid.locator('[aria-selected="true"]')).toHaveCount(4);
  await page.keyboard.press('Delete');
  await expect(at(grid, 3, 2)).toHaveText('');
  await page.keyboard.press('Control+z');
  await expect(at(grid, 2, 1)).toContainText('−50.60');
  await expect(at(grid, 3, 2)).toContainText('65.30');

  // Rows come and go.
  await at(grid, 2, 1).click();
  await page.keyboard.press('Control+Enter');
  await stand('3:1');
  await expect(grid).toHaveAttribute('aria-rowcount', '13');
  await page.keyboard.press('Control+Delete');
  await expect(grid).toHaveAttribute('aria-rowcount', '12');

  // Tab leaves the grid: it is one stop.
  await page.keyboard.press('Tab');
  await expect(focused).toHaveCount(0);
});

test('the line after the last takes a new reading, with the same range, of the test shown', async ({
  page,
}) => {
  await page.goto('/');
  const grid = readings(page);
  await at(grid, 10, 1).click();
  await page.keyboard.type('-9.5');
  await page.keyboard.press('Tab');
  await expect(at(grid, 10, 0)).toHaveText('low');
  await page.keyboard.type('63');
  await page.keyboard.press('Enter');
  await expect(grid).toHaveAttribute('aria-rowcount', '13');
  await expect(page.locator('#figures')).toContainText('11 points');
});

test('typing over a calculated cell is asked first, marked, and taken back with Delete', async ({ page }) => {
  await page.goto('/');
  const grid = readings(page);
  const flow = at(grid, 0, 5);
  await expect(flow).toContainText('530.8');
  await flow.click();
  await page.keyboard.type('5 ');
  // A space typed on goes to the harmless answer.
  await expect(flow).toContainText('530.8');
  await page.keyboard.type('52');
  const ask = page.getByRole('group', { name: 'This cell is calculated' });
  await expect(ask.getByRole('button', { name: 'Keep the formula' })).toBeFocused();
  await ask.getByRole('button', { name: 'Type over' }).click();
  await page.keyboard.type('5');
  await page.keyboard.press('Enter');
  await expect(flow).toContainText('525');
  await expect(flow).toContainText('typed over');
  await flow.click();
  await page.keyboard.press('Delete');
  await expect(flow).toContainText('530.8');
});

test('a wrong unit in a table is told under the cell, and beside its row when it stays', async ({ page }) => {
  await page.goto('/');
  const grid = readings(page);
  await at(grid, 9, 1).click();
  await page.keyboard.type('12 ft');
  const editor = page.getByRole('textbox', { name: 'House' });
  await expect(editor).toHaveAttribute('aria-invalid', 'true');
  const said = page.locator('.editor .diagnostic');
  await expect(said).toContainText('length');
  const box = await said.boundingBox();
  const view = page.viewportSize();
  expect(
    box && view && box.x >= 0 && box.x + box.width <= view.width && box.y + box.height <= view.height,
  ).toBe(true);
  await page.keyboard.press('Enter');
  await expect(grid.getByRole('row').nth(10)).toContainText('House: ');
  await expect(page.getByRole('contentinfo')).toContainText(/[1-9]\d* fault/);
  expect(await axe(page)).toEqual([]);
});

test('a pasted block is shown first and goes in as one step', async ({ page }) => {
  await page.goto('/');
  const grid = readings(page);
  await at(grid, 9, 1).click();
  await paste(page, '-12.6\t97.0\n-9.1\t58\n');
  const preview = page.getByRole('dialog', { name: /Paste 4 values|Paste 5 values/ });
  await expect(preview).toContainText('−12.6'.replace('−', '-'));
  expect(await axe(page)).toEqual([]);
  await preview.getByRole('button', { name: 'Paste, adding 1 row' }).click();
  await expect(at(grid, 9, 2)).toContainText('97.00');
  await expect(at(grid, 10, 2)).toContainText('58');
  await page.keyboard.press('Control+z');
  await expect(at(grid, 9, 2)).toContainText('97.80');
  await expect(grid).toHaveAttribute('aria-rowcount', '12');
});

test('a pasted block with a title, headings and a row of units goes to its columns, and its lines are called by their rows', async ({
  page,
}) => {
  await page.goto('/');
  const grid = readings(page);
  await at(grid, 8, 0).click();
  await paste(page, 'Third test\t\nHouse\tMeasured flow\n(Pa)\t(cfm)\n-12.6\t1,097.5\nabout 9\t58\n');
  const preview = page.getByRole('dialog', { name: 'Paste 4 values' });
  await expect(preview).toContainText('headings: “Third test” above the headings');
  await expect(preview).toContainText(/row 10, House: .*about 9/);
  await preview.getByRole('button', { name: 'Paste', exact: true }).click();
  await expect(at(grid, 8, 3)).toContainText('1,098');
});

test('the totals under a pasted block are told, and left out when asked', async ({ page }) => {
  await page.goto('/');
  await at(readings(page), 10, 1).click();
  await paste(page, 'House (Pa)\tFan (Pa)\n-12.6\t97\n-9.1\t58\nTotal\t155\n');
  const preview = page.getByRole('dialog');
  await expect(preview).toContainText('The last line reads “Total”');
  await preview.getByRole('button', { name: 'Leave out the last line' }).click();
  await expect(preview).not.toContainText('Total');
  await preview.getByRole('button', { name: 'Paste, adding 2 rows' }).click();
  await expect(readings(page)).toHaveAttribute('aria-rowcount', '14');
  await expect(readings(page)).not.toContainText('Total');
});

test('copy gives back what a spreadsheet can read', async ({ page }) => {
  await page.goto('/');
  await at(readings(page), 0, 1).click();
  await page.keyboard.press('Shift+ArrowDown');
  await page.keyboard.press('Shift+ArrowRight');
  const copied = await page.evaluate(() => {
    const data = new DataTransfer();
    const event = new ClipboardEvent('copy', { clipboardData: data, bubbles: true, cancelable: true });
    document.activeElement?.dispatchEvent(event);
    return data.getData('text/plain');
  });
  expect(copied).toBe('-62.7\t99.8\n-56.2\t86.3');
});

test('CSV out and in: matched, shown, and put in the place of the rows as one step', async ({ page }) => {
  await page.goto('/');
  const grid = readings(page);
  const rows = page.getByRole('button', { name: 'Rows of Readings' });
  await rows.click();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as CSV' }).click(),
  ]);
  const csv = await readFile(await download.path(), 'utf8');
  expect(csv).toContain('(Pa)');
  expect(csv).toContain('-62.7');

  await rows.click();
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Import CSV…' }).click(),
  ]);
  const lines =
    'house pressure (Pa),measured flow (m3/h),weather\n-60,800,cold\n-40,615,cold\n-20,392,cold\n';
  await chooser.setFiles({ name: 'gauge.csv', mimeType: 'text/csv', buffer: Buffer.from(lines) });
  const preview = page.getByRole('dialog', { name: '3 rows from gauge.csv' });
  await expect(preview).toContainText('weather');
  await expect(preview.getByRole('listitem').first()).toContainText(
    'Replacing the 10 rows takes away what the file does not have: “Range”, “Fan”',
  );
  expect(await axe(page)).toEqual([]);
  await preview.getByRole('button', { name: 'Replace the 10 rows' }).click();
  await expect(grid).toHaveAttribute('aria-rowcount', '5');
  await expect(page.locator('#figures')).toContainText('3 points');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(grid).toHaveAttribute('aria-rowcount', '12');
});

test('ten thousand rows scroll with at most 200 of them in the page', async ({ page }) => {
  await openWithReadings(page, 10_000);
  const grid = readings(page);
  const nodes = () => grid.locator('tbody tr[aria-rowindex]').count();
  expect(await nodes()).toBeLessThanOrEqual(200);
  await at(grid, 0, 1).click();
  await page.keyboard.press('Control+End');
  await expect(page.locator('[data-at]:focus')).toHaveAttribute('data-at', '10000:7');
  await expect(page.locator('tr:has([data-at]:focus)')).toHaveAttribute('aria-rowindex', '10002');
  await expect(page.locator('[data-at]:focus')).toBeInViewport();
  expect(await nodes()).toBeLessThanOrEqual(200);
  // The focus survives being scrolled out of view.
  const rowHeight = (await at(grid, 10_000, 1).boundingBox())?.height ?? 0;
  await grid.evaluate((element, top) => {
    const box = element.parentElement;
    if (box) box.scrollTop = top;
  }, 3300 * rowHeight);
  await expect(grid.locator('tbody tr[aria-rowindex="3305"]')).toBeInViewport();
  await page.keyboard.press('ArrowUp');
  await expect(page.locator('[data-at]:focus')).toHaveAttribute('data-at', '9999:7');
  await expect(page.locator('[data-at]:focus')).toBeInViewport();
  expect(await nodes()).toBeLessThanOrEqual(200);
});

test('what cannot be read of a pasted block is told by the row and the heading that are seen', async ({
  page,
}) => {
  await page.goto('/');
  await at(readings(page), 2, 1).click();
  await paste(page, 'House (Pa)\tFan (Pa)\n-61.5\t98\nabc\t70\n');
  const preview = page.getByRole('dialog', { name: 'Paste 4 values' });
  await expect(preview.getByRole('listitem')).toHaveText(
    /^row 4, House: 'abc' is not a number; expected a value in Pa\. Type/,
  );
  await preview.getByRole('button', { name: 'Cancel' }).click();
});

test('a calculated cell without a value says why in the bar, not over its row', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('navigation').getByRole('button', { name: 'Behind the plans' }).click();
  const pieces = page.getByRole('grid', { name: /^Pieces/ });
  await expect(page.getByRole('group', { name: /^Column/ })).toHaveCount(0);
  await at(pieces, 8, 2).click();
  await expect(at(pieces, 8, 2)).toHaveText('–');
  await expect(page.getByRole('group', { name: 'Column From below' })).toContainText(
    'No value in row 9: not known yet',
  );
});

test('what stands under a column is changed and undone, says of which rows it tells, and stands on a phone as well', async ({
  page,
}) => {
  await page.goto('/');
  const foot = readings(page).locator('tfoot');
  await expect(readings(page)).toBeVisible();
  await expect(foot).toHaveCount(0);
  const under = page.getByLabel('Under the column');
  for (const what of ['mean', 'count']) {
    await page.keyboard.press('Control+e');
    await page.locator('[data-part="readings"]').click();
    await page.locator('[data-column-row="induced_pressure"]').click();
    await under.selectOption(what);
    await page.keyboard.press('Control+e');
    // The table has the readings of all tests; one of them is to be seen.
    await expect(foot).toContainText(what === 'mean' ? /mean of all 45 36\.27 ± 0\.\d\d/ : 'count 45');
  }
  // How many there are has no decimals of a pressure.
  await expect(foot).not.toContainText('45.');
  await page.keyboard.press('Control+z');
  await expect(foot).toContainText('mean of all 45');
  await page.setViewportSize({ width: 360, height: 740 });
  await expect(page.locator('main dl').filter({ hasText: 'Induced, mean of all 45' })).toContainText(
    /36\.27 ± 0\.\d\d Pa/,
  );
  expect(await axe(page)).toEqual([]);
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.keyboard.press('Control+z');
  await expect(foot).toHaveCount(0);
  await expect(page.getByRole('button', { name: 'Undo', exact: true })).toBeDisabled();
});

test('a room called otherwise is called so wherever it was chosen, as one step that is told', async ({
  page,
}) => {
  await page.goto('/');
  await openSheet(page, /^House/);
  const rooms = page.getByRole('grid', { name: 'Rooms, at the framing face before board' });
  await at(rooms, 0, 0).click();
  await page.keyboard.type('great room');
  await page.keyboard.press('Enter');
  const told = /^“living” is now “great room”, also in \d\d other places$/;
  await expect(page.locator('.said')).toHaveText(told);
  await expect(page.getByRole('main').getByText(told)).toBeVisible();
  const faults = page.getByRole('contentinfo', { name: 'Title block' });
  await expect(faults).toContainText(/Faults\s*none/);
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^Ventilation/ })
    .first()
    .click();
  await expect(page.getByRole('main')).toContainText('great room');
  await page.keyboard.press('Control+z');
  await expect(page.getByRole('main')).not.toContainText('great room');
  await expect(faults).toContainText(/Faults\s*none/);
});

test('rooms pasted under other names are called so wherever they were chosen, in formulas that quote them too', async ({
  page,
}) => {
  await page.goto('/');
  await openSheet(page, /^Hold points/);
  const points = page.getByRole('grid', { name: 'Hold points, in order' });
  const point = points.getByRole('gridcell', { name: 'board may start' }).first();
  await point.click();
  await page.keyboard.type('boards may go up');
  await page.keyboard.press('Enter');
  const told =
    /“board may start” is now “boards may go up”, also in \d+ other places and 1 formula that quotes it/;
  await expect(page.getByRole('main').getByText(told)).toBeVisible();
  const faults = page.getByRole('contentinfo', { name: 'Title block' });
  await expect(faults).toContainText(/Faults\s*none/);
  await page.keyboard.press('Control+z');
  await expect(faults).toContainText(/Faults\s*none/);
  await expect(page.getByRole('main').getByText(told)).toHaveCount(0);

  await openSheet(page, /^House/);
  const rooms = page.getByRole('grid', { name: 'Rooms, at the framing face before board' });
  await at(rooms, 0, 0).click();
  await paste(page, 'great room\nlong hall\n');
  await page
    .getByRole('dialog')
    .getByRole('button', { name: /^Paste/ })
    .click();
  await expect(
    page.getByRole('main').getByText(/^2 have other words, also in \d+ other places$/),
  ).toBeVisible();
  await expect(faults).toContainText(/Faults\s*none/);
  await page.keyboard.press('Control+z');
  await expect(at(rooms, 0, 0)).toHaveText('living');
  await expect(faults).toContainText(/Faults\s*none/);
});

test('what is said of every row breaks into lines before it is out of sight', async ({ page }) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.goto('/');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('banner').getByRole('button', { name: 'Air test', exact: true }).click();
  await page.getByRole('button', { name: 'Fill in the table Readings' }).click();
  const grid = readings(page);
  await at(grid, 0, 1).click();
  await page.keyboard.type('-60');
  await page.keyboard.press('Tab');
  await page.keyboard.type('100');
  await page.keyboard.press('Enter');
  await expect(grid).toContainText('no flow: type the fan’s ranges on “Fan”, or the flow itself');
  const hidden = await grid.evaluate((element) => {
    const box = element.closest('.box') ?? element.parentElement;
    return (box?.scrollWidth ?? 0) - (box?.clientWidth ?? 0);
  });
  expect(hidden).toBeLessThanOrEqual(0);
});

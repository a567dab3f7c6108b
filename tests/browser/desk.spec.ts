import { expect, openSheet, test } from './support.ts';

test('the main job without a mouse: a target, three readings, the reason for one left out, and why', async ({
  page,
}) => {
  await page.goto('/');
  const strip = page.getByRole('contentinfo', { name: 'Title block' });
  await expect(strip).toContainText('1.029');

  // The target, found by its label; Escape leaves at once, whatever was typed.
  await page.keyboard.press('Control+k');
  await page.keyboard.type('second');
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog', { name: 'Find a cell' })).toBeHidden();
  await page.keyboard.press('Control+k');
  await page.keyboard.type('first target');
  await page.keyboard.press('Enter');
  await expect(page.locator('#cell-target_ach50').getByRole('button').first()).toBeFocused();
  await page.keyboard.type('1.1');
  await page.keyboard.press('Enter');
  await expect(page.locator('#cell-target_ach50 .number')).toHaveText('1.10');

  // On to the table: one stop for Tab, reached from the rows before it.
  const focused = page.locator('[data-at]:focus');
  for (let k = 0; k < 40 && (await focused.count()) === 0; k++) await page.keyboard.press('Tab');
  await expect(focused).toHaveCount(1);
  await page.keyboard.press('Control+Home');
  await page.keyboard.press('Control+ArrowDown');
  await page.keyboard.press('ArrowRight');
  for (const [house, fan] of [
    ['-9.6', '62'],
    ['-9.1', '57'],
    ['-8.4', '140'],
  ] as const) {
    await page.keyboard.type(house);
    await page.keyboard.press('Tab');
    await page.keyboard.type(fan);
    // Under where the row began.
    await page.keyboard.press('Enter');
  }
  await expect(page.locator('#figures')).toContainText('13 points');
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('End');
  await page.keyboard.type('gust of wind');
  await page.keyboard.press('Enter');
  await expect(page.locator('#figures')).toContainText('12 points, 1 left out');

  // Where the ± of the result comes from, then back.
  await page.keyboard.press('Control+k');
  await page.keyboard.type('ach50');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Enter');
  await expect(page.locator('[data-row-name]:focus')).toHaveCount(1);
  await page.keyboard.press('Control+b');
  await expect(page.getByRole('list', { name: 'Where the ± comes from' })).toBeVisible();
  for (let k = 0; k < 12; k++) await page.keyboard.press('Control+z');
  await expect(page.locator('#figures')).toContainText('10 points');
  await expect(strip).toContainText('1.20');
});

test('a choice is made and left by the keys of any other cell', async ({ page }) => {
  await page.goto('/');
  const row = page.locator('#cell-test_method');
  const choice = row.getByRole('combobox');
  await row.getByRole('button', { name: /^Method/ }).focus();
  await page.keyboard.press('Enter');
  await expect(choice).toBeFocused();
  await page.keyboard.press('ArrowDown');
  await expect(choice).toHaveValue('ISO 9972');
  await page.keyboard.press('Escape');
  await expect(row.getByRole('button', { name: /^Method/ })).toBeFocused();
  await page.keyboard.press('Enter');
  await page.keyboard.press('Enter');
  await expect(page.locator('#cell-method_verdict').getByRole('button').first()).toBeFocused();
});

test('back and forth go from worksheet to worksheet, a page that is loaded again stays where it was, and what is being typed is not lost', async ({
  page,
}) => {
  await page.goto('/');
  const shown = (title: string) => expect(page.getByRole('heading', { level: 1, name: title })).toBeVisible();
  await openSheet(page, /^Leaks/);
  await openSheet(page, /^House/);
  await page.getByRole('button', { name: 'What if' }).click();
  await expect(page.getByRole('heading', { level: 1 })).not.toHaveText('House');
  await page.goBack();
  await shown('House');
  await page.goBack();
  await shown('Leaks');
  await page.goForward();
  await shown('House');

  // Something is kept first: the page then comes back with this workbook.
  const cell = page.getByRole('grid', { name: /^Rooms/ }).locator('[data-at="2:3"]');
  await cell.click();
  await page.keyboard.type(`14'`);
  await page.keyboard.press('Enter');
  const block = page.getByRole('contentinfo', { name: 'Title block' });
  await expect(block).toContainText(/saved \d+:\d\d/);
  await page.reload();
  await shown('House');
  await page.goBack();
  await shown('Leaks');
  await page.goForward();

  // What is being typed when the page is left is kept, or the browser asks before it is lost.
  await cell.click();
  await page.keyboard.type(`13' 1`);
  const asked = page.waitForEvent('dialog');
  await page.evaluate(() => {
    setTimeout(() => {
      location.reload();
    });
  });
  await (await asked).dismiss();
  await expect(cell).toContainText(`13' 1`);
  await cell.click();
  await page.keyboard.type(`12' 7`);
  // Another app comes to the front, or the screen sleeps.
  await page.evaluate(() => {
    Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true });
    document.dispatchEvent(new Event('visibilitychange'));
    Reflect.deleteProperty(document, 'visibilityState');
  });
  await expect(cell.locator('.typed')).toHaveText(`12' 7`);
});

test('of a table scrolled sideways the first column stays in view, and what is gone to is not under it', async ({
  page,
}) => {
  await page.goto('/');
  const grid = page.getByRole('grid', { name: 'Readings' });
  const at = (row: number, column: number) => grid.locator(`[data-at="${row}:${column}"]`);
  const box = grid.locator('..');
  // Narrower than its columns, as a wide table is.
  await box.evaluate((element) => (element.style.width = '480px'));
  const scrolled = () => box.evaluate((element) => Math.round(element.scrollLeft));
  const edges = async (row: number, column: number) => {
    const { x = NaN, width = NaN } = (await at(row, column).boundingBox()) ?? {};
    return { left: x, right: x + width };
  };
  await expect(at(1, 0)).toHaveCSS('position', 'static');
  const before = await edges(1, 0);
  await box.evaluate((element) => (element.scrollLeft = 150));
  for (const row of [-1, 1]) {
    await expect(at(row, 0)).toHaveCSS('position', 'sticky');
    await expect(at(row, 0)).not.toHaveCSS('background-color', 'rgba(0, 0, 0, 0)');
    expect((await edges(row, 0)).left).toBeCloseTo(before.left, 0);
  }
  // Gone to and written in, it moves nothing.
  await at(1, 0).dblclick();
  expect(Math.abs((await scrolled()) - 150)).toBeLessThan(3);
  await page.keyboard.press('Escape');
  await at(1, 4).click();
  for (let k = 0; k < 3; k++) await page.keyboard.press('ArrowLeft');
  await expect(at(1, 1)).toBeFocused();
  expect((await edges(1, 1)).left).toBeGreaterThan((await edges(1, 0)).right - 2);
  await box.evaluate((element) => (element.scrollLeft = 0));
  await expect(at(1, 0)).toHaveCSS('position', 'static');
});

test('between a phone and a desk the title block of a workbook without a headline says when it was saved', async ({
  page,
}) => {
  await page.setViewportSize({ width: 1024, height: 800 });
  await page.goto('./');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('button', { name: 'Empty workbook' }).click();
  await expect(page.getByRole('heading', { name: 'Arrange' })).toBeVisible();
  const block = page.getByRole('contentinfo', { name: 'Title block' });
  const right = await block.locator('.kept').evaluate((part) => part.getBoundingClientRect().right);
  expect(right).toBe(1024);
});

import { readFile } from 'node:fs/promises';
import { expect, test } from './support.ts';

test.use({ locale: 'de-DE' });

test('where commas are decimal signs they are shown and read, and what could be two numbers is asked', async ({
  page,
}) => {
  await page.goto('/');
  const grid = page.getByRole('grid', { name: 'Readings' });
  const cell = grid.locator('[data-at="0:1"]');
  await expect(cell).toContainText('−62,70');
  await expect(page.getByRole('contentinfo')).toContainText('1,029');
  await cell.click();
  await page.keyboard.press('F2');
  const text = page.getByRole('textbox', { name: 'House' });
  await expect(text).toHaveValue('-62,7');
  await text.fill('-61,5');
  await page.keyboard.press('Enter');
  await expect(cell).toContainText('−61,50');

  await grid.locator('[data-at="0:2"]').click();
  await page.keyboard.type('1.234');
  await page.keyboard.press('Enter');
  const question = page.getByRole('group', { name: '1.234 can be two numbers' });
  await expect(question).toBeVisible();
  await question.getByRole('button', { name: '1234' }).click();
  await page.keyboard.press('Enter');
  await expect(grid.locator('[data-at="0:2"]')).toContainText('1.234');
  await page.keyboard.press('Control+z');

  // A block from a spreadsheet of the same language.
  await grid.locator('[data-at="0:1"]').click();
  await page.evaluate(() => {
    const data = new DataTransfer();
    data.setData('text/plain', '-60,1\t98,2\r\n-55,3\t84,9\r\n');
    document.activeElement?.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }),
    );
  });
  const preview = page.getByRole('dialog', { name: 'Paste 4 values' });
  await expect(preview).toContainText('-60,1');
  await preview.getByRole('button', { name: 'Paste', exact: true }).click();
  await expect(cell).toContainText('−60,10');
  const copied = await page.evaluate(() => {
    const data = new DataTransfer();
    const event = new ClipboardEvent('copy', { clipboardData: data, bubbles: true, cancelable: true });
    document.activeElement?.dispatchEvent(event);
    return data.getData('text/plain');
  });
  expect(copied).toBe('-60,1');
});

test('formulas keep their points, and a named value takes a comma', async ({ page }) => {
  await page.goto('/');
  const target = page.locator('#cell-target_ach50');
  await target.getByRole('button').first().click();
  await page.keyboard.press('F2');
  const text = target.getByRole('textbox');
  await expect(text).toHaveValue('1,2');
  await text.fill('1,3');
  await text.press('Enter');
  await expect(target.locator('.number')).toHaveText('1,30');
  await target.getByRole('button').first().click();
  await page.keyboard.press('F2');
  await text.fill('max(1.25, 1.1) / 1 h');
  await text.press('Enter');
  await expect(target.locator('.number')).toHaveText('1,25');
});

test('words keep the commas and points that are typed, and are asked nothing; names are offered with commas', async ({
  page,
}) => {
  await page.goto('/');
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^Leaks/ })
    .click();
  const grid = page.locator('[data-table="leak_finds"]');
  const place = grid.locator('tbody tr').first().locator('[data-column="place"]');
  for (const words of ['Hinter der Spüle, 2,5 cm Spalt', '1,234', '1.234']) {
    await place.click();
    await page.keyboard.type(words);
    await page.keyboard.press('Enter');
    await expect(place).toHaveText(words);
  }
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^Air test/ })
    .click();
  const margin = page.locator('#cell-margin_ach50');
  await margin.getByRole('button').first().click();
  await page.keyboard.press('Control+b');
  await expect(margin.locator('.share', { hasText: /^0,\d %$/ }).first()).toBeVisible();
  await expect(margin.locator('.share', { hasText: '.' })).toHaveCount(0);
  const target = page.locator('#cell-target_ach50');
  await target.getByRole('button').first().click();
  await page.keyboard.press('F2');
  await target.getByRole('textbox').fill('board_ach');
  await expect(page.getByRole('option', { name: /^board_ach50/ })).toContainText('1,038');
});

test('a limit to the numbers of a column takes a comma, and what could be two numbers is asked', async ({
  page,
}) => {
  await page.goto('/');
  const grid = page.getByRole('grid', { name: 'Readings' });
  await grid.locator('[data-at="0:1"]').click();
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Enter');
  const limits = page.getByRole('dialog', { name: 'Column House' });
  await limits.getByLabel('at most').fill('-50,65');
  await expect(grid).toHaveAttribute('aria-rowcount', '4');
  await page.keyboard.press('Enter');
  const bar = page.locator('p', { hasText: 'of 10 rows' });
  await expect(bar).toContainText('2 of 10 rows where House is at most −50,65 Pa.');
  await page.keyboard.press('Enter');
  await limits.getByLabel('at most').fill('1.234');
  const question = limits.getByRole('group', { name: '1.234 can be two numbers' });
  await question.getByRole('button', { name: '1234' }).press('Enter');
  await expect(limits.getByLabel('at most')).toHaveValue('1234 Pa');
  await expect(grid).toHaveAttribute('aria-rowcount', '12');
});

test('what if reads and shows decimal commas: the target is not a hundred times itself', async ({ page }) => {
  await page.goto('/');
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^What if/ })
    .click();
  const solve = page.getByRole('region', { name: 'Solve' });
  await expect(solve.getByLabel('equal')).toHaveValue('1,20 1/h');
  await solve.getByLabel('by changing').selectOption('main_wing_width');
  await solve.getByLabel('between').fill('15,5 ft');
  await solve.getByLabel('and', { exact: true }).fill('35 ft');
  await solve.getByRole('button', { name: 'Look for it' }).click();
  await expect(solve.getByText(/main_wing_width\s*=\s*2\d,\d+ ft gives ach50 = 1,200/)).toBeVisible();

  const card = page.locator('.card').first();
  await card.getByLabel('Try another value for').selectOption('target_ach50');
  await card.getByRole('button', { name: 'Try it' }).click();
  const tried = card.getByRole('textbox', { name: /^First target, at most \(1\/h\) now 1,2/ });
  await tried.fill('1,05');
  await tried.press('Tab');
  await expect(tried).toHaveValue('1,05');
  await expect(card.locator('.fault')).toHaveCount(0);

  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^Air test/ })
    .click();
  // The figures speak the same language as the cells.
  await expect(
    page.locator('#figures svg').filter({ hasText: 'first target' }).getByText('0,5', { exact: true }),
  ).toBeVisible();
});

test('words that are calculated have commas in their numbers, follow the units, and stay plain in formulas and files', async ({
  page,
}) => {
  await page.goto('/');
  const grid = page.getByRole('grid', { name: 'Readings' });
  await grid.locator('[data-at="3:2"]').click();
  await page.keyboard.type('30,5');
  await page.keyboard.press('Enter');
  await grid.locator('[data-at="4:1"]').click();
  await page.keyboard.type('5,3 cfm');
  await expect(page.getByText(/^'5,3 cfm' is a volume flow; this entry is a pressure/)).toBeVisible();
  await page.keyboard.press('Escape');
  const remark = page.getByText(/looks off/).first();
  await expect(remark).toContainText(
    /the point at \d+(,\d)? Pa looks off \(studentised residual −?\d+,\d\): .* \d+,\d % (?:higher|lower) and the exponent 0,\d{3}/,
  );

  await page.getByRole('button', { name: 'Rows of Readings' }).click();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as CSV' }).click(),
  ]);
  const csv = await readFile(await download.path(), 'utf8');
  expect(csv).toMatch(/the point at [\d.]+ Pa looks off \(studentised residual −?\d+\.\d\)/);

  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^Ventilation(?! rules)/ })
    .click();
  const short = page.locator('#cell-rooms_short');
  await expect(short).toContainText(/bedroom_3 lacks \d,\d cfm/);
  await page.getByRole('button', { name: 'm · m³/h' }).click();
  await expect(short).toContainText(/bedroom_3 lacks \d,\d m³\/h/);
  // Between the marks that numbers have while words are written, nothing on the page is left.
  expect(await page.evaluate(() => /[\uFDD0\uFDD1]/.test(document.documentElement.outerHTML))).toBe(false);
});

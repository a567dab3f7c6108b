import type { Page } from '@playwright/test';
import { axe, expect, test } from './support.ts';

async function edit(page: Page, cell: string) {
  const row = page.locator(`#cell-${cell}`);
  await row.getByRole('button').first().click();
  await page.keyboard.press('F2');
  return row.getByRole('textbox').first();
}

test('inside a call its own definition is shown, the argument being typed in bold', async ({ page }) => {
  await page.goto('/');
  const text = await edit(page, 'margin_ach50');
  await text.fill('');
  await text.pressSequentially('lookup(tests.q50, ');
  const help = page.getByRole('note', { name: 'What lookup takes' });
  await expect(help).toContainText('lookup(table.result, table.key, key)');
  await expect(help.locator('b').first()).toHaveText('table.key');
  await text.pressSequentially('max(1, ');
  await expect(page.getByRole('note', { name: 'What max takes' })).toBeVisible();
  await text.fill('');
  await text.pressSequentially('power_law_flow(50 Pa, ');
  const trade = page.getByRole('note', { name: 'What power_law_flow takes' });
  await expect(trade.locator('b').first()).toHaveText('coefficient');
  await expect(trade).toContainText('in m3/s');
  await expect(trade).toContainText(/ISO|ASTM|practice/);
  expect(await axe(page)).toEqual([]);
  await text.press('Escape');
});

test('a cell touched while a formula waits for a name goes in, and the editor keeps the focus', async ({
  page,
}) => {
  await page.goto('/');
  const text = await edit(page, 'margin_ach50');
  await text.fill('target_ach50 - ');
  await page.locator('#cell-ach50_low').getByRole('button').first().click();
  await expect(text).toHaveValue('target_ach50 - ach50_low');
  await expect(text).toBeFocused();
  // The next touch takes the place of the last.
  await page.locator('#cell-ach50_high').getByRole('button').first().click();
  await expect(text).toHaveValue('target_ach50 - ach50_high');
  await text.pressSequentially(' + sum(');
  await page.getByRole('grid', { name: 'Readings' }).locator('[data-at="1:1"]').click();
  await expect(text).toHaveValue('target_ach50 - ach50_high + sum(readings.house_pressure');
  await expect(text).toBeFocused();
  await text.press('Escape');
  await expect(page.locator('#cell-margin_ach50 .number')).toHaveText('0.171');

  // Behind a value there is no place for a name: the touch goes there, as without a formula.
  const target = await edit(page, 'target_ach50');
  await target.fill('1.3');
  await page.locator('#cell-q50').getByRole('button').first().click();
  await expect(page.locator('#cell-target_ach50 .number')).toHaveText('1.30');
  await expect(page.locator('#cell-q50')).toHaveClass(/selected/);
});

test('a formula explained: each name replaced by its value', async ({ page }) => {
  await page.goto('/');
  const row = page.locator('#cell-margin_ach50');
  await row.getByRole('button').first().click();
  await row.getByRole('button', { name: 'explain' }).click();
  await expect(row.locator('.explain')).toContainText('1.20 1/h - 1.029 ± 0.033 1/h');
  const grid = page.getByRole('grid', { name: 'Readings' });
  await grid.locator('[data-at="0:5"]').click();
  const bar = page.getByRole('group', { name: /^Column Flow/ });
  await bar.getByRole('button', { name: 'explain' }).click();
  await expect(bar.locator('.explain')).toContainText('99.80 ± 0.50 Pa');
  await page.keyboard.press('Escape');
  expect(await axe(page)).toEqual([]);
});

test('what a cell reads and what reads it is marked on the sheet, and gone to by key', async ({ page }) => {
  await page.goto('/');
  await page.locator('#cell-ach50').getByRole('button').first().click();
  await expect(page.locator('#cell-q50')).toContainText('read here');
  await expect(page.locator('#cell-margin_ach50')).toContainText('reads it');
  await expect(page.locator('#cell-target_ach50')).not.toContainText(/read here|reads it/);
  await page.keyboard.press('Control+]');
  await expect(page.locator('#cell-ach50')).not.toHaveClass(/selected/);
  await expect(page.locator(':focus')).toHaveAttribute('data-row-name', /.+/);
});

test('a name changed is changed in every formula, as one step', async ({ page }) => {
  await page.goto('/');
  const row = page.locator('#cell-target_ach50');
  await row.getByRole('button').first().click();
  await row.getByRole('button', { name: 'rename' }).click();
  const field = row.getByRole('textbox', { name: /New name/ });
  await field.fill('sqrt');
  await field.press('Enter');
  await expect(row.getByRole('alert')).toContainText('is a function');
  await field.fill('limit_ach50');
  await field.press('Enter');
  await expect(page.getByText('limit_ach50', { exact: true }).first()).toBeVisible();
  await expect(page.getByRole('contentinfo')).toContainText('0.171 under');
  const margin = page.locator('#cell-margin_ach50');
  await margin.getByRole('button').first().click();
  await expect(margin.locator('code')).toContainText('limit_ach50 - ach50');
  await page.keyboard.press('Control+z');
  await expect(margin.locator('code')).toContainText('target_ach50 - ach50');

  const grid = page.getByRole('grid', { name: 'Readings' });
  await grid.locator('[data-at="0:1"]').click();
  const bar = page.getByRole('group', { name: 'Column House' });
  await bar.getByRole('button', { name: 'rename' }).click();
  await bar.getByRole('textbox', { name: /New name/ }).fill('gauge_reading');
  await page.keyboard.press('Enter');
  await grid.locator('[data-at="0:4"]').click();
  await expect(page.getByRole('group', { name: 'Column Induced' }).locator('code')).toContainText(
    'gauge_reading',
  );
  await expect(page.getByRole('contentinfo')).toContainText('none');
  await page.keyboard.press('Control+z');
});

test('what the ± of a column and of a value means is shown and can be changed', async ({ page }) => {
  await page.goto('/');
  const grid = page.getByRole('grid', { name: 'Readings' });
  const heading = grid.locator('[data-at="-1:1"]');
  await expect(heading).toContainText('± 0.3 Pa');
  await grid.locator('[data-at="0:1"]').click();
  const bar = page.getByRole('group', { name: 'Column House' });
  const each = bar.getByRole('textbox', { name: 'Each value ±' });
  await each.fill('3 ft');
  await each.press('Enter');
  await expect(bar.getByRole('alert')).toContainText('length');
  await each.fill('0.6 Pa');
  await each.press('Enter');
  await expect(heading).toContainText('± 0.6 Pa');
  await expect(grid.locator('[data-at="0:1"]')).toContainText('± 0.60');
  await bar.getByRole('combobox', { name: /What ± means/ }).selectOption('95 % interval');
  await expect(grid.locator('[data-at="0:1"]')).toContainText(/± 0\.3[01]/);
  expect(await axe(page)).toEqual([]);

  const error = page.locator('#cell-volume_error');
  await error.getByRole('button').first().click();
  await expect(error).toContainText('± 1.0');
  await error.getByRole('combobox', { name: /What ± means/ }).selectOption('limits, equally likely between');
  await expect(error).toContainText('typed as limits');
  await expect(error).toContainText('± 0.58');
});

test('what is wrong is marked under its letters, which stay readable', async ({ page }) => {
  await page.goto('/');
  const text = await edit(page, 'margin_ach50');
  await text.fill('target_ach50 - nothing_so_called');
  const mark = page.locator('#cell-margin_ach50 mark');
  await expect(mark).toHaveText('nothing_so_called');
  const onTop = await mark.evaluate((element) => {
    const { left, top, width, height } = element.getBoundingClientRect();
    const under = element.parentElement!;
    under.style.pointerEvents = 'auto';
    const found = document.elementFromPoint(left + width / 2, top + height / 2);
    under.style.pointerEvents = '';
    return found?.tagName;
  });
  expect(onTop).toBe('TEXTAREA');
  await text.press('Escape');
});

test('half a name that can only be a fault is completed by Enter or Tab; what can stand is kept', async ({
  page,
}) => {
  await page.goto('/');
  const text = await edit(page, 'margin_ach50');
  await text.fill('');
  await text.pressSequentially('target_ach50 - ach50_l');
  await expect(page.getByRole('option', { name: /^ach50_low/ })).toHaveAttribute('aria-selected', 'true');
  expect(await axe(page)).toEqual([]);
  await page.keyboard.press('Tab');
  await expect(text).toHaveValue('target_ach50 - ach50_low');
  await text.press('Escape');

  // `ach50` is a name although others begin with it.
  const again = await edit(page, 'margin_ach50');
  await again.fill('');
  await again.pressSequentially('target_ach50 - ach50');
  await expect(page.getByRole('option', { name: /^ach50_low/ })).toHaveAttribute('aria-selected', 'false');
  await page.keyboard.press('Enter');
  await expect(page.locator('#cell-margin_ach50 .number')).toHaveText('0.171');
});

test('the names that fit are offered before a letter is typed, when they are asked for', async ({ page }) => {
  await page.goto('/');
  const names = page.getByRole('listbox', { name: 'Names' });
  const text = await edit(page, 'margin_ach50');
  await text.fill('');
  await text.pressSequentially('target_ach50 - ');
  await expect(names).toBeHidden();
  await page.keyboard.press('Control+Space');
  // Air changes, each with its value; those of the same worksheet first.
  const first = names.getByRole('option').first();
  await expect(first).toContainText(/\d 1\/h/);
  await expect(first).toHaveAttribute('aria-selected', 'true');
  expect(await names.getByRole('option').count()).toBeGreaterThan(8);
  expect(await axe(page)).toEqual([]);
  // Escape closes the list and not the editor; the arrow with Alt opens it again.
  await page.keyboard.press('Escape');
  await expect(names).toBeHidden();
  await page.keyboard.press('Alt+ArrowDown');
  await expect(names).toBeVisible();
  // The list scrolls with what is chosen, and letters narrow it.
  for (let press = 0; press < 12; press++) await page.keyboard.press('ArrowDown');
  await expect(names.getByRole('option', { selected: true })).toBeInViewport({ ratio: 0.95 });
  await page.keyboard.type('ach');
  await expect(names.getByRole('option').first()).toContainText('ach50');
  await expect(text).toHaveValue('target_ach50 - ach');
  for (let press = 0; press < 3; press++) await page.keyboard.press('Backspace');
  await expect(names).toBeHidden();
  await page.keyboard.press('Control+Space');
  const chosen = (await first.locator('.mono').innerText()).trim();
  await page.keyboard.press('Enter');
  await expect(text).toHaveValue(`target_ach50 - ${chosen}`);
  // Behind a name stands no other.
  await page.keyboard.type(' ');
  await page.keyboard.press('Control+Space');
  await expect(names).toBeHidden();
  await text.press('Escape');
});

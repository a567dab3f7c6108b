import type { Page } from '@playwright/test';
import { axe, expect, test } from './support.ts';

/**
 * Every key of the grid, on a table of ten readings of eight columns. The keys that move and select are those of the
 * WAI-ARIA Authoring Practices Guide, grid pattern (W3C), sections "Keyboard interaction for data grids" and
 * "for selecting cells"; the rest is common to spreadsheets.
 */
interface Press {
  readonly from: readonly [row: number, column: number];
  readonly keys: readonly string[];
  readonly at: string;
  /** Cells selected afterwards; the active one counts alone. */
  readonly selected?: number;
}

const PRESSES: readonly Press[] = [
  { from: [2, 2], keys: ['ArrowRight'], at: '2:3' },
  { from: [2, 2], keys: ['ArrowLeft'], at: '2:1' },
  { from: [2, 2], keys: ['ArrowDown'], at: '3:2' },
  { from: [2, 2], keys: ['ArrowUp'], at: '1:2' },
  { from: [0, 0], keys: ['ArrowLeft'], at: '0:0' },
  { from: [0, 7], keys: ['ArrowRight'], at: '0:7' },
  { from: [10, 1], keys: ['ArrowDown'], at: '10:1' },
  // Headings that can do something are part of the grid.
  { from: [0, 1], keys: ['ArrowUp'], at: '-1:1' },
  { from: [0, 1], keys: ['ArrowUp', 'ArrowUp'], at: '-1:1' },
  { from: [0, 1], keys: ['ArrowUp', 'ArrowRight', 'ArrowDown'], at: '0:2' },
  { from: [2, 2], keys: ['Home'], at: '2:0' },
  { from: [2, 2], keys: ['End'], at: '2:7' },
  { from: [2, 2], keys: ['Control+Home'], at: '0:0' },
  { from: [2, 2], keys: ['Control+End'], at: '10:7' },
  { from: [2, 2], keys: ['Control+ArrowUp'], at: '0:2' },
  { from: [2, 2], keys: ['Control+ArrowDown'], at: '10:2' },
  { from: [2, 2], keys: ['Control+ArrowLeft'], at: '2:0' },
  { from: [2, 2], keys: ['Control+ArrowRight'], at: '2:7' },
  { from: [0, 2], keys: ['PageDown'], at: '10:2' },
  { from: [10, 2], keys: ['PageUp'], at: '0:2' },
  { from: [2, 2], keys: ['Shift+ArrowRight'], at: '2:3', selected: 2 },
  { from: [2, 2], keys: ['Shift+ArrowLeft'], at: '2:1', selected: 2 },
  { from: [2, 2], keys: ['Shift+ArrowDown', 'Shift+ArrowDown'], at: '4:2', selected: 3 },
  { from: [2, 2], keys: ['Shift+ArrowUp', 'Shift+ArrowRight'], at: '1:3', selected: 4 },
  { from: [0, 2], keys: ['Shift+ArrowUp'], at: '0:2', selected: 1 },
  { from: [2, 2], keys: ['Shift+Home'], at: '2:0', selected: 3 },
  { from: [2, 2], keys: ['Shift+End'], at: '2:7', selected: 6 },
  { from: [2, 2], keys: ['Control+Shift+Home'], at: '0:0', selected: 9 },
  { from: [8, 6], keys: ['Control+Shift+ArrowUp'], at: '0:6', selected: 9 },
  { from: [8, 6], keys: ['Control+Shift+ArrowLeft'], at: '8:0', selected: 7 },
  { from: [2, 2], keys: ['Shift+Space'], at: '2:7', selected: 8 },
  { from: [2, 2], keys: ['Shift+Space', 'Shift+ArrowDown'], at: '3:7', selected: 16 },
  { from: [2, 2], keys: ['Control+Space'], at: '9:2', selected: 10 },
  { from: [2, 2], keys: ['Control+a'], at: '9:7', selected: 80 },
  { from: [2, 2], keys: ['Shift+ArrowDown', 'Escape'], at: '3:2', selected: 1 },
  { from: [2, 2], keys: ['Shift+ArrowDown', 'ArrowDown'], at: '4:2', selected: 1 },
  { from: [2, 2], keys: ['F2', 'Escape'], at: '2:2' },
  { from: [2, 2], keys: ['Enter', 'Enter'], at: '3:2' },
  { from: [2, 2], keys: ['Enter', 'Shift+Enter'], at: '1:2' },
  { from: [0, 2], keys: ['Enter', 'Shift+Enter'], at: '0:2' },
  { from: [2, 2], keys: ['Enter', 'Tab'], at: '2:3' },
  { from: [2, 2], keys: ['Enter', 'Shift+Tab'], at: '2:1' },
  { from: [2, 7], keys: ['Enter', 'Tab'], at: '3:0' },
  { from: [2, 2], keys: ['Shift+F10', 'Escape'], at: '2:2' },
  { from: [2, 2], keys: ['ContextMenu', 'Escape'], at: '2:2' },
  { from: [0, 2], keys: ['ArrowUp', 'Enter', 'Escape'], at: '-1:2' },
  { from: [2, 2], keys: ['Alt+ArrowUp'], at: '1:2' },
  { from: [2, 2], keys: ['Alt+ArrowDown'], at: '3:2' },
  { from: [0, 2], keys: ['Alt+ArrowUp'], at: '0:2' },
  { from: [9, 2], keys: ['Alt+ArrowDown'], at: '9:2' },
];

const grid = (page: Page) => page.getByRole('grid', { name: 'Readings' });
const at = (page: Page, row: number, column: number) => grid(page).locator(`[data-at="${row}:${column}"]`);
/** What the House column says, from the top. */
const house = async (page: Page, rows: number) =>
  Promise.all(Array.from({ length: rows }, (_, row) => at(page, row, 1).locator('.typed').innerText()));

test('every key goes where it should, and the grid stays one tab stop', async ({ page }) => {
  await page.goto('/');
  await expect(grid(page)).toHaveAttribute('aria-rowcount', '12');
  const focused = page.locator('[data-at]:focus');
  for (const { from, keys, at: place, selected = 1 } of PRESSES) {
    const said = `${keys.join(', ')} from ${from.join(':')}`;
    await at(page, ...from).click();
    for (const key of keys) await page.keyboard.press(key);
    await expect(focused, said).toHaveAttribute('data-at', place);
    const isHead = place.startsWith('-1');
    await expect(grid(page).locator('[aria-selected="true"]'), said).toHaveCount(isHead ? 0 : selected);
    await expect(grid(page).locator('[tabindex="0"]'), said).toHaveCount(1);
    // What moved is put back, so that each press begins with the same table.
    if (keys.some((key) => key.startsWith('Alt')))
      if (await page.getByRole('button', { name: 'Undo' }).isEnabled())
        await page.keyboard.press('Control+z');
  }
  await expect(page.getByRole('contentinfo')).toContainText('targets: too close');
});

test('rows move, are inserted, doubled and filled, each as one step', async ({ page }) => {
  await page.goto('/');
  const before = await house(page, 4);
  expect(before).toEqual(['−62.70', '−56.20', '−50.60', '−45.40']);
  await at(page, 0, 1).click();
  await page.keyboard.press('Alt+ArrowDown');
  expect(await house(page, 3)).toEqual(['−56.20', '−62.70', '−50.60']);
  await page.keyboard.press('Shift+ArrowDown');
  await page.keyboard.press('Alt+ArrowUp');
  expect(await house(page, 3)).toEqual(['−62.70', '−50.60', '−56.20']);
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  expect(await house(page, 4)).toEqual(before);

  await at(page, 1, 1).click();
  await page.keyboard.press('Control+Shift+Enter');
  await expect(page.locator('[data-at]:focus')).toHaveAttribute('data-at', '1:1');
  await expect(at(page, 1, 1)).toHaveText('');
  await page.keyboard.press('Control+d');
  expect(await house(page, 3)).toEqual(['−62.70', '−62.70', '−56.20']);
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');

  await at(page, 0, 1).click();
  await page.keyboard.press('Shift+ArrowDown');
  await page.keyboard.press('Control+Shift+d');
  expect(await house(page, 5)).toEqual(['−62.70', '−56.20', '−62.70', '−56.20', '−50.60']);
  await page.keyboard.press('Control+z');

  // Filling a block down takes its first row, and leaves calculated columns their formula.
  await at(page, 0, 1).click();
  for (let row = 0; row < 2; row++) await page.keyboard.press('Shift+ArrowDown');
  for (let column = 0; column < 4; column++) await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('Control+d');
  expect(await house(page, 4)).toEqual(['−62.70', '−62.70', '−62.70', '−45.40']);
  await expect(at(page, 2, 5)).not.toContainText('typed over');
  await page.keyboard.press('Control+z');
  expect(await house(page, 4)).toEqual(before);
});

test('sorting is an edit, and a note stays with its row', async ({ page }) => {
  await page.goto('/');
  await at(page, 0, 1).click();
  await page.keyboard.press('Shift+F10');
  const menu = page.getByRole('dialog', { name: 'Row 1' });
  await expect(menu.getByRole('button', { name: /Insert a row above/ })).toBeFocused();
  expect(await axe(page)).toEqual([]);
  await menu.getByRole('button', { name: 'Note on the row' }).press('Enter');
  await page.getByRole('textbox', { name: /Note on this row/ }).fill('door opened');
  await page.keyboard.press('Control+Enter');
  await expect(grid(page).getByRole('row').nth(1)).toContainText('note: door opened');

  await at(page, 0, 1).click();
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Enter');
  const column = page.getByRole('dialog', { name: 'Column House' });
  expect(await axe(page)).toEqual([]);
  await column.getByRole('button', { name: 'Sort, largest first' }).press('Enter');
  const sorted = await house(page, 10);
  expect(sorted[9]).toBe('−62.70');
  await expect(grid(page).getByRole('row').nth(10)).toContainText('note: door opened');
  await expect(page.locator('[data-at]:focus')).toHaveCount(1);
  await page.keyboard.press('Control+z');
  expect((await house(page, 1))[0]).toBe('−62.70');
});

test('showing only some rows changes nothing but the view', async ({ page }) => {
  await page.goto('/');
  await expect(page.getByRole('contentinfo')).toContainText('none');
  const result = await page.getByRole('contentinfo').innerText();
  await at(page, 0, 0).click();
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Enter');
  const column = page.getByRole('dialog', { name: 'Column Range' });
  await column.getByRole('checkbox', { name: 'mid' }).uncheck();
  await expect(grid(page)).toHaveAttribute('aria-rowcount', '5');
  await page.keyboard.press('Escape');
  await expect(page.getByText('3 of 10 rows', { exact: true })).toBeVisible();
  expect(await page.getByRole('contentinfo').innerText()).toBe(result);
  // A row that is typed in stays in sight.
  await at(page, 0, 0).click();
  await page.keyboard.press('F2');
  await page.getByRole('combobox', { name: 'Range' }).selectOption('mid');
  await page.keyboard.press('Enter');
  await expect(grid(page)).toHaveAttribute('aria-rowcount', '5');
  await page.keyboard.press('Control+z');
  await page.getByRole('button', { name: 'Show all rows' }).click();
  await expect(grid(page)).toHaveAttribute('aria-rowcount', '12');
});

test('rows are shown by limits of their numbers, which are read as entries are, without a mouse', async ({
  page,
}) => {
  await page.goto('/');
  await at(page, 2, 1).click();
  await page.keyboard.press('Delete');
  await expect(at(page, 2, 1)).toHaveText('');
  await expect(page.getByRole('contentinfo')).toContainText(/saved \d/);
  const result = await page.getByRole('contentinfo').innerText();
  const limits = page.getByRole('dialog', { name: 'Column House' });
  const least = limits.getByLabel('at least');
  const most = limits.getByLabel('at most');
  await at(page, 0, 1).click();
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('Enter');
  for (let stop = 0; stop < 3; stop++) await page.keyboard.press('ArrowDown');
  await expect(most).toBeFocused();
  await page.keyboard.type('-40');
  await expect(grid(page)).toHaveAttribute('aria-rowcount', '5');
  expect(await axe(page)).toEqual([]);
  await page.keyboard.press('Enter');
  await expect(page.locator('[data-at]:focus')).toHaveAttribute('data-at', '-1:1');
  const bar = page.locator('p', { hasText: 'of 10 rows' });
  await expect(bar).toContainText(
    '3 of 10 rows where House is at most −40 Pa. 1 row without a value is left out. Results take all rows.',
  );
  expect(await page.getByRole('contentinfo').innerText()).toBe(result);

  // Another unit of a pressure is converted; what is none leaves no row out and says what to type.
  await page.keyboard.press('Enter');
  await expect(most).toHaveValue('-40 Pa');
  await least.fill('8 kg');
  await expect(limits.getByRole('status')).toHaveText(
    "'8 kg' is a mass; this entry is a pressure; type for instance 20 Pa",
  );
  await expect(least).toHaveAttribute('aria-invalid', 'true');
  await expect(grid(page)).toHaveAttribute('aria-rowcount', '5');
  await page.keyboard.press('Escape');
  await expect(bar).toContainText("House: '8 kg' is a mass");
  await page.keyboard.press('Enter');
  await expect(least).toHaveValue('8 kg');
  await least.fill('-30');
  await expect(limits.getByRole('status')).toHaveText('At least is more than at most: no row can be both.');
  await expect(grid(page)).toHaveAttribute('aria-rowcount', '2');
  await least.fill('-0.06 kPa');
  await expect(grid(page)).toHaveAttribute('aria-rowcount', '4');
  await page.keyboard.press('Enter');
  await expect(bar).toContainText('2 of 10 rows where House is between −0.06 kPa and −40 Pa.');

  // As with every filter, a row that is typed in stays in sight.
  await page.keyboard.press('ArrowDown');
  await page.keyboard.type('-12');
  await page.keyboard.press('Enter');
  await expect(grid(page)).toHaveAttribute('aria-rowcount', '4');
  await page.getByRole('button', { name: 'Show all rows' }).click();
  await expect(grid(page)).toHaveAttribute('aria-rowcount', '12');
});

test('a mouse selects by dragging and with Shift, and its second button opens the row', async ({ page }) => {
  await page.goto('/');
  await at(page, 1, 1).hover();
  await page.mouse.down();
  await at(page, 3, 2).hover();
  await page.mouse.up();
  await expect(grid(page).locator('[aria-selected="true"]')).toHaveCount(6);
  await at(page, 2, 4).click({ modifiers: ['Shift'] });
  await expect(grid(page).locator('[aria-selected="true"]')).toHaveCount(8);
  await at(page, 2, 1).click({ button: 'right' });
  const menu = page.getByRole('dialog', { name: /^Row/ });
  await expect(menu.getByRole('button', { name: /Remove 2 rows/ })).toBeVisible();
  await at(page, 8, 1).click();
  await expect(menu).toHaveCount(0);
});

test('a filter lasts while the workbook is open, is seen where it is on, and is no edit', async ({
  page,
}) => {
  await page.goto('/');
  const sheet = (name: RegExp) => page.getByRole('navigation').getByRole('button', { name });
  const bar = page.locator('p', { hasText: 'of 10 rows' });
  await at(page, -1, 1).click();
  await page.getByRole('dialog', { name: 'Column House' }).getByLabel('at most').fill('-40');
  await page.keyboard.press('Enter');
  await expect(bar).toContainText('4 of 10 rows');
  await sheet(/^House/).click();
  await expect(page.getByRole('heading', { level: 1, name: 'House' })).toBeVisible();
  // Of this table alone.
  await expect(page.getByRole('button', { name: 'Show all rows' })).toHaveCount(0);
  await page.getByRole('button', { name: 'Arrange' }).click();
  await sheet(/^Air test/).click();
  await page.getByRole('button', { name: 'Arrange' }).click();
  await expect(bar).toContainText('4 of 10 rows where House is at most −40 Pa.');
  await expect(at(page, -1, 1)).toContainText('filtered');
  await expect(grid(page)).toHaveAttribute('aria-rowcount', '6');
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();
  await page.getByRole('button', { name: 'Show all rows' }).click();
  await sheet(/^House/).click();
  await sheet(/^Air test/).click();
  await expect(grid(page)).toHaveAttribute('aria-rowcount', '12');
  await expect(bar).toHaveCount(0);
});

// Seen in Firefox 153: where no text is selected, its events of the clipboard go to the page and not to the cell.
test('a range is copied and pasted where the browser tells the page of it, not the cell', async ({
  page,
}) => {
  await page.goto('/');
  await at(page, 1, 1).click();
  await page.keyboard.press('Shift+ArrowDown');
  const tell = (type: string, text: string) =>
    page.evaluate(
      ([kind = '', given = '']) => {
        const clipboardData = new DataTransfer();
        if (given !== '') clipboardData.setData('text/plain', given);
        document.body.dispatchEvent(
          new ClipboardEvent(kind, { clipboardData, bubbles: true, cancelable: true }),
        );
        return clipboardData.getData('text/plain');
      },
      [type, text],
    );
  const copied = await tell('copy', '');
  expect(copied.split('\n')).toEqual(['-56.2', '-50.6']);
  await at(page, 4, 1).click();
  await tell('paste', copied);
  const preview = page.getByRole('dialog', { name: 'Paste 2 values' });
  await preview.getByRole('button', { name: 'Paste', exact: true }).click();
  await expect(at(page, 5, 1)).toContainText('−50.60');
  // With the focus elsewhere the table takes nothing.
  await page.getByRole('textbox', { name: 'Job' }).focus();
  expect(await tell('copy', '')).toBe('');
});

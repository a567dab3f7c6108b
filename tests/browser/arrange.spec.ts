/** A worksheet of one's own, built from nothing: by keyboard alone at the desk, by touch on a phone. */
import type { Page } from '@playwright/test';
import { axe, expect, test } from './support.ts';

/** The name of what has the focus, as it is read out. */
function focused(page: Page): Promise<string> {
  return page.evaluate(() => {
    const at = document.activeElement;
    const label = at?.id ? document.querySelector(`label[for="${at.id}"]`)?.textContent : undefined;
    return (label ?? at?.getAttribute('aria-label') ?? at?.textContent ?? '').replace(/\s+/gu, ' ').trim();
  });
}

/** Tab until what is wanted has the focus: nobody points at anything here. */
async function tabTo(page: Page, wanted: RegExp | string, key = 'Tab'): Promise<void> {
  for (let n = 0; n < 60; n++) {
    const at = await focused(page);
    if (typeof wanted === 'string' ? at === wanted : wanted.test(at)) return;
    await page.keyboard.press(key);
  }
  throw new Error(`no ${String(wanted)} within 60 stops; the focus stands at “${await focused(page)}”`);
}

async function open(page: Page): Promise<void> {
  await page.goto('./');
  await expect(page.getByRole('heading', { name: 'Air test', level: 1 })).toBeVisible();
}

async function emptyWorkbook(page: Page): Promise<void> {
  await open(page);
  await tabTo(page, 'New');
  await page.keyboard.press('Enter');
  await tabTo(page, 'Empty workbook');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: 'Arrange' })).toBeVisible();
  await expect(page.getByRole('textbox', { name: 'Job' })).toBeFocused();
}

async function addCell(page: Page, label: string, unit: string, text: string): Promise<void> {
  await tabTo(page, 'Cell');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('group', { name: 'New cell' })).toBeVisible();
  await page.keyboard.type(label);
  await tabTo(page, 'Unit, if any');
  await page.keyboard.type(unit);
  await page.keyboard.press('Enter');
  await expect(page.getByRole('textbox', { name: `${label}: value or formula` })).toBeFocused();
  await page.keyboard.type(text);
  await page.keyboard.press('Enter');
  await expect(page.locator('[data-part]:focus')).toContainText(label);
}

test('from nothing with the keyboard alone: a sheet, a section, cells, a formula, a table, a figure', async ({
  page,
}) => {
  await emptyWorkbook(page);
  await page.keyboard.type('Small job');
  await page.keyboard.press('Enter');

  await tabTo(page, /Worksheet 1$/u);
  await tabTo(page, /^worksheet Worksheet 1/u);
  await page.keyboard.press('Enter');
  await tabTo(page, 'Title');
  await page.keyboard.press('Control+a');
  await page.keyboard.type('Ceiling');
  await page.keyboard.press('Enter');
  await tabTo(page, 'New section');
  await page.keyboard.type('Sizes');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('region', { name: 'Sizes' })).toBeVisible();
  await expect.poll(() => focused(page)).toBe('Cell');

  await addCell(page, 'Room length', 'ft', '20');
  await addCell(page, 'Room width', 'ft', '12 ft 6 in');
  await addCell(page, 'Ceiling area', 'ft2', 'room_width * room_length * 1');
  await expect(page.locator('[data-part="ceiling_area"]')).toContainText('250');

  await tabTo(page, 'Table');
  await page.keyboard.press('Enter');
  await page.keyboard.type('Boards');
  await tabTo(page, 'First columns, one heading a line');
  await page.keyboard.type('Board\nBoard length (ft)\nBoard area (ft2) = board_length * 4 ft');
  await tabTo(page, 'Add the table');
  await page.keyboard.press('Enter');
  await expect(page.locator('[data-part="boards"]')).toContainText('3 columns, 0 rows');
  expect(await axe(page)).toEqual([]);

  await tabTo(page, 'Figure');
  await page.keyboard.press('Enter');
  await tabTo(page, /^Bars/u);
  await page.keyboard.press('Enter');
  await tabTo(page, 'Amount');
  // A select is chosen from by the beginning of a word.
  await page.keyboard.type('Boards, Board a');
  await expect(page.getByLabel('Amount')).toHaveValue('boards.board_area');
  expect(await axe(page)).toEqual([]);
  await tabTo(page, 'Add the figure');
  await page.keyboard.press('Enter');
  await expect(page.locator('[data-part="bars"]')).toBeFocused();

  // Every step is undone down to the empty workbook, and done again.
  const parts = page.locator('[data-part]');
  const built = ['worksheet', 'section', 'room_length', 'room_width', 'ceiling_area', 'boards', 'bars'];
  const names = () => parts.evaluateAll((all) => all.map((each) => each.getAttribute('data-part')));
  expect(await names()).toEqual(built);
  for (const [word, key] of [
    ['Undo', 'Control+z'],
    ['Redo', 'Control+y'],
  ] as const) {
    for (let n = 0; (await page.getByRole('button', { name: word, exact: true }).isEnabled()) && n < 40; n++)
      await page.keyboard.press(key);
    await expect.poll(names).toEqual(word === 'Undo' ? ['worksheet'] : built);
  }
  await expect(page.locator('[data-part="ceiling_area"]')).toContainText('250');

  // What was built works: a row typed on the worksheet is calculated and drawn.
  await page.keyboard.press('Control+e');
  await expect(page.getByRole('heading', { name: 'Ceiling', level: 1 })).toBeVisible();
  await expect(page.getByRole('complementary', { name: 'Figures' })).toContainText('Bars');
  expect(await axe(page)).toEqual([]);
});

test('everything that was arranged is undone step by step, and done again', async ({ page }) => {
  await emptyWorkbook(page);
  await page.keyboard.press('Escape');
  await tabTo(page, 'New section');
  await page.keyboard.type('Sizes');
  await page.keyboard.press('Enter');
  await expect.poll(() => focused(page)).toBe('Cell');
  await addCell(page, 'Height', 'ft', '8');
  await addCell(page, 'Half', 'ft', 'height / 2');
  const parts = page.locator('[data-part]');
  const names = () => parts.evaluateAll((all) => all.map((each) => each.getAttribute('data-part')));
  const states = [await names()];

  await page.keyboard.press('Alt+ArrowUp');
  await expect.poll(names).toEqual(['worksheet', 'section', 'half', 'height']);
  await expect(page.locator('[data-part="half"]')).toBeFocused();
  states.push(await names());
  await page.keyboard.press('Control+d');
  await expect.poll(names).toEqual(['worksheet', 'section', 'half', 'half_2', 'height']);
  states.push(await names());
  await page.keyboard.press('ArrowDown');
  await expect.poll(() => focused(page)).not.toContain('half_2');
  await page.locator('[data-part="height"]').focus();
  await page.keyboard.press('Delete');
  await expect(page.locator('.notice').filter({ hasText: 'Deleted the cell “Height”' })).toContainText(
    'Half and Half 2 read it and cannot be worked out until it is back.',
  );
  await expect(page.getByRole('status').filter({ hasText: 'Deleted the cell' })).toBeAttached();
  await expect(page.getByRole('button', { name: /2 faults · next/u })).toBeVisible();
  states.push(await names());

  for (const state of states.slice(0, -1).reverse()) {
    await page.keyboard.press('Control+z');
    await expect.poll(names).toEqual(state);
  }
  for (const state of states.slice(1)) {
    await page.keyboard.press('Control+y');
    await expect.poll(names).toEqual(state);
  }
  await page.getByRole('button', { name: 'Undo' }).first().focus();
  await page.keyboard.press('Enter');
  await expect.poll(names).toEqual(states[2]);
});

test('a name is proposed from the label, and refused while it is typed with the reason', async ({ page }) => {
  await open(page);
  await page.keyboard.press('Control+e');
  await page
    .getByRole('group', { name: /^Add to/u })
    .first()
    .getByRole('button', { name: 'Cell' })
    .click();
  await page.getByLabel('What is it called?').fill('Wall height, north');
  const name = page.getByLabel('Name in formulas');
  await expect(name).toHaveValue('wall_height_north');
  await name.fill('cfm');
  await expect(page.getByText('“cfm” is a unit')).toBeVisible();
  await expect(page.getByRole('button', { name: 'Add the cell' })).toBeDisabled();
  await name.fill('ach50');
  await expect(page.getByText('The name “ach50” is already taken.')).toBeVisible();
});

test('a column becomes calculated, moves and is deleted; what reads it is told', async ({ page }) => {
  await open(page);
  await page.keyboard.press('Control+e');
  await page.locator('[data-part="readings"]').click();
  const rows = page.getByRole('list', { name: 'Columns of Readings' });
  const before = await rows
    .locator('[data-column-row]')
    .evaluateAll((all) => all.map((each) => each.getAttribute('data-column-row')));
  await page.getByLabel('Add a column').fill('Half pressure (Pa) = house_pressure / 2');
  await page.keyboard.press('Enter');
  const half = rows.locator('[data-column-row="half_pressure"]');
  await expect(half).toContainText('calculated');
  await half.focus();
  await page.keyboard.press('Alt+ArrowUp');
  await expect
    .poll(() =>
      rows
        .locator('[data-column-row]')
        .nth(before.length - 1)
        .getAttribute('data-column-row'),
    )
    .toBe('half_pressure');
  await half.click();
  await page.getByLabel('Under the column').selectOption('mean');
  await page.getByRole('button', { name: 'type it in each row instead' }).click();
  await expect(half).toContainText('typed');
  await half.focus();
  await page.keyboard.press('Delete');
  await expect(half).toHaveCount(0);
  const pressure = rows.locator('[data-column-row]').filter({ hasText: 'house_pressure' });
  await pressure.focus();
  await page.keyboard.press('Delete');
  await expect(page.locator('.notice')).toContainText('cannot be worked out until it is back');
});

test('what a new job is asked for is said in the properties of a cell, a column and a table, and undone', async ({
  page,
}) => {
  await open(page);
  const inputs = page.getByRole('navigation').getByRole('button', { name: /^Inputs of the job/ });
  const asked = page.locator('main');
  await page.keyboard.press('Control+e');
  await page.locator('[data-part="test_method"]').click();
  const cell = page.getByRole('checkbox', { name: 'A new job is asked for it' });
  const before = await cell.isChecked();
  await cell.setChecked(!before);
  await page.locator('[data-part="method_verdict"]').click();
  await expect(page.locator('.part.open')).toContainText('Value or formula');
  await expect(cell).toHaveCount(0);
  await page.locator('[data-part="readings"]').click();
  const table = page.getByRole('checkbox', { name: /^A new job begins without these rows/ });
  await table.setChecked(false);
  await page.locator('[data-column-row="fan_pressure"]').click();
  const column = page.getByRole('checkbox', { name: 'A new job is asked for its entries' });
  await column.setChecked(true);
  await inputs.click();
  await expect(asked).toContainText(/Fan:/);
  await page.keyboard.press('Control+z');
  await expect(asked).not.toContainText(/Fan:/);
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await expect(page.getByRole('button', { name: 'Undo', exact: true })).toBeDisabled();
});

test('the list of functions and units is searched, and a formula takes an example from it', async ({
  page,
}) => {
  await open(page);
  await page.getByRole('navigation').getByRole('button', { name: 'Functions and units' }).click();
  expect(await axe(page)).toEqual([]);
  await page.getByLabel('Search').fill('lookup');
  await page.getByRole('button', { name: /^lookup/u }).click();
  await expect(page.getByText('lookup(rooms.area, rooms.room, "kitchen")')).toBeVisible();
  await expect(page.locator('.results')).toContainText('160 ft²');
  await page.getByLabel('Search').fill('fan_flow');
  await page.getByRole('button', { name: /^fan_flow/u }).click();
  await expect(page.getByText('fan_flow(100 Pa, 0.025 m3/s, 0.5)')).toBeVisible();
  await expect(page.getByText('0.25 m³/s')).toBeVisible();
  expect(await axe(page)).toEqual([]);
  await page.getByLabel('Search').fill('inWC');
  await expect(page.getByRole('row', { name: /inH2O/u })).toContainText('249.08891 Pa');

  await page.getByRole('navigation').getByRole('button', { name: 'Air test' }).click();
  const target = page.locator('[data-row-name]').filter({ hasText: 'target_ach50' });
  await target.click();
  await target.press('Enter');
  const editor = page.getByRole('textbox', { name: /First target, at most: value or formula/u });
  await editor.fill('fan_flow(');
  await editor.press('Control+i');
  await expect(editor).toHaveValue('fan_flow(100 Pa, 0.025 m3/s, 0.5)');
  await editor.fill('dew_point(');
  await editor.press('F1');
  await expect(page.getByLabel('Search')).toHaveValue('dew_point');
});

test.describe('on a phone', () => {
  test.use({ viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });

  test('a cell is added, moved and deleted by touch, and nothing sticks out', async ({ page }) => {
    await open(page);
    await page.getByRole('button', { name: 'Menu' }).tap();
    await page.getByRole('button', { name: 'Arrange' }).tap();
    await page
      .getByRole('group', { name: /^Add to/u })
      .first()
      .getByRole('button', { name: 'Cell' })
      .tap();
    await page.getByLabel('What is it called?').fill('Porch depth');
    await page.getByRole('button', { name: 'Add the cell' }).tap();
    const editor = page.getByRole('textbox', { name: 'Porch depth: value or formula' });
    await expect(editor).toBeVisible();
    await editor.fill('6 ft');
    await editor.press('Enter');
    const part = page.locator('[data-part="porch_depth"]');
    await expect(part).toContainText('6');
    const actions = page.getByRole('group', { name: 'Arrange Porch depth' });
    await actions.getByRole('button', { name: 'Up', exact: true }).tap();
    const box = await actions.getByRole('button', { name: 'Up', exact: true }).boundingBox();
    expect(box?.height).toBeGreaterThanOrEqual(48);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
    expect(await axe(page)).toEqual([]);
    await actions.getByRole('button', { name: 'Delete' }).tap();
    await expect(part).toHaveCount(0);
    await page.locator('.notice').getByRole('button', { name: 'Undo' }).tap();
    await expect(part).toBeVisible();
  });
});

import type { Page } from '@playwright/test';
import { axe, expect, openSheet, test } from './support.ts';

/** From the demo, with nothing of it. */
async function beginNextJob(page: Page): Promise<void> {
  await page.goto('/');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  const next = page.getByRole('button', { name: 'Next job like this one' });
  await expect(next).toHaveAccessibleDescription(/nothing of this one stays/);
  await next.click();
  await expect(page.getByRole('heading', { level: 1, name: 'Inputs of the job' })).toBeVisible();
}

test('the next job after the demo shows its figures as examples, and the list of worksheets where one is', async ({
  page,
}) => {
  await beginNextJob(page);
  await expect(page.getByRole('textbox', { name: 'First target, at most' })).toHaveAccessibleDescription(
    /1\.2 1\/h/,
  );
  const here = page.getByRole('navigation').locator('[aria-current]');
  await expect(here).toHaveText(/Inputs of the job/);
  await expect(here).toBeInViewport({ ratio: 1 });
});

test('readings typed before their test is known are told of, and given to it in one step', async ({
  page,
}) => {
  await beginNextJob(page);
  await page.getByRole('button', { name: 'Fill in the table Readings' }).click();
  const grid = page.getByRole('grid', { name: 'Readings' });
  await expect(
    page.getByText('What is typed here belongs to what is chosen under “Test shown”.'),
  ).toBeVisible();

  // The range is not known yet. Enter goes on under where the row began, also past what was left out.
  await grid.locator('[data-at="0:1"]').click();
  for (const [house, flow] of [
    ['-60', '530'],
    ['-50', '470'],
    ['-40', '405'],
    ['-30', '338'],
    ['-20', '259'],
  ] as const) {
    await page.keyboard.type(house);
    await page.keyboard.press('Tab');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.type(flow);
    await page.keyboard.press('Enter');
  }
  const rows = grid.locator('tbody tr:not(.new)[aria-rowindex]');
  await expect(rows).toHaveCount(5);
  await expect(rows.nth(4)).toContainText('259');
  await expect(grid.locator('[data-at="5:1"]')).toBeFocused();

  // The cell that chooses says where its choices are typed, and leads there.
  const shown = page.locator('#cell-shown_test');
  await expect(shown).toContainText('typed in “Tests”, on the worksheet “Tests and method”');
  await shown.getByRole('button', { name: 'go there' }).click();
  await expect(
    page.getByRole('grid', { name: 'Tests', exact: true }).locator('[data-at="0:0"]'),
  ).toBeFocused();
  await page.keyboard.type('before sealing');
  await page.keyboard.press('Enter');
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^Air test/ })
    .click();

  // As long as none is chosen each row may say which it is of.
  await expect(grid.getByRole('columnheader', { name: /^Test/ })).toBeVisible();
  await page.getByText('Choose first under “Test shown”').getByRole('button', { name: 'go there' }).click();
  await shown.getByRole('combobox').selectOption('before sealing');
  await expect(rows).toHaveCount(0);
  const note = page.getByText('5 rows say nothing under “Test” and are not shown.');
  await expect(note).toBeVisible();
  expect(await axe(page)).toEqual([]);
  await note.getByRole('button', { name: 'put them under “before sealing”' }).click();
  await expect(rows).toHaveCount(5);
  await expect(page.locator('#cell-point_hint')).toContainText('5 points');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(rows).toHaveCount(0);
  await expect(note).toBeVisible();
});

test('a row goes in by keyboard alone: Tab past what stays blank, words in place of choices, and nothing said of it that nobody typed', async ({
  page,
}) => {
  await beginNextJob(page);
  const type = async (keys: readonly string[]) => {
    for (const key of keys)
      if (key === 'Tab' || key === 'Enter') await page.keyboard.press(key);
      else await page.keyboard.type(key);
  };
  await openSheet(page, /^House/);
  const rooms = page.getByRole('grid', { name: /^Rooms/ });
  await rooms.locator('[data-at="0:0"]').click();
  // Between the height and the finish of the ceiling there are five columns with nothing to say.
  const past = ['Tab', 'Tab', 'Tab', 'Tab', 'Tab', 'Tab'];
  await type(['bed 1', 'Tab', '2', 'Tab', 'bedroom', 'Tab', '12', 'Tab', '11 ft 6', 'Tab', '8']);
  await type([...past, 'boards', 'Enter']);
  await type(['bath', 'Tab', '2', 'Tab', 'bath', 'Tab', '8', 'Tab', '7', 'Tab', '8', 'Enter']);
  const rows = rooms.locator('tbody tr:not(.new)[aria-rowindex]');
  await expect(rows).toHaveCount(2);
  await expect(rows.nth(0)).toContainText(/bed 1.*bedroom.*boards/s);
  await expect(rows.nth(0)).toContainText('138.0');
  await expect(rows.nth(1)).toContainText(/bath/);
  // The ceiling of the bath is not of boards because that of the bedroom is.
  await expect(rooms.locator('[data-at="1:11"]')).toHaveText('');

  // A column goes in with Enter alone: no name is written over the one before.
  await rooms.locator('[data-at="2:0"]').click();
  await type(['hall', 'Enter', 'stair', 'Enter', 'attic stair', 'Enter']);
  await expect(rows).toHaveCount(5);
  await expect(rooms.locator('[data-at="4:0"]')).toHaveText('attic stair');
  await expect(rooms.locator('[data-at="5:0"]')).toBeFocused();

  const openings = page.getByRole('grid', { name: /^Windows/ });
  await openings.locator('[data-at="0:0"]').click();
  await type(['W1', 'Tab', 'window', 'Tab', 'bath', 'Tab', 'n', 'Enter']);
  await expect(openings.locator('[data-at="0:1"]')).toHaveText('window');
  await expect(openings.locator('[data-at="0:2"]')).toHaveText('bath');
  await expect(openings.locator('[data-at="0:3"]')).toHaveText('N');

  // What is no choice stays as it was typed, and is told at its place.
  await type(['W2', 'Tab', 'window', 'Tab', 'cellar', 'Enter']);
  await expect(openings.locator('[data-at="1:2"]')).toContainText('cellar');
  await expect(openings.locator('tbody')).toContainText('"cellar" is not one of the choices');

  // Rooms that were typed once come to where each has a row in one step; those typed later are told of.
  await openSheet(page, /^Board and plaster/);
  const areas = page.getByRole('grid', { name: /^Areas to cover/ });
  const listed = areas.locator('tbody tr:not(.new)[aria-rowindex]');
  await page.getByRole('button', { name: 'add a row for each of the 5' }).first().click();
  await expect(listed).toHaveCount(5);
  await expect(listed.nth(0)).toContainText('bed 1');
  await areas.locator('[data-at="4:0"]').click();
  await page.keyboard.press('Control+Delete');
  await expect(listed).toHaveCount(4);
  await expect(
    page.getByText('Not here yet of “Rooms, at the framing face before board”: attic stair.'),
  ).toBeVisible();
  await page.getByRole('button', { name: 'add a row for it' }).click();
  await expect(listed.nth(4)).toContainText('attic stair');
  expect(await axe(page)).toEqual([]);
});

import { chooseSheet, isInSight, pad, PHONE, press, sheets } from './phone-pad.ts';
import { axe, expect, test } from './support.ts';

test.use(PHONE);

test('a line says how its row stands, words are read whole, and a new row begins with its name', async ({
  page,
}) => {
  await page.goto('/');
  await chooseSheet(page, /^Leaks/);
  const log = page.getByRole('group', { name: 'Leak log', exact: true });
  await expect(log.locator('.line.head')).toContainText('Status');
  await expect(log.getByRole('button', { name: /L15/ })).toContainText('open');
  await expect(log.getByRole('button', { name: /L02/ })).toContainText('sealed');

  // Words in the field are as whole as in the line.
  await log.getByRole('button', { name: /L06/ }).tap();
  const place = page
    .getByRole('group', { name: 'Row 6', exact: true })
    .getByRole('textbox', { name: 'Place' });
  await expect(place).toHaveValue('window W10, lower corner, tape bridges the corner');
  expect(await place.evaluate((field) => field.scrollWidth - field.clientWidth)).toBe(0);
  expect(await place.evaluate((field) => field.scrollHeight - field.clientHeight)).toBe(0);
  // Enter goes on in the row, not to the next one, and where it goes is in sight.
  await place.press('Enter');
  const mark = page.getByRole('group', { name: 'Row 6', exact: true }).getByRole('textbox', { name: 'Mark' });
  await expect(mark).toBeFocused();
  await expect.poll(() => isInSight(page, '.card textarea:focus')).toBe(true);

  await log.getByRole('button', { name: 'Add a row' }).tap();
  const fields = page.getByRole('group', { name: 'New row' }).locator('.field label');
  await expect(fields.first()).toHaveText('Place');
  await expect(
    page.getByRole('group', { name: 'New row' }).getByRole('textbox', { name: 'Place' }),
  ).toBeFocused();

  // A row that is removed leaves no card behind, not even that of a new one.
  await log.getByRole('button', { name: /L16/ }).tap();
  await page.getByRole('button', { name: 'What can be done to row 16' }).tap();
  await page.getByRole('button', { name: 'Remove the row' }).tap();
  await expect(log.getByRole('button', { name: /L16/ })).toHaveCount(0);
  await expect(log.locator('.card')).toHaveCount(0);

  // Feet and inches are never broken, and a name only between its words.
  await chooseSheet(page, /^House/);
  const rooms = page.getByRole('group', { name: /^Rooms/ });
  const size = rooms.getByRole('button', { name: /^living/ }).getByText('21\' 7 1/2"');
  expect((await size.boundingBox())?.height).toBeLessThan(30);

  // What is said of a row is on its side of the line.
  await chooseSheet(page, /^Framing/);
  const wall = page.getByRole('group', { name: /^Framing before board/ });
  const line = wall.getByRole('button', { name: /F01/ });
  await expect(line).toHaveCSS('border-bottom-width', '0px');
  await expect(line.locator('+ .reason')).toHaveText('pass');
  await expect(line.locator('+ .reason')).toHaveCSS('border-bottom-width', '1px');
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);

  // Scenarios side by side are a list, none of them narrower than a value.
  await chooseSheet(page, /^What if/);
  const compared = page.getByRole('region', { name: 'Scenarios side by side' });
  const value = compared.locator('td').first();
  await expect(value).toHaveText(/1\.029 ± 0\.033 1\/h/);
  expect((await value.boundingBox())?.height).toBeLessThan(40);
});

test('of a few short choices each is one touch, and another touch takes it back', async ({ page }) => {
  await page.goto('/');
  await chooseSheet(page, /^Leaks/);
  const log = page.getByRole('group', { name: 'Leak log', exact: true });
  await log.getByRole('button', { name: /L15/ }).tap();
  const card = page.getByRole('group', { name: 'Row 15', exact: true });
  const status = card.getByRole('radiogroup', { name: 'Status' });
  await expect(status.getByRole('radio', { name: 'open' })).toBeChecked();
  const sealed = status.getByRole('radio', { name: 'sealed' });
  const size = await sealed.boundingBox();
  expect(Math.min(size?.width ?? 0, size?.height ?? 0)).toBeGreaterThanOrEqual(46);
  await sealed.tap();
  await expect(sealed).toBeChecked();
  await expect(status.getByRole('radio', { name: 'open' })).not.toBeChecked();
  await expect(
    sheets(page)
      .locator('option')
      .filter({ hasText: /^Leaks/ }),
  ).toContainText('1 open');
  expect(await axe(page)).toEqual([]);
  await sealed.tap();
  await expect(sealed).not.toBeChecked();
  // The keys of a keyboard choose as well.
  await sealed.press('ArrowLeft');
  await expect(status.getByRole('radio', { name: 'open' })).toBeChecked();
  await expect(
    sheets(page)
      .locator('option')
      .filter({ hasText: /^Leaks/ }),
  ).toContainText('2 open');
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
});

test('a new row begins with the choice that is touched, also with the one it offers', async ({ page }) => {
  await page.goto('/');
  await chooseSheet(page, /^Ventilation(?! rules)/);
  const rooms = page.getByRole('group', { name: /^Room by room/ });
  await rooms.getByRole('button', { name: /^Add/ }).tap();
  const card = rooms.getByRole('group', { name: 'New row' });
  // As in the row above.
  await expect(card.getByRole('radio', { name: 'exhaust' })).toBeChecked();
  await card.getByRole('radio', { name: 'exhaust' }).tap();
  const begun = rooms.getByRole('group', { name: 'Row 15' });
  await expect(begun.getByRole('radio', { name: 'exhaust' })).toBeChecked();
  await expect(begun.getByRole('combobox').first()).toHaveValue('laundry');
  await begun.getByRole('radio', { name: 'exhaust' }).tap();
  await expect(begun.getByRole('radio', { name: 'exhaust' })).not.toBeChecked();
});

test('a note to a row is kept when the thumb goes elsewhere', async ({ page }) => {
  await page.goto('/');
  const readings = page.getByRole('group', { name: 'Readings', exact: true });
  const card = readings.getByRole('group', { name: 'Row 2', exact: true });
  await readings.locator('button.line').nth(1).tap();
  await card.getByRole('button', { name: 'What can be done to row 2' }).tap();
  await card.getByRole('button', { name: 'Note on the row' }).tap();
  await card.getByRole('textbox', { name: /^Note on this row/ }).fill('gusts from the west');
  await readings.locator('button.line').nth(3).tap();
  await expect(card).toHaveCount(0);
  await expect(readings.getByRole('textbox', { name: /^Note on this row/ })).toHaveCount(0);
  await readings.locator('button.line').nth(1).tap();
  await expect(card).toContainText('gusts from the west');
  await page.getByRole('button', { name: 'Menu' }).tap();
  await page.getByRole('button', { name: /^Undo/ }).tap();
  await expect(card).not.toContainText('gusts from the west');
});

test('a phone that is turned in the middle of an entry loses neither the text nor its place', async ({
  page,
}) => {
  await page.goto('/');
  await page
    .getByRole('group', { name: 'Readings', exact: true })
    .getByRole('button', { name: /56\.2/ })
    .tap();
  const house = page
    .getByRole('group', { name: 'Row 2', exact: true })
    .getByRole('textbox', { name: /^House/ });
  await house.tap();
  await press(page, 'delete', 'delete', 'delete', 'delete', 'delete', '5', '7');
  await page.setViewportSize({ width: 740, height: 360 });
  await expect(house).toBeFocused();
  await expect(house).toHaveValue('57');
  await expect.poll(() => isInSight(page, '.card input:focus')).toBe(true);
  // The pad has two rows then, each key as large as before.
  const key = await pad(page).getByRole('button', { name: '7', exact: true }).boundingBox();
  expect(Math.min(key?.width ?? 0, key?.height ?? 0)).toBeGreaterThanOrEqual(48);
  await press(page, '.', '2', 'minus');
  await page.setViewportSize({ width: 360, height: 740 });
  await expect(house).toHaveValue('-57.2');
  await expect.poll(() => isInSight(page, '.card input:focus')).toBe(true);
  await press(page, 'Next');
  await expect(page.getByRole('textbox', { name: /^Fan/ })).toBeFocused();
  await expect(page.getByRole('contentinfo', { name: 'Title block' })).toContainText('Faults none');
});

test('what is wrong with a kept entry is said once while it is typed anew', async ({ page }) => {
  await page.goto('/');
  const row = page.locator('#cell-target_ach50');
  for (let tap = 0; tap < 2; tap++) await row.getByRole('button').first().tap();
  await row.getByRole('textbox').fill('1.2 fx');
  await press(page, 'Done');
  const said = row.getByText("unknown unit 'fx'");
  await expect(said).toHaveCount(1);
  await row.getByRole('button').first().tap();
  await expect(row.getByRole('textbox')).toBeFocused();
  await expect(said).toHaveCount(1);
});

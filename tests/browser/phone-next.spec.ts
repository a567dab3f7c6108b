import { readFileSync } from 'node:fs';
import { chooseSheet, edited, isInSight, pad, PHONE, press } from './phone-pad.ts';
import { openWorkbook } from '../tooling/open-workbook.mjs';
import { axe, expect, test } from './support.ts';

test.use(PHONE);

test('Next goes through a test typed by flow, row by row', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'Menu' }).tap();
  await openWorkbook(page, 'air-test-si.json', readFileSync('templates/air-test-si.json', 'utf8'));
  const readings = page.getByRole('group', { name: 'Readings', exact: true });
  const value = (row: number, name: RegExp) =>
    readings.getByRole('group', { name: `Row ${row}`, exact: true }).getByRole('textbox', { name });
  await readings.getByRole('button', { name: 'Add a row' }).tap();
  // The first row has nothing to go by: each of its numbers is come to.
  await press(page, '6', '0', 'minus', 'Next');
  await expect(value(1, /^Fan/)).toBeFocused();
  await press(page, 'Next');
  await expect(value(1, /flow/)).toBeFocused();
  await press(page, '8', '7', '0', 'Done');
  // Those behind it go as the first: the gauge shows flow, and the fan’s pressure is passed over.
  await readings.getByRole('button', { name: 'Add a row' }).tap();
  for (const [pressure, flow] of [
    [
      ['5', '0'],
      ['7', '8', '0'],
    ],
    [
      ['4', '0'],
      ['6', '6', '0'],
    ],
  ] as const)
    await press(page, ...pressure, 'minus', 'Next', ...flow, 'Next');
  await press(page, 'Done');
  await expect(pad(page)).toHaveCount(0);
  const lines = readings.locator('button.line');
  await expect(lines).toHaveCount(3);
  await lines.nth(2).tap();
  await expect(value(3, /^House/)).toHaveValue('-40');
  await expect(value(3, /flow/)).toHaveValue('660');
  await lines.nth(1).tap();
  await expect(value(2, /flow/)).toHaveValue('780');
});

test('in a table of one number each Next begins a row of its own, and a row that is filled is not typed over', async ({
  page,
}) => {
  const columns = [
    { id: 'depth', name: 'depth', label: 'Depth', unit: 'mm' },
    { id: 'left_over', name: 'left_over', label: 'Left over', unit: 'mm' },
  ];
  const points = [
    { id: 'step', name: 'step', label: 'Step' },
    { id: 'point', name: 'point', label: 'Point', type: 'text' },
    { id: 'who', name: 'who', label: 'Who', type: 'text' },
  ];
  const items = [
    {
      kind: 'table',
      id: 'depths',
      name: 'depths',
      label: 'Depths',
      columns,
      rows: [{ $id: 'a', depth: '5' }],
    },
    {
      kind: 'table',
      id: 'points',
      name: 'points',
      label: 'Points',
      columns: points,
      rows: [
        { $id: 'a', step: '1', point: 'framing', who: '' },
        { $id: 'b', step: '2', point: 'board' },
        { $id: 'c', step: '3', point: 'trim', who: 'site lead' },
      ],
    },
  ];
  const sheets = [{ id: 'list', title: 'List', sections: [{ id: 'first', title: 'First', items }] }];
  await page.goto('/');
  await page.getByRole('button', { name: 'Menu' }).tap();
  await openWorkbook(
    page,
    'points.json',
    JSON.stringify({ app: 'close-in', format: 1, title: 'Points', units: 'si', sheets }),
  );
  const depths = page.getByRole('group', { name: 'Depths', exact: true });
  await depths.getByRole('button', { name: 'Add a row' }).tap();
  await press(page, '1', '2', 'Next', '3', '4', 'Next', '5', '6', 'Next', 'Done');
  for (const depth of ['12', '34', '56'])
    await expect(depths.locator('button.line').filter({ hasText: depth })).toHaveCount(1);
  // A name is typed into the second; the third has all, and its number is not in the way of a digit.
  const named = page.getByRole('group', { name: 'Points', exact: true });
  await named.getByRole('button', { name: /^board/ }).tap();
  const who = named.getByRole('textbox', { name: 'Who' });
  await who.fill('air keeper');
  await who.press('Enter');
  await expect(named.getByRole('textbox', { name: 'Step' })).toHaveValue('3');
  await expect(named.locator('input:focus')).toHaveCount(0);
});

test('a number asked of a new job lies above the keys, also in a phone that is turned', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'Menu' }).tap();
  await page.getByRole('button', { name: 'House, envelope and ventilation', exact: true }).tap();
  const keep = await page.getByRole('button', { name: 'keep it: Site elevation' }).boundingBox();
  expect(keep?.width).toBeGreaterThanOrEqual(48);
  await page.getByRole('textbox', { name: 'Site elevation' }).tap();
  await expect.poll(() => isInSight(page, '.input input:focus')).toBe(true);
  await press(page, '6', '0', '0');
  await page.setViewportSize({ width: 740, height: 360 });
  await expect.poll(() => isInSight(page, '.input input:focus')).toBe(true);
  await press(page, 'Next');
  await expect.poll(() => isInSight(page, '.input input:focus')).toBe(true);
});

test('the way to a table leads to its row, on another worksheet and far down as well', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'Menu' }).tap();
  await page.getByRole('button', { name: 'House, envelope and ventilation', exact: true }).tap();
  await page.getByRole('button', { name: /^Fill in the table Rooms, at/ }).tap();
  const rooms = page.getByRole('group', { name: /^Rooms, at/ });
  await expect(rooms.getByRole('group', { name: 'New row' })).toBeFocused();
  await expect(rooms.getByRole('textbox', { name: 'Room', exact: true })).toBeInViewport();

  // A fault among rows that have no lines yet.
  const rows = Array.from({ length: 150 }, (_, at) => ({
    $id: `r${at + 1}`,
    depth: at === 130 ? 'deep' : String(at),
  }));
  const columns = [{ id: 'depth', name: 'depth', label: 'Depth', unit: 'mm' }];
  const section = (items: object[]) => [{ id: `s${items.length}`, title: 'Part', items }];
  const sheets = [
    { id: 'front', title: 'Front', sections: section([]) },
    {
      id: 'list',
      title: 'List',
      sections: section([{ kind: 'table', id: 'depths', name: 'depths', label: 'Depths', columns, rows }]),
    },
  ];
  await page.getByRole('button', { name: 'Menu' }).tap();
  await openWorkbook(
    page,
    'depths.json',
    JSON.stringify({ app: 'close-in', format: 1, title: 'Depths', units: 'si', sheets }),
  );
  await page.getByRole('button', { name: /fault.* next/ }).tap();
  await expect(page.getByRole('group', { name: 'Row 131', exact: true })).toBeFocused();
  await expect(page.getByRole('textbox', { name: /^Depth/ })).toBeInViewport();
});

test('a number in a text is in one line with its unit, and its text is opened by a thumb', async ({
  page,
}) => {
  await page.goto('/');
  await chooseSheet(page, /^Trade sheets/);
  const numbers = page.locator('.live').filter({ hasText: /^[\d−]/ });
  await expect(numbers.filter({ hasText: '1 19/32 in' }).first()).toBeVisible();
  const broken = await numbers.evaluateAll((all) =>
    all.filter((each) => each.getClientRects().length > 1).map((each) => each.textContent),
  );
  expect(broken).toEqual([]);
  const edit = await page.getByRole('button', { name: 'Edit the text' }).first().boundingBox();
  expect(Math.min(edit?.width ?? 0, edit?.height ?? 0)).toBeGreaterThanOrEqual(48);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
});

test('what is typed when the page is loaded again is there', async ({ page }) => {
  page.on('dialog', (dialog) => void dialog.accept());
  await page.goto('/');
  for (const [shown, typed] of [
    [/56\.2/, ['5', '7']],
    [/57\.0/, ['5', '8']],
  ] as const) {
    await page
      .getByRole('group', { name: 'Readings', exact: true })
      .getByRole('button', { name: shown })
      .tap();
    const house = page
      .getByRole('group', { name: 'Row 2', exact: true })
      .getByRole('textbox', { name: /^House/ });
    await house.tap();
    await press(page, ...Array.from({ length: 5 }, () => 'delete'), ...typed, 'minus');
    await page.reload();
    await expect(
      page.getByRole('group', { name: 'Readings', exact: true }).getByRole('button', {
        name: new RegExp(`${typed.join('')}\\.`),
      }),
    ).toBeVisible();
  }
});

test('what is wrong with a value is not covered by names, and an undo is seen in an editor that was left open', async ({
  page,
}) => {
  await page.goto('/');
  const row = page.locator('#cell-target_permeability50');
  const text = await edited(row);
  await press(page, 'abc');
  await text.press('End');
  await text.pressSequentially(' cfm/ft');
  await expect(page.getByRole('listbox', { name: 'Names' })).toBeHidden();
  await expect(row.getByText('type for instance 20 cfm/ft²')).toBeInViewport();
  await press(page, 'Done');
  await expect(page.getByRole('contentinfo', { name: 'Title block' })).toContainText('not all known');
  await page.getByRole('button', { name: 'Menu' }).tap();
  await page.getByRole('button', { name: /^Undo/ }).tap();
  await expect(text).toHaveValue('0.07');

  // The names of a formula go with the fingers that type it, and a minus takes away.
  await text.tap();
  await press(page, ...Array.from({ length: 4 }, () => 'delete'), 'abc');
  await text.pressSequentially('target_ach');
  await expect(page.getByRole('listbox', { name: 'Names' })).toBeVisible();
  await press(page, '123', 'minus');
  await expect(text).toHaveValue('target_ach - ');
  await press(page, 'delete', 'delete', 'delete', 'Done');
  await expect(page.getByRole('listbox', { name: 'Names' })).toBeHidden();
});

test('a key of the pad changes the range of a reading, and not the room of a grille', async ({ page }) => {
  await page.goto('/');
  await chooseSheet(page, /^Commissioning/);
  const grilles = page.getByRole('group', { name: 'Grille by grille', exact: true });
  await grilles.getByRole('button', { name: /^dining/ }).tap();
  await grilles.getByRole('textbox', { name: /^Measured/ }).tap();
  await expect(pad(page).getByRole('button', { name: 'space' })).toBeVisible();
  await expect(pad(page).getByRole('button', { name: /^next / })).toHaveCount(0);
  // Whose flow it is can be read where the card has no room for it.
  await expect(pad(page)).toContainText('dining, G02');
  // Measured again, it goes to the next grille and asks for no letters.
  await press(page, 'delete', '5', 'Next');
  await expect(grilles.getByRole('group', { name: 'Row 3', exact: true })).toBeVisible();
});

test('a reading without a range asks for one on the key that chooses it', async ({ page }) => {
  await page.goto('/');
  const readings = page.getByRole('group', { name: 'Readings', exact: true });
  await readings.getByRole('button', { name: /^1/ }).first().tap();
  const range = readings.getByRole('combobox', { name: 'Range' });
  await range.selectOption('');
  await readings.getByRole('textbox', { name: /^House/ }).tap();
  const key = pad(page).getByRole('button', { name: /^next range/ });
  await expect(key).toHaveAccessibleName('next range, none chosen yet');
  await expect(key).toHaveClass(/asked/);
  expect(await axe(page)).toEqual([]);
  await key.tap();
  await expect(key).toHaveAccessibleName('next range');
  await expect(range).not.toHaveValue('');
});

test('a note on a row comes into sight with what takes its photos', async ({ page }) => {
  await page.goto('/');
  await chooseSheet(page, /^Framing check/);
  const framing = page.getByRole('group', { name: /^Framing before board/ });
  await framing.getByRole('button', { name: /F04/ }).tap();
  await framing.getByRole('button', { name: /^What can be done/ }).tap();
  await framing.getByRole('button', { name: /^Note on the row/ }).tap();
  await expect(framing.getByRole('textbox', { name: /^Note on this row/ })).toBeInViewport({ ratio: 1 });
  await expect(framing.getByRole('button', { name: 'Take a photo' })).toBeInViewport({ ratio: 1 });
});

test('the signs of a formula come from the pad', async ({ page }) => {
  await page.goto('/');
  const row = page.locator('#cell-margin_ach50');
  const text = await edited(row);
  await text.fill('target_ach50');
  // A formula begins with the phone's own letters.
  await press(page, '123', 'signs of a formula', 'times', '2', 'signs of a formula', 'divided by');
  for (const sign of ['opening bracket', '4', 'plus', '1', 'closing bracket'])
    await press(page, ...(/^\d$/u.test(sign) ? [] : ['signs of a formula']), sign);
  await expect(text).toHaveValue('target_ach50 * 2 / (4 + 1)');
  await expect(text).toBeFocused();
  await press(page, 'signs of a formula');
  for (const key of await pad(page).locator('.keys button').all()) {
    const size = await key.boundingBox();
    expect(Math.min(size?.width ?? 0, size?.height ?? 0)).toBeGreaterThanOrEqual(48);
  }
  expect(await axe(page)).toEqual([]);
  await press(page, 'Back', 'Next');
  await expect(row).toContainText('0.48');
});

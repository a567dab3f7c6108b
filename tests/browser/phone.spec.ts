import { chooseSheet, edited, isInSight, pad, PHONE, press } from './phone-pad.ts';
import { axe, expect, test } from './support.ts';

test.use(PHONE);

test('the main job with one thumb: a reading selected, changed, and two more typed on the pad', async ({
  page,
}) => {
  await page.goto('/');
  const lines = page.getByRole('group', { name: 'Readings', exact: true });
  const strip = page.getByRole('contentinfo', { name: 'Title block' });
  await expect(strip).toContainText('1.029');

  // First tap selects: nothing to type into yet. The second edits.
  await lines.getByRole('button', { name: /56\.2/ }).tap();
  const card = page.getByRole('group', { name: 'Row 2', exact: true });
  await expect(card).toBeVisible();
  await expect(pad(page)).toHaveCount(0);
  const house = card.getByRole('textbox', { name: /^House/ });
  await house.tap();
  await expect(pad(page)).toBeVisible();
  await expect(house).toHaveAttribute('inputmode', 'none');
  expect(await isInSight(page, '.card input:focus')).toBe(true);
  await press(page, 'delete', 'delete', 'delete', 'delete', 'delete', '5', '7', '.', '2', 'minus');
  await expect(house).toHaveValue('-57.2');
  expect(await axe(page)).toEqual([]);
  await press(page, 'Next');
  await expect(card.getByRole('textbox', { name: /^Fan/ })).toBeFocused();
  await press(page, 'Done');
  await expect(pad(page)).toHaveCount(0);
  await expect(house).toHaveValue('-57.2');
  await expect(card).toContainText('55.40');

  // Two pairs called out by the tester: Next goes from the pressure to the fan and on to a new row.
  await lines.getByRole('button', { name: 'Add a row' }).tap();
  for (const [first, second] of [
    ['9.6', '62.0'],
    ['8.4', '51.0'],
  ] as const) {
    await expect(page.locator('.card input:focus')).toHaveCount(1);
    expect(await isInSight(page, '.card input:focus')).toBe(true);
    await press(page, ...Array.from(first), 'minus', 'Next', ...Array.from(second), 'Next');
  }
  await press(page, 'Done');
  await expect(page.locator('#figures')).toContainText('12 points');
  await expect(strip).toContainText(/1\.0\d\d/);
  await expect(strip).toBeInViewport();
  await page.getByRole('button', { name: 'Menu' }).tap();
  await page.getByRole('button', { name: /^Undo/ }).tap();
  await expect(page.locator('#figures')).not.toContainText('12 points');
});

test('feet, inches, fractions, ± and units come from the pad', async ({ page }) => {
  await page.goto('/');
  const row = page.locator('#cell-volume_error');
  await row.getByRole('button').first().tap();
  await expect(row.getByRole('textbox')).toHaveCount(0);
  await row.getByRole('button').first().tap();
  const text = row.getByRole('textbox');
  await expect(text).toBeFocused();
  for (let k = 0; k < 8; k++) await press(page, 'delete');
  await text.fill('');
  await press(page, '5', 'feet, then inches', '3', 'fraction', '5/8', 'feet, then inches');
  await expect(text).toHaveValue('5\' 3 5/8"');
  await text.fill('');
  await press(page, '0', 'plus or minus', '2', 'unit');
  await press(page, '%');
  await expect(text).toHaveValue('0 ± 2 %');
  await press(page, 'Next');
  await expect(row).toContainText('2.0');
  await expect(pad(page)).toHaveCount(0);
});

test('every target is large enough for a glove, and nothing sticks out, with the pad open', async ({
  page,
}) => {
  await page.goto('/');
  await page.getByRole('button', { name: /56\.2/ }).first().tap();
  await page.locator('.card input').first().tap();
  await expect(pad(page)).toBeVisible();
  const small = await page.evaluate(() =>
    [
      ...document.querySelectorAll<HTMLElement>(
        '.pad button, .card button, .card input, .card select, .line:is(button)',
      ),
    ]
      .map((element) => ({ text: element.textContent.trim(), box: element.getBoundingClientRect() }))
      .filter(({ box }) => box.height > 0 && (box.height < 47.5 || box.width < 47.5))
      .map(({ text, box }) => `${text} ${box.width} × ${box.height}`),
  );
  expect(small).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
});

test('a point far off the line is named in its card, while it is typed and after', async ({ page }) => {
  await page.goto('/');
  await page.locator('#cell-shown_test').getByRole('combobox').selectOption({ label: 'practice' });
  const lines = page.getByRole('group', { name: 'Readings', exact: true });
  await lines.getByRole('button', { name: /102\.9/ }).tap();
  const card = page.getByRole('group', { name: 'Row 3', exact: true });
  await expect(card).toContainText('looks off');
  await expect(page.locator('#cell-point_alarm')).toContainText('46 Pa looks off');

  // The slip put right: 120.9 was read.
  await card.getByRole('textbox', { name: /^Fan/ }).tap();
  await press(page, ...Array<string>(5).fill('delete'), '1', '2', '0', '.', '9');
  await press(page, 'Done');
  await expect(card).not.toContainText('looks off');
  await expect(page.locator('#cell-point_alarm')).not.toContainText('looks off');
});

test('what is wrong with an entry of a card comes with what to type instead', async ({ page }) => {
  await page.goto('/');
  const lines = page.getByRole('group', { name: 'Readings', exact: true });
  await lines.getByRole('button', { name: /56\.2/ }).tap();
  const card = page.getByRole('group', { name: 'Row 2', exact: true });
  const house = card.getByRole('textbox', { name: /^House/ });
  await house.tap();
  await house.fill('-56,2');
  await expect(card).toContainText('with a point before the decimals');
  await house.fill('-56.2 Paa');
  await expect(card).toContainText("unknown unit 'Paa'");
  await expect(house).toHaveAccessibleDescription(/did you mean Pa/);
  expect(await axe(page)).toEqual([]);
  // Kept although it is wrong, it still says what to type.
  await house.fill('-56.2 cfm');
  await press(page, 'Done');
  await expect(card).toContainText(/type for instance .* Pa/);
  // The way to it lies in the strip, as tall for a thumb as any other.
  const way = page.getByRole('button', { name: /fault.* next/ });
  const box = await way.boundingBox();
  if (!box) throw new Error('the strip has no way to the fault');
  const isHit = (up: number) =>
    way.evaluate((button, { x, y }) => document.elementFromPoint(x, y) === button, {
      x: box.x + box.width / 2,
      y: box.y + box.height - up,
    });
  expect(await Promise.all([1, 24, 46].map(isHit))).toEqual([true, true, true]);
});

test('a list without a choice says where its choices are typed', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'Menu' }).tap();
  await page.getByRole('button', { name: 'Air test', exact: true }).tap();
  await page.getByRole('button', { name: 'Fill in the table Readings' }).tap();
  const card = page.getByRole('group', { name: 'New row' });
  await expect(card.getByRole('combobox', { name: 'Range' })).toHaveAccessibleDescription(
    'Nothing to choose yet: the choices are typed in “Fan ranges”, on the worksheet “Fan”.',
  );
  await card.getByRole('textbox', { name: /^House/ }).tap();
  await press(page, '6', '0', 'minus', 'Next', '9', '0', 'Next', 'Done');
  await expect(page.getByText(/no flow: type the fan’s ranges on “Fan”/).first()).toBeVisible();
  expect(await axe(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
});

test('what the ± of one row comes from, with the thumb', async ({ page }) => {
  await page.goto('/');
  const lines = page.getByRole('group', { name: 'Targets', exact: true });
  await lines.getByRole('button', { name: /second target/ }).tap();
  const card = page.getByRole('group', { name: 'Row 2', exact: true });
  const spare = card.getByRole('button', { name: /^To spare .*where the ± comes from$/ });
  expect((await spare.boundingBox())?.height).toBeGreaterThanOrEqual(48);
  await spare.tap();
  const list = card.getByRole('list', { name: 'Where the ± comes from' });
  await expect(list.getByRole('listitem').first()).toContainText('Operator and procedure');
  await expect(list).toContainText('Area as measured');
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
  expect(await axe(page)).toEqual([]);
  await spare.tap();
  await expect(list).toHaveCount(0);
});

test('a new row says with which choice it begins, and has its fields side by side as any other', async ({
  page,
}) => {
  await page.goto('/');
  await page
    .getByRole('group', { name: 'Readings', exact: true })
    .getByRole('button', { name: 'Add a row' })
    .tap();
  const card = page.getByRole('group', { name: 'New row' });
  await expect(card.getByRole('combobox', { name: 'Range' })).toHaveValue('low');
  // Taken at one moment: the page may still scroll to the card.
  const tops = await card.evaluate((element) =>
    [...element.querySelectorAll('input')].slice(0, 2).map((input) => input.getBoundingClientRect().top),
  );
  expect(tops[0]).toBe(tops[1]);
  // The key of the pad goes on from there.
  await press(page, 'next range');
  await expect(page.getByRole('combobox', { name: 'Range' })).not.toHaveValue('low');
});

test('rows are shown by limits of their numbers, typed on the pad', async ({ page }) => {
  await page.goto('/');
  const lines = page.getByRole('group', { name: 'Readings', exact: true });
  await page.getByRole('button', { name: 'Rows of Readings' }).tap();
  await page.getByRole('button', { name: 'Sort and show only…' }).tap();
  const panel = page.getByRole('dialog', { name: 'Sort and show only' });
  await panel.getByLabel('Column', { exact: true }).selectOption({ label: 'House' });
  await panel.getByLabel('at least').tap();
  await press(page, '6', '0', 'minus', 'Next');
  await expect(panel.getByLabel('at most')).toBeFocused();
  await press(page, '5', '0', 'minus');
  await expect(panel.getByLabel('at most')).toHaveValue('-50');
  // Neither the panel nor the pad covers what is typed into.
  const most = await panel.getByLabel('at most').boundingBox();
  const keys = await pad(page).boundingBox();
  expect((most?.y ?? 0) + (most?.height ?? 0)).toBeLessThanOrEqual(keys?.y ?? 0);
  expect(await axe(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  await press(page, 'Next');
  await expect(panel).toHaveCount(0);
  await expect(pad(page)).toHaveCount(0);
  await expect(page.getByText('2 of 10 rows', { exact: true })).toBeVisible();
  await expect(lines.locator('.line:not(.head)')).toHaveCount(2);
  await expect(lines.locator('button:focus')).toHaveCount(1);
});

test('while a formula is typed a key of the row offers the names that fit, above the pad and the phone’s own letters', async ({
  page,
}) => {
  // A phone that can show letters over the page: its own keyboard takes room from what is seen, not from the page.
  await page.addInitScript(() => {
    const seen = Object.assign(new EventTarget(), { scale: 1, offsetTop: 0, height: innerHeight });
    Object.defineProperty(globalThis, 'visualViewport', { value: seen });
  });
  await page.goto('/');
  const row = page.locator('#cell-margin_ach50');
  const text = await edited(row);
  await expect(text).toBeFocused();
  const key = pad(page).getByRole('button', { name: 'names that fit' });
  // Behind a name no other can stand: the key says so before it is pressed.
  await text.fill('target_ach50 - 2 ');
  await expect(key).toBeDisabled();
  await text.fill('target_ach50 - ');
  await expect(key).toBeEnabled();
  const size = await key.boundingBox();
  expect(Math.min(size?.width ?? 0, size?.height ?? 0)).toBeGreaterThanOrEqual(48);

  const names = page.getByRole('listbox', { name: 'Names' });
  await expect(names).toBeHidden();
  await key.tap();
  await expect(text).toBeFocused();
  await expect(names).toBeVisible();
  await expect.poll(() => isInSight(page, '[role="listbox"]:not([hidden])')).toBe(true);
  expect(await axe(page)).toEqual([]);
  // The digits come over what was below the list: it moves up.
  await press(page, '123');
  await expect.poll(() => isInSight(page, '[role="listbox"]:not([hidden])')).toBe(true);
  await press(page, 'abc');
  // The phone's letters come up: the row of keys stands on them, and the list above it.
  await page.evaluate(() => {
    Object.assign(window.visualViewport ?? {}, { height: innerHeight - 280 });
    window.visualViewport?.dispatchEvent(new Event('resize'));
  });
  const height = page.viewportSize()?.height ?? 0;
  await expect
    .poll(async () => {
      const box = await pad(page).boundingBox();
      return (box?.y ?? 0) + (box?.height ?? 0);
    })
    .toBeCloseTo(height - 280, 0);
  await names.getByRole('option', { name: /^ach50\b/ }).tap();
  await expect(text).toHaveValue('target_ach50 - ach50');
  await expect(names).toBeHidden();
  await press(page, 'Done');
  await expect(row).toContainText('0.171');
  await expect(pad(page)).toHaveCount(0);
});

test('whatever is opened, the headline strip stays in view', async ({ page }) => {
  await page.goto('/');
  const strip = page.getByRole('contentinfo', { name: 'Title block' });
  await expect(strip).toContainText('1.029');

  /** What lies over the strip: a dialog makes what is under it deaf, so that its edges tell. */
  const over = () =>
    page.evaluate(() => {
      const box = document.querySelector('footer')?.getBoundingClientRect();
      if (!box) return ['no strip'];
      const modal = document.querySelector('dialog:modal')?.getBoundingClientRect();
      const found = new Set<string>(box.top < 0 ? ['scrolled away'] : []);
      if (modal && modal.top < box.bottom) found.add('dialog');
      for (let x = 8; !modal && x < innerWidth; x += 24)
        for (let y = box.top + 4; y < box.bottom - 2; y += 10) {
          const top = document.elementFromPoint(x, y);
          if (!top?.closest('footer')) found.add(top?.outerHTML.slice(0, 80) ?? '');
        }
      return [...found];
    });
  const lines = page.getByRole('group', { name: 'Readings', exact: true });
  const menu = async (name: RegExp) => {
    await page.getByRole('button', { name: 'Menu', exact: true }).tap();
    expect(await over(), 'the menu').toEqual([]);
    await page.getByRole('button', { name }).tap();
  };

  // Menus, the panel of a filter with the pad, and what a row offers.
  await page.getByRole('button', { name: 'Rows of Readings' }).tap();
  expect(await over(), 'Rows').toEqual([]);
  await page.getByRole('button', { name: 'Sort and show only…' }).tap();
  const panel = page.getByRole('dialog', { name: 'Sort and show only' });
  await panel.getByLabel('Column', { exact: true }).selectOption({ label: 'House' });
  expect(await over(), 'filter').toEqual([]);
  const holds = panel.getByLabel('and holds');
  for (const field of [panel.getByLabel('at least'), panel.getByLabel('at most'), holds]) {
    await field.tap();
    await expect(field).toBeFocused();
    expect(await over(), 'filter and pad').toEqual([]);
  }
  await panel.getByRole('button', { name: 'Done' }).tap();
  await lines.getByRole('button', { name: /56\.2/ }).tap();
  await page.getByRole('button', { name: 'What can be done to row 2' }).tap();
  expect(await over(), 'row').toEqual([]);
  await page.keyboard.press('Escape');

  // Dialogs; the page under them keeps still.
  const csv = 'Range,House (Pa),Fan (Pa)\nlow,-30,40\n';
  const asked = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Rows of Readings' }).tap();
  await page.getByRole('button', { name: 'Import CSV…' }).tap();
  await (await asked).setFiles({ name: 'points.csv', mimeType: 'text/csv', buffer: Buffer.from(csv) });
  await expect(page.getByRole('dialog')).toBeVisible();
  expect(await over(), 'import').toEqual([]);
  await page.getByRole('button', { name: 'Cancel' }).tap();
  for (const [item, title] of [
    [/^Find a cell/, 'Find a cell'],
    [/^Share/, 'Share this workbook'],
    [/^Save this job as a template/, 'Save as a template'],
    [/^Compare with another/, 'Compare'],
    [/^Copy worksheets/, 'Copy worksheets from another workbook'],
    [/^All workbooks on this device/, 'Workbooks on this device'],
    [/^Keys/, 'Keys'],
  ] as const) {
    await page.evaluate(() => {
      scrollTo(0, 0);
    });
    await menu(item);
    const dialog = page.getByRole('dialog', { name: title, exact: true });
    await expect(dialog).toBeVisible();
    expect(await over(), title).toEqual([]);
    const box = await dialog.boundingBox();
    expect((box?.y ?? 0) + (box?.height ?? 0), title).toBeLessThanOrEqual(740);
    await page.keyboard.press('Escape');
    await expect(dialog).toHaveCount(0);
  }
});

test('no field of a card moves when another one is used for the first time', async ({ page }) => {
  await page.goto('/');
  const lines = page.getByRole('group', { name: 'Readings', exact: true });
  await lines.getByRole('button', { name: /56\.2/ }).tap();
  const card = page.getByRole('group', { name: 'Row 2', exact: true });
  const labels = card.locator('.field label');
  const before = await labels.allTextContents();
  expect(before.length).toBeGreaterThan(3);
  // The demo reads the fan's pressure, never its flow.
  const flow = card.getByRole('textbox', { name: /^Measured flow/ });
  await expect(flow).toHaveValue('');
  await flow.fill('400');
  await flow.press('Enter');
  await lines.getByRole('button', { name: /56\.2/ }).tap();
  await expect(flow).toHaveValue('400');
  expect(await labels.allTextContents()).toEqual(before);
});

test('a line begins with what a person knows the row by: the place of a leak, with its mark behind it', async ({
  page,
}) => {
  await page.goto('/');
  await chooseSheet(page, /^Leaks/);
  const log = page.getByRole('group', { name: 'Leak log', exact: true });
  await expect(log.locator('button.line').first()).toHaveText(
    /^membrane laps behind the joist ends, .*\sL01/,
  );
  // What has no place yet goes by its mark.
  await log.getByRole('button', { name: /L03/ }).tap();
  const card = page.getByRole('group', { name: 'Row 3', exact: true });
  await card.getByRole('textbox', { name: 'Place' }).fill('');
  await card.getByRole('button', { name: 'Next row' }).tap();
  await expect(log.locator('button.line', { hasText: 'L03' })).toHaveText(/^L03/);
});

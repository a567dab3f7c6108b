import { axe, expect, test } from './support.ts';

test('where the ± of a result comes from, by keyboard, and checked by sampling', async ({ page }) => {
  await page.goto('/');
  const row = page.locator('#cell-ach50');
  await row.getByRole('button').first().focus();
  await page.keyboard.press('Enter');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Control+b');
  const list = row.getByRole('list', { name: 'Where the ± comes from' });
  await expect(list.getByRole('listitem').first()).toContainText('Operator and procedure');
  await expect(list).toContainText('Volume as measured');
  await expect(list).toContainText('scatter of the points about the line');
  await expect(list).toContainText('if it were exact, ±');
  await row.getByLabel('For ± to be').fill('0.02');
  await expect(list.getByRole('listitem').first()).toContainText(/to \d+ % of its size/);
  await row.getByText('What moves it most').click();
  await expect(row.getByRole('list', { name: /Change of Air changes/ })).toContainText('Fan');
  await row.getByRole('button', { name: 'Check by sampling' }).click();
  await expect(row.getByText('The sampled interval agrees')).toBeVisible({ timeout: 15_000 });
  expect(await axe(page)).toEqual([]);
});

test('where the ± of one row of a table comes from: the flow to spare under the second target', async ({
  page,
}) => {
  await page.goto('/');
  const grid = page.getByRole('grid', { name: 'Targets' });
  await grid.getByRole('gridcell').filter({ hasText: 'second target' }).first().click();
  const spare = grid.getByRole('row').filter({ hasText: 'second target' }).locator('[data-at$=":5"]');
  await spare.click();
  const bar = page.getByRole('group', { name: 'Column To spare' });
  await bar.getByRole('button', { name: 'where the ± of row 2 comes from' }).focus();
  await page.keyboard.press('Enter');
  const list = bar.getByRole('list', { name: 'Where the ± comes from' });
  await expect(list.getByRole('listitem').first()).toContainText('Operator and procedure');
  await expect(list).toContainText('Area as measured');
  await expect(list).not.toContainText('Volume as measured');
  await bar.getByText('What moves it most').click();
  await expect(bar.getByRole('list', { name: 'Change of To spare, row 2 for each input' })).toContainText(
    'Second target, at most',
  );
  expect(await axe(page)).toEqual([]);
});

test('a result that only seems certain is flagged, and shows the sampled interval once it was sampled', async ({
  page,
}) => {
  const cell = (id: string, label: string, text: string) => ({
    kind: 'cell',
    id,
    name: id,
    label,
    type: 'number',
    text,
    unit: '',
  });
  const job = {
    app: 'close-in',
    format: 1,
    title: 'Flat',
    units: 'us',
    titleBlock: { result: 'squared', target: 'most', margin: 'left' },
    sheets: [
      {
        id: 'one',
        title: 'One',
        sections: [
          {
            id: 'all',
            title: 'All',
            items: [
              cell('lean', 'Lean', '0 ± 0.1'),
              cell('squared', 'Lean squared', 'lean ^ 2'),
              cell('most', 'At most', '0.1'),
              cell('left', 'Left', 'most - squared'),
              {
                kind: 'figure',
                id: 'drawn',
                figure: 'margin',
                title: 'Against the most',
                bindings: { value: 'squared', target: 'most' },
              },
            ],
          },
        ],
      },
    ],
  };
  await page.goto('/');
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open', exact: true }).click(),
  ]);
  await chooser.setFiles({
    name: 'flat.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(job)),
  });
  const row = page.locator('#cell-squared');
  const value = page.locator('#value-squared');
  await expect(value).toContainText('± not told');
  const block = page.getByRole('contentinfo', { name: 'Title block' });
  await expect(block.getByRole('status')).toContainText('± not told');
  await expect(block).toContainText('0.1 under ± not told');
  await expect(page.locator('figure').filter({ hasText: 'Against the most' })).toContainText('± not told');
  await row.getByRole('button').first().focus();
  await page.keyboard.press('Enter');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Control+b');
  await row.getByRole('button', { name: 'Check by sampling' }).click();
  await expect(row.getByText('The sampled interval differs')).toBeVisible({ timeout: 15_000 });
  // 95 % of (0.1 z)² with z normal lies from 0.0000098 to 0.0502: chi-squared with one degree of freedom.
  await expect(value).toContainText(/sampled 0\.000 to 0\.0(4[7-9]|5[0-3])/);
  await expect(value).not.toContainText('± not told');
  await expect(block.getByRole('status')).toContainText('sampled 0.000 to');
  expect(await axe(page)).toEqual([]);
  await page.setViewportSize({ width: 360, height: 740 });
  await expect(value).toBeVisible();
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
  await page.setViewportSize({ width: 1440, height: 900 });
  // Another value has another interval.
  await page.locator('#cell-lean').getByRole('button').first().click();
  await page.keyboard.type('1 ± 0.1');
  await page.keyboard.press('Enter');
  await expect(value).toContainText('± 0.20');
  await expect(value).not.toContainText('sampled');
});

test('scenarios stand beside the base, and undo takes each step back', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: /^What if/ }).click();
  const table = page.getByRole('region', { name: 'Scenarios side by side' });
  await expect(table).toContainText('two careful crews');
  await expect(table.getByRole('row', { name: /Air changes at 50 Pa/ })).toContainText('1.029 ± 0.033 1/h');
  await expect(table).toContainText('no difference');
  await expect(table).toContainText('+0.0179 ± 0.0058 1/h');
  // What is nothing at the places shown has no sign, and whole numbers have no idle nought.
  await expect(table).not.toContainText(/[+−]0(?:\.0+)?(?![.\d])/);
  await expect(table).toContainText('more than its uncertainty');
  await page.getByRole('button', { name: 'Add a scenario' }).click();
  const card = page.getByRole('textbox', { name: 'Name of the scenario' }).last();
  await card.fill('looser target');
  await card.press('Tab');
  await page.getByLabel('Try another value for').last().selectOption('target_ach50');
  await page.getByRole('button', { name: 'Try it' }).last().click();
  const value = page.getByRole('textbox', { name: /First target/ });
  await value.fill('1.02');
  await value.press('Tab');
  await expect(table.getByRole('columnheader', { name: 'looser target' })).toBeVisible();
  await expect(table.getByRole('row', { name: /meets the target/ })).toContainText('%');
  for (let step = 0; step < 4; step++) await page.getByRole('button', { name: 'Undo' }).click();
  await expect(table.getByRole('columnheader', { name: 'looser target' })).toHaveCount(0);
  expect(await axe(page)).toEqual([]);
});

test('scenarios are made, named, filled, copied and removed by keyboard, and no two are called alike', async ({
  page,
}) => {
  await page.goto('/');
  await page.getByRole('button', { name: /^What if/ }).click();
  const names = page.getByRole('textbox', { name: 'Name of the scenario' });
  await expect(names.first()).toBeVisible();
  const count = await names.count();
  await page.getByRole('button', { name: 'Add a scenario' }).focus();
  await page.keyboard.press('Enter');
  await expect(names.last()).toBeFocused();
  await page.keyboard.type('two careful crews');
  await page.keyboard.press('Tab');
  await expect(names.last()).toHaveValue('two careful crews 2');
  await names.last().fill('');
  await names.last().press('Tab');
  await expect(names.last()).toHaveValue('two careful crews 2');

  const choose = page.getByLabel('Try another value for').last();
  await choose.selectOption('target_ach50');
  await page.getByRole('button', { name: 'Try it' }).last().focus();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('textbox', { name: /First target, at most \(1\/h\)/ })).toBeFocused();
  await page.keyboard.type('0.9');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'take out' }).last().focus();
  await page.keyboard.press('Enter');
  await expect(choose).toBeFocused();

  await page.getByRole('button', { name: 'Copy' }).last().focus();
  await page.keyboard.press('Enter');
  await expect(names.last()).toHaveValue('two careful crews 2, again');
  await expect(names.last()).toBeFocused();
  for (let left = count + 1; left >= count; left--) {
    await page.getByRole('button', { name: 'Remove' }).last().focus();
    await page.keyboard.press('Enter');
    await expect(names).toHaveCount(left);
    await expect(names.last()).toBeFocused();
  }
  await page.getByRole('button', { name: 'leave out Bags to order' }).click();
  await expect(page.getByRole('rowheader', { name: /Bags to order/ })).toHaveCount(0);
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect(page.getByRole('rowheader', { name: /Bags to order/ })).toBeVisible();
});

test('a scenario of entries in a table can be seen, changed, and made by hand', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('button', { name: /^What if/ }).click();
  const flow = page.getByRole('textbox', { name: /Grille by grille: G10, Measured \(cfm\)/ });
  await expect(flow).toHaveValue('15.2');
  await expect(page.getByText(/G10, Measured \(cfm\)/)).toContainText('now 9.8');
  await page.getByRole('button', { name: 'Add a scenario' }).click();
  await page.getByText('Try another entry of a table').last().click();
  await page
    .getByRole('combobox', { name: 'Table', exact: true })
    .last()
    .selectOption({ label: 'Grille by grille' });
  await page.getByRole('combobox', { name: 'Row', exact: true }).last().selectOption({ label: 'G10' });
  await page
    .getByRole('combobox', { name: 'Column', exact: true })
    .last()
    .selectOption({ label: 'Measured' });
  await page.getByRole('button', { name: 'Try this entry' }).last().click();
  await expect(flow).toHaveCount(2);
  await flow.last().fill('20 ft2');
  await flow.last().press('Tab');
  await expect(page.getByText(/'20 ft2' is an area; this entry is a volume flow/)).toBeVisible();
  await flow.last().fill('15.2');
  await flow.last().press('Tab');
  // Rows of one name are told apart.
  await page.getByRole('combobox', { name: 'Table', exact: true }).last().selectOption({ label: 'Readings' });
  const rows = page.getByRole('combobox', { name: 'Row', exact: true }).last();
  await expect(rows.getByRole('option', { name: /^sealed, depressurised, row \d+$/ })).not.toHaveCount(0);
  await expect(rows.getByRole('option', { name: 'sealed, depressurised', exact: true })).toHaveCount(0);
  await page.getByLabel('Compare another result').selectOption('spare_rate');
  await page.getByRole('button', { name: 'Add it' }).click();
  const spare = page.getByRole('row', { name: /To spare/ });
  await expect(spare).toContainText('cfm');
  expect(await axe(page)).toEqual([]);
  await page.setViewportSize({ width: 360, height: 740 });
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(wide).toBeLessThanOrEqual(0);
});

test('solve finds the value that meets a target, and writes only when told', async ({ page }) => {
  await page.setViewportSize({ width: 360, height: 740 });
  await page.goto('/');
  await page.getByRole('combobox', { name: 'Worksheet' }).selectOption('What if');
  await page.getByLabel(/^Make/).selectOption('ach50');
  await page.getByLabel('equal').fill('1.0');
  await page.getByLabel('by changing').selectOption('main_wing_width');
  await page.getByLabel('between').fill('20 ft');
  await page.getByLabel('and', { exact: true }).fill("35'");
  await page.getByRole('button', { name: 'Look for it' }).press('Enter');
  await expect(page.getByText(/main_wing_width\s*=\s*26\.9/)).toBeVisible();
  await page.getByLabel('between').fill('30 ft');
  await page.getByLabel('and', { exact: true }).fill('40 ft');
  await page.getByRole('button', { name: 'Look for it' }).click();
  await expect(
    page.getByRole('region', { name: 'Solve' }).getByText('There is no solution in the range'),
  ).toBeVisible();
  await page.getByLabel('between').fill('20 ft');
  await page.getByRole('button', { name: 'Look for it' }).click();
  await page.getByRole('button', { name: 'Type it in' }).click();
  await expect(page.getByRole('button', { name: 'Look for it' })).toBeFocused();
  await expect(page.getByText('1.000').first()).toBeVisible();
  // An entry of a table is chosen by its table, row and column.
  const solve = page.getByRole('region', { name: 'Solve' });
  await solve.getByLabel(/^Make/).selectOption('shown_r_upper');
  await solve.getByLabel('equal').fill('55');
  await solve.getByLabel('by changing').selectOption({ label: 'an entry of a table…' });
  await solve.getByRole('combobox', { name: 'Table' }).selectOption({ label: 'Layers, inside to outside' });
  await solve
    .getByRole('combobox', { name: 'Row' })
    .selectOption({ label: 'double_wall, wood-fibre board, 1 1/2 in' });
  await solve.getByRole('combobox', { name: 'Column' }).selectOption({ label: 'R, between framing' });
  await solve.getByRole('textbox', { name: 'between' }).fill('4');
  await solve.getByRole('textbox', { name: 'and' }).fill('12');
  await solve.getByRole('button', { name: 'Look for it' }).click();
  await expect(solve.getByText(/Layers, inside to outside: .*, R, between framing = 8\.\d+/)).toBeVisible();
  await solve.getByRole('button', { name: 'Type it in' }).click();
  await expect(page.getByRole('status').filter({ hasText: 'R, between framing is now 8.' })).toHaveCount(1);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(wide).toBeLessThanOrEqual(0);
  expect(await axe(page)).toEqual([]);
});

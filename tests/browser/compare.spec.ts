import { readFile } from 'node:fs/promises';
import type { Page } from '@playwright/test';
import { axe, expect, test } from './support.ts';

interface Saved {
  sheets: { title: string; sections: { items: { name?: string; text?: string }[] }[] }[];
}

const dialog = (page: Page) => page.getByRole('dialog', { name: 'Compare' });

async function saved(page: Page): Promise<Saved> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as file' }).first().click(),
  ]);
  return JSON.parse(await readFile(await download.path(), 'utf8')) as Saved;
}

function cell(workbook: Saved, name: string) {
  const found = workbook.sheets
    .flatMap(({ sections }) => sections)
    .flatMap(({ items }) => items)
    .find((each) => each.name === name);
  if (!found) throw new Error(`no ${name}`);
  return found;
}

async function more(page: Page, deed: RegExp) {
  await page.getByRole('button', { name: /^(More|Menu)$/ }).click();
  await page.getByRole('button', { name: deed }).click();
}

/** A copy in which the first target is another one than here, and one more number is theirs alone. */
async function changedOnBothSides(page: Page): Promise<Saved> {
  await page.goto('/');
  const theirs = await saved(page);
  cell(theirs, 'target_ach50').text = '1.0';
  cell(theirs, 'suspicion_level').text = '1';
  await type(page, 'target_ach50', /First target/, '1.1');
  return theirs;
}

async function choose(page: Page, workbook: Saved, name = 'theirs.json') {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Choose a file' }).click(),
  ]);
  await chooser.setFiles({
    name,
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(workbook)),
  });
}

async function type(page: Page, name: string, label: RegExp, text: string) {
  await page.locator(`#cell-${name}`).getByRole('button', { name: label }).first().focus();
  await page.keyboard.press('Enter');
  await page.getByRole('textbox', { name: label }).fill(text);
  await page.keyboard.press('Enter');
}

test('a file is compared, one difference taken over by keyboard, and one undo takes it back', async ({
  page,
}) => {
  await page.goto('/');
  const theirs = await saved(page);
  // A stranger's file: no version that this device knows.
  delete (theirs as { versions?: unknown }).versions;
  cell(theirs, 'target_ach50').text = '1.0';
  cell(theirs, 'pressure_gauge_error').text = '0 ± 1 %';
  await more(page, /^Compare with another/);
  await choose(page, theirs);
  await expect(dialog(page).getByText('2 differences.', { exact: false })).toContainText('yours to choose');
  const target = dialog(page).getByRole('group', { name: /First target, at most/ });
  await expect(target.getByRole('radio', { name: 'here 1.2 1/h' })).toBeChecked();
  await expect(dialog(page).getByRole('region', { name: 'Results that differ' })).toContainText(
    'Margin to the target',
  );
  await target.getByRole('radio', { name: 'here 1.2 1/h' }).focus();
  await page.keyboard.press('ArrowDown');
  await expect(target.getByRole('radio', { name: 'there 1.0 1/h' })).toBeChecked();
  expect(await axe(page, 'dialog')).toEqual([]);
  await dialog(page).getByRole('button', { name: 'Take over' }).press('Enter');
  await expect(dialog(page).getByText('1 difference is taken over')).toBeVisible();
  await expect(target).toHaveCount(0);
  await page.keyboard.press('Escape');
  await expect(page.locator('#cell-target_ach50')).toContainText('1.0');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.locator('#cell-target_ach50')).toContainText('1.2');
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled();
});

test('two copies of one saved version: what one side changed is settled, what both changed is asked', async ({
  page,
}) => {
  const theirs = await changedOnBothSides(page);
  await type(page, 'target_permeability50', /Second target/, '0.08');
  await more(page, /^Compare with another/);
  await choose(page, theirs);
  await expect(dialog(page).getByText('Both come from one saved version', { exact: false })).toBeVisible();
  const conflicts = dialog(page).getByRole('region', { name: /^Changed on both sides/ });
  await expect(conflicts.getByRole('group')).toHaveCount(1);
  await expect(dialog(page).getByRole('radio', { name: 'there 1 %' })).toBeChecked();
  await expect(dialog(page).getByRole('radio', { name: 'here 0.08 cfm/ft2' })).toBeChecked();
  const foot = dialog(page).getByText('taken over from there');
  await expect(foot).toContainText('1 still to choose: it stays as it is here until then');
  await expect(conflicts.getByRole('radio', { checked: true })).toHaveCount(0);
  await conflicts.getByRole('radio', { name: 'here 1.1 1/h' }).check();
  await expect(foot).not.toContainText('still to choose');
  await conflicts.getByRole('radio', { name: 'there 1.0 1/h' }).check();
  await dialog(page).getByRole('button', { name: 'Take over' }).click();
  await page.keyboard.press('Escape');
  const merged = await saved(page);
  expect(cell(merged, 'target_ach50').text).toBe('1.0');
  expect(cell(merged, 'suspicion_level').text).toBe('1');
  expect(cell(merged, 'target_permeability50').text).toBe('0.08');
});

test('a conflict that is not chosen stays as here and is told so; one that was kept is not asked again', async ({
  page,
}) => {
  const theirs = await changedOnBothSides(page);
  await more(page, /^Compare with another/);
  await choose(page, theirs);
  await dialog(page).getByRole('button', { name: 'Take over' }).click();
  await expect(dialog(page).getByText('1 difference is taken over')).toContainText(
    '1 not chosen stays as it is here',
  );
  const conflicts = dialog(page).getByRole('region', { name: /^Changed on both sides/ });
  const here = conflicts.getByRole('radio', { name: 'here 1.1 1/h' });
  await expect(here).not.toBeChecked();
  await here.check();
  await expect(dialog(page).getByText('still to choose')).toHaveCount(0);
  await page.keyboard.press('Escape');
  expect(cell(await saved(page), 'target_ach50').text).toBe('1.1');
});

test('whoever shows the differences past the first hundred goes on there, by keys', async ({ page }) => {
  await page.goto('/');
  const theirs = await saved(page);
  const rows = theirs.sheets
    .flatMap(({ sections }) => sections.flatMap(({ items }) => items))
    .flatMap((item) => ('rows' in item ? (item.rows as Record<string, string>[]) : []))
    .flatMap((row) =>
      Object.keys(row).flatMap((key) => (/^\d+$/.test(row[key] ?? '') ? [{ row, key }] : [])),
    );
  for (const { row, key } of rows.slice(0, 120)) row[key] = `${row[key]}1`;
  await more(page, /^Compare with another/);
  await choose(page, theirs);
  const values = dialog(page).getByRole('region', { name: /^Values/ });
  await values.getByRole('button', { name: /^Show all/ }).press('Enter');
  await expect(values.getByRole('group').nth(100).getByRole('radio', { checked: true })).toBeFocused();
  await page.keyboard.press('ArrowLeft');
  await expect(dialog(page).getByRole('contentinfo').or(dialog(page).locator('footer'))).toContainText(
    'taken over',
  );
});

test('a file dropped on the page asks what is to be done with it', async ({ page }) => {
  await page.goto('/');
  const theirs = await saved(page);
  cell(theirs, 'target_ach50').text = '1.0';
  const drop = async (name: string, text: string) => {
    const data = await page.evaluateHandle(
      ([fileName, content]) => {
        const transfer = new DataTransfer();
        transfer.items.add(new File([content], fileName, { type: 'application/json' }));
        return transfer;
      },
      [name, text] as const,
    );
    await page.dispatchEvent('main', 'drop', { dataTransfer: data });
  };
  await drop('notes.json', '{"shopping":["milk"]}');
  await page.getByRole('button', { name: 'Compare with it' }).click();
  await expect(page.getByRole('alert')).toContainText('notes.json was not opened');
  await page.getByRole('button', { name: 'Dismiss' }).click();
  await drop('theirs.json', JSON.stringify(theirs));
  await expect(page.getByText('What is to be done with theirs.json?')).toBeVisible();
  await page.getByRole('button', { name: 'Compare with it' }).click();
  await expect(dialog(page).getByText('1 difference.', { exact: false })).toBeVisible();
});

test('worksheets are copied from a template: names are reconciled, what is missing is told, one undo', async ({
  page,
}) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('button', { name: 'Hold points', exact: true }).first().click();
  await expect(page.getByRole('heading', { name: 'Inputs of the job' })).toBeVisible();
  await more(page, /^Copy worksheets/);
  const panel = page.getByRole('dialog', { name: 'Copy worksheets from another workbook' });
  await panel.getByRole('button', { name: 'Finishes', exact: true }).click();
  await panel.getByRole('checkbox', { name: 'Framing check' }).check();
  await expect(panel.getByText('framing_readings becomes framing_readings_2')).toBeVisible();
  await expect(panel.getByRole('heading', { name: 'Not here' })).toBeVisible();
  await expect(panel.getByText(/indoor_temperature/)).toBeVisible();
  expect(await axe(page, 'dialog')).toEqual([]);
  await panel.getByRole('button', { name: 'Copy the worksheet' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Framing check' })).toBeVisible();
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(page.getByRole('button', { name: /Framing check/ })).toHaveCount(0);
});

test.describe('on a phone', () => {
  test.use({ viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });

  test('the comparison fits and nothing is too small to touch', async ({ page }) => {
    await page.goto('/');
    await page.getByRole('button', { name: 'Menu', exact: true }).click();
    const theirs = await saved(page);
    cell(theirs, 'target_ach50').text = '1.0';
    delete (theirs as { versions?: unknown }).versions;
    await more(page, /^Compare with another/);
    await expect(dialog(page).getByRole('button', { name: 'Choose a file' })).toBeVisible();
    await expect(dialog(page).getByText('or drop one on the page')).toBeHidden();
    await choose(page, theirs);
    const there = dialog(page).getByRole('radio', { name: 'there 1.0 1/h' });
    await there.check();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
    const page2 = dialog(page).locator('.page');
    expect(await page2.evaluate((element) => element.scrollWidth - element.clientWidth)).toBe(0);
    const boxes = await dialog(page)
      .locator('button, label')
      .evaluateAll((all) => all.map((each) => each.getBoundingClientRect().height));
    expect(Math.min(...boxes)).toBeGreaterThanOrEqual(48);
    expect(await axe(page, 'dialog')).toEqual([]);
  });
});

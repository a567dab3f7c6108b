import { readFile } from 'node:fs/promises';
import type { Page } from '@playwright/test';
import { axe, expect, test } from './support.ts';

interface SavedCell {
  readonly name?: string;
  text?: string;
  note?: string;
}
interface Saved {
  title: string;
  template?: { id: string; title: string; version: string };
  sheets: { sections: { items: (SavedCell & { rows?: unknown[] })[] }[] }[];
}

const job = (page: Page) => page.getByRole('banner').getByRole('textbox', { name: 'Job' });
const inputs = (page: Page) => page.getByRole('heading', { name: 'Inputs of the job' });

async function begin(page: Page, title: string) {
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('button', { name: title, exact: true }).first().click();
}

async function saved(page: Page): Promise<Saved> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save as file' }).first().click(),
  ]);
  return JSON.parse(await readFile(await download.path(), 'utf8')) as Saved;
}

async function open(page: Page, workbook: Saved) {
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open', exact: true }).click(),
  ]);
  await chooser.setFiles({
    name: 'job.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(workbook)),
  });
}

function item(workbook: Saved, name: string) {
  const found = workbook.sheets
    .flatMap(({ sections }) => sections)
    .flatMap(({ items }) => items)
    .find((each) => each.name === name);
  if (!found) throw new Error(`no ${name}`);
  return found;
}

test('a new job asks its name and its own figures by keyboard alone, and nothing else', async ({ page }) => {
  await page.goto('/');
  await begin(page, 'Air test');
  await expect(inputs(page)).toBeVisible();
  await expect(page.getByLabel('Name', { exact: true })).toBeFocused();
  await page.keyboard.type('North cabin');
  await page.keyboard.press('Enter');
  await expect(page.getByLabel('Volume inside the air barrier')).toBeFocused();
  await page.keyboard.type('9,000');
  await page.keyboard.press('Enter');
  await page.keyboard.type('twelve');
  await expect(page.getByRole('textbox', { name: 'Area of the air barrier' })).toHaveAttribute(
    'aria-invalid',
    'true',
  );
  await page.keyboard.press('Escape');
  await page.keyboard.type('2,900');
  await page.keyboard.press('Shift+Enter');
  await expect(page.getByLabel('Volume inside the air barrier')).toBeFocused();
  await expect(page.getByLabel('Volume inside the air barrier')).toHaveValue('9,000');
  await expect(page.getByText('2 of 16 filled in')).toBeVisible();
  await expect(job(page)).toHaveValue('North cabin');
  expect(await axe(page)).toEqual([]);
  await page.getByRole('combobox', { name: 'Storeys' }).focus();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('combobox', { name: 'Shelter class' })).toBeFocused();
  await page.keyboard.press('Shift+Enter');
  await expect(page.getByRole('combobox', { name: 'Storeys' })).toBeFocused();

  await page.getByRole('button', { name: 'skip to the worksheets' }).click();
  await expect(page.locator('#cell-building_volume')).toContainText('9,000');
  const file = await saved(page);
  expect(file).toMatchObject({ title: 'North cabin', template: { id: 'air-test', title: 'Air test' } });
});

test('the template’s figures are examples: nothing of them is in the new job unless it is kept on purpose', async ({
  page,
}) => {
  const address = new URL('../../templates/house-envelope-ventilation.json', import.meta.url);
  const template = JSON.parse(await readFile(address, 'utf8')) as Saved;
  const elevation = item(template, 'site_elevation').text ?? '';
  const { length } = item(template, 'rooms').rows ?? [];
  expect(length).toBeGreaterThan(1);
  await page.goto('/');
  await begin(page, 'House, envelope and ventilation');
  await expect(page.getByText(`example: ${elevation} ft`)).toBeVisible();
  await page.getByRole('button', { name: 'keep it: Site elevation' }).click();
  await expect(page.getByRole('textbox', { name: 'Site elevation' })).toHaveValue(elevation);
  await page.getByRole('button', { name: `keep the example’s ${length} rows: Rooms` }).click();
  const file = await saved(page);
  expect(item(file, 'site_elevation').text).toBe(elevation);
  expect(item(file, 'indoor_temperature').text).toBe('');
  expect(item(file, 'rooms').rows).toHaveLength(length);
  expect(item(file, 'openings').rows).toEqual([]);
  await page.getByRole('button', { name: 'Undo' }).click();
  expect(item(await saved(page), 'rooms').rows).toEqual([]);
});

test('the next job is like this one, with nothing of it; the page asks again after a reload', async ({
  page,
}) => {
  await page.goto('/');
  await begin(page, 'Next job like this one');
  await expect(inputs(page)).toBeVisible();
  await expect(job(page)).toHaveValue('New job');
  const file = await saved(page);
  expect(item(file, 'readings').rows).toEqual([]);
  expect(item(file, 'target_ach50').text).toBe('');
  expect(item(file, 'hole_flow_coefficient').text).toBe('0.61');
  await page.getByRole('textbox', { name: 'First target, at most' }).fill('1.5');
  await page.getByRole('textbox', { name: 'First target, at most' }).press('Enter');
  await expect(page.getByRole('contentinfo', { name: 'Title block' })).toContainText(/saved \d+:\d\d/);
  await page.reload();
  await page.getByRole('button', { name: /Inputs of the job/ }).click();
  await expect(page.getByRole('textbox', { name: 'First target, at most' })).toHaveValue('1.5');
});

test.describe('on a phone', () => {
  test.use({ viewport: { width: 360, height: 740 }, hasTouch: true });

  test('the inputs fit, and the key pad types into them', async ({ page }) => {
    await page.goto('/');
    await page.getByRole('button', { name: 'Menu', exact: true }).click();
    await page.getByRole('button', { name: 'Air test', exact: true }).first().click();
    await expect(inputs(page)).toBeVisible();
    await page.getByLabel('Volume inside the air barrier').tap();
    const pad = page.getByRole('region', { name: /^Keys for Volume inside/ });
    await expect(pad).toBeVisible();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
    expect(await axe(page)).toEqual([]);

    // What is wrong comes with what to type instead, and one touch takes it.
    const volume = page.getByRole('textbox', { name: 'Volume inside the air barrier' });
    await volume.fill('25732,5');
    await expect(volume).toHaveAccessibleDescription(/type 25732\.5, with a point before the decimals/);
    await volume.fill('44 ft • 26 ft • 20 ft');
    await expect(volume).toHaveAccessibleDescription(/"times" is written \*/);
    expect(await axe(page)).toEqual([]);
    await page.getByRole('button', { name: 'Use *' }).tap();
    await expect(volume).toHaveValue('44 ft * 26 ft • 20 ft');
    await expect(volume).toBeFocused();
    await page.getByRole('button', { name: 'Use *' }).tap();
    await volume.press('Enter');
    await expect(volume).toHaveAttribute('aria-invalid', 'false');
    await volume.fill('300 ft2');
    await volume.press('Enter');
    await expect(volume).toHaveAccessibleDescription(
      /is an area; this entry is a volume\s+type for instance/,
    );
  });
});

test('a job is saved as a template: marked, emptied, offered under New, and a job from it begins blank', async ({
  page,
}) => {
  await page.goto('/');
  await page.locator('#cell-suspicion_level').getByRole('button').first().click();
  await page.locator('#cell-suspicion_level').getByRole('checkbox', { name: 'ask a new job for it' }).check();
  await page.getByRole('button', { name: 'More', exact: true }).click();
  await page.getByRole('button', { name: /Save this job as a template/ }).click();
  const panel = page.getByRole('dialog', { name: 'Save as a template' });
  await panel.getByLabel('Title').fill('Our air test');
  await panel.getByLabel('What it is for, in one line').fill('With our limits');
  await panel.locator('summary').first().click();
  await expect(panel.getByRole('checkbox', { name: /A point looks off/ })).toBeChecked();
  await panel.getByRole('checkbox', { name: /House pressure gauge/ }).check();
  expect(await axe(page, 'dialog')).toEqual([]);
  await panel.getByRole('button', { name: 'Keep under New' }).click();
  await expect(panel.getByText('“Our air test” stands under New')).toBeVisible();
  await panel.getByRole('button', { name: 'Close' }).click();

  await begin(page, 'Our air test');
  await expect(inputs(page)).toBeVisible();
  await expect(page.getByLabel('House pressure gauge, one error for all readings')).toHaveValue('');
  const file = await saved(page);
  expect(file.template?.title).toBe('Our air test');
  expect(item(file, 'suspicion_level').text).toBe('');
  expect(item(file, 'fan_gauge_error').text).toBe('0 ± 0.5 %');
});

test('a template that has changed since says so, and each difference can be taken over', async ({ page }) => {
  await page.goto('/');
  await begin(page, 'Air test');
  await expect(inputs(page)).toBeVisible();
  const file = await saved(page);
  const formula = item(file, 'ach50').text ?? '';
  if (file.template) file.template.version = '00000000';
  item(file, 'ach50').text = 'q50 / building_volume';
  item(file, 'building_volume').text = '9,000';
  await open(page, file);
  await page.getByRole('button', { name: 'See differences' }).click();
  const compare = page.getByRole('dialog', { name: 'Compare' });
  await expect(compare.getByText('1 difference.', { exact: false })).toBeVisible();
  expect(await axe(page, 'dialog')).toEqual([]);
  await compare.getByRole('radio', { name: `there ${formula}` }).check();
  await compare.getByRole('button', { name: 'Take over' }).click();
  await expect(compare.getByText('1 difference is taken over')).toBeVisible();
  await compare.getByRole('button', { name: 'Close', exact: true }).click();
  await expect(page.getByRole('button', { name: 'See differences' })).toHaveCount(0);
  const after = await saved(page);
  expect(item(after, 'ach50').text).toBe(formula);
  expect(item(after, 'building_volume').text).toBe('9,000');
  await page.getByRole('button', { name: 'Undo' }).click();
  expect(item(await saved(page), 'ach50').text).toBe('q50 / building_volume');
});

import { readFile } from 'node:fs/promises';
import { axe, expect, test } from './support.ts';

interface TypedTable {
  name?: string;
  rows?: Record<string, string>[];
}

interface DemoFile {
  sheets: { sections: { items: (TypedTable & { text?: string })[] }[] }[];
}

/** The rows that a person typed for the test shown, from the file itself. */
async function typedReadings() {
  const text = await readFile(new URL('../../templates/juniper-hollow.json', import.meta.url), 'utf8');
  const demo = JSON.parse(text) as DemoFile;
  const items = demo.sheets.flatMap(({ sections }) => sections.flatMap((section) => section.items));
  const shown = items.find(({ name }) => name === 'shown_test')?.text;
  const rows = items.find(({ name }) => name === 'readings')?.rows ?? [];
  return rows.filter(({ test: of }) => of === shown);
}

for (const [size, width, height] of [
  ['letter', 612, 792],
  ['A4', 595, 842],
] as const) {
  test(`the test certificate on ${size}: one page, every reading in it`, async ({ page }, info) => {
    await page.goto('/');
    await page.getByRole('button', { name: 'Report', exact: true }).click();
    const report = page.getByRole('region', { name: 'Report' });
    await report.getByLabel('Paper').selectOption(size);
    await expect(report.locator('.beside > div > svg')).toHaveCount(1);
    await expect(report).toContainText(/file [0-9a-f]{16}/);
    await expect(report).toContainText('ASTM E779');
    await expect(report).toContainText('from memory');
    await expect(report).toContainText('Open faults');
    // One target met says nothing of the other, in whole words.
    await expect(report).toContainText('the targets disagree: one is met, another is too close to call.');
    // What is typed is printed, and what is blank has a line to write on.
    await expect(report.locator('.signing p')).toHaveText([
      'Tested by',
      /^Gauge and fan, calibrated Invented: gauge 1 and fan 1 of the tester, both calibrated 2031-02$/,
      /^Standard, edition ASTM E779-10$/,
      'Signature',
      'Signed on',
    ]);
    // What was closed or sealed belongs to the result.
    await expect(report.locator('.under')).toContainText('Not done: none');
    await expect(report.locator('.under')).toContainText('taped at the grilles, both units');
    // What was not read is said in one line, not left out.
    await expect(report).toContainText(/Not typed\s*Barometer, Sensor factor, Humidity indoors/);

    const typed = await typedReadings();
    expect(typed.length).toBeGreaterThan(5);
    const printed = await report.locator('table').first().locator('tbody tr').allInnerTexts();
    expect(printed).toHaveLength(typed.length);
    for (const [at, { house_pressure: pressure = '?', left_out: reason = '' }] of typed.entries()) {
      const text = (printed[at] ?? '').replaceAll('−', '-');
      expect(text).toContain(pressure);
      expect(text).toContain(reason);
    }
    expect(await axe(page)).toEqual([]);

    await page.emulateMedia({ media: 'print' });
    // The content of the page: paper less its margins of 30 mm, in CSS pixels.
    await page.setViewportSize({ width: Math.round((width * 96) / 72 - 113), height: 1000 });
    await page.screenshot({ path: info.outputPath(`certificate-${size}.png`), fullPage: true });
    const made = await page.pdf({
      path: info.outputPath(`certificate-${size}.pdf`),
      preferCSSPageSize: true,
    });
    const pdf = made.toString('latin1');
    const box = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/.exec(pdf);
    expect([Number(box?.[1]), Number(box?.[2])].map(Math.round)).toEqual([width, height]);
    expect([...pdf.matchAll(/\/Type\s*\/Page\b/g)]).toHaveLength(1);
  });
}

test('the report takes the focus, keeps it among its own, and gives it back', async ({ page }) => {
  await page.goto('/');
  const command = page.getByRole('button', { name: 'Report', exact: true });
  await command.focus();
  await page.keyboard.press('Enter');
  const report = page.getByRole('region', { name: 'Report' });
  await expect(report).toBeFocused();
  await page.keyboard.press('Tab');
  await expect(report.getByLabel('Report')).toBeFocused();
  for (let k = 0; k < 12; k++) {
    await page.keyboard.press('Tab');
    // Beyond the last of them comes the browser’s own frame.
    const isOutside = await page.evaluate(
      () => document.activeElement !== document.body && !document.activeElement?.closest('.report'),
    );
    expect(isOutside, `after ${k + 2} tabs`).toBe(false);
  }
  await page.keyboard.press('Escape');
  await expect(report).toHaveCount(0);
  await expect(command).toBeFocused();
});

test('order list and chosen worksheets: what is there is shown, what is not is said', async ({
  page,
}, info) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'Report', exact: true }).click();
  const report = page.getByRole('region', { name: 'Report' });
  await report.getByLabel('Report').selectOption('order');
  await expect(report).toContainText('Order list: board and plaster');
  await expect(report).toContainText('Order list: beams');
  // Stages “in order” are nothing that is ordered.
  await expect(report.getByRole('heading', { name: /in order$/ })).toHaveCount(0);
  // What an order rests on that nobody measured stands under it.
  await expect(
    report.locator('.notes section', { hasText: 'Assumptions and values from memory' }),
  ).toContainText(/(from memory|An assumption)[^A]/);
  await page.screenshot({ path: info.outputPath('order.png') });
  await report.getByLabel('Report').selectOption('client');
  await expect(report.locator('svg').first()).toBeVisible();
  await expect(report).toContainText('Margin to the target');
  // A word that the ± could turn is not printed as certain, and what that means stands at the foot.
  await expect(report.locator('.facts', { hasText: 'House as a whole' })).toContainText(
    /House as a whole\s*balanced, undecided/,
  );
  await expect(report.locator('.notes section', { hasText: 'Open doubts' })).toContainText(
    /House as a whole\. Undecided: .* could go the other way/,
  );
  await page.emulateMedia({ media: 'print' });
  await page.screenshot({ path: info.outputPath('client.png'), fullPage: true });
  await page.emulateMedia({ media: 'screen' });
  await report.getByLabel('Report').selectOption('sections');
  await expect(report).toContainText('nothing is chosen yet: tick above what goes on paper');
  await report.locator('fieldset', { hasText: 'Air test' }).first().locator('summary').first().click();
  await report.getByRole('checkbox', { name: 'First target, at most' }).check();
  await expect(report.locator('article')).toContainText('First target, at most');
  await expect(report.locator('article')).not.toContainText('Second target, at most');
  await report.getByRole('checkbox', { name: 'Leaks', exact: true }).check();
  await expect(report).toContainText('Sealing budget');
  await expect(report).not.toContainText('nothing is chosen yet');
  await page.keyboard.press('Escape');
  await expect(report).toHaveCount(0);
  await expect(page.getByRole('contentinfo', { name: 'Title block' })).toBeVisible();
});

test('what is chosen and its order stay in the workbook, each a step to undo; kind and paper are as they were left', async ({
  page,
}) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'Report', exact: true }).click();
  const report = page.getByRole('region', { name: 'Report' });
  await expect(report.getByLabel('Paper')).toHaveValue('letter');
  await report.getByLabel('Paper').selectOption('A4');
  await report.getByLabel('Report').selectOption('sections');
  const airTest = report.locator('fieldset', { hasText: 'Air test' }).first();
  await airTest.getByRole('checkbox', { name: 'Readings', exact: true }).check();
  await airTest.getByRole('checkbox', { name: 'What is tested' }).check();
  const order = report.getByRole('list', { name: 'Printed in this order' }).locator('li');
  await expect(order).toHaveText([/What is tested/, /Readings/]);
  const headings = report.locator('article h2');
  await expect(headings.first()).toHaveText('What is tested');
  // Moved by keyboard, and the focus stays with what is moved.
  await order
    .nth(1)
    .getByRole('button', { name: /earlier/ })
    .focus();
  await page.keyboard.press('Enter');
  await expect(order).toHaveText([/Readings/, /What is tested/]);
  await expect(order.first().getByRole('button', { name: /later/ })).toBeFocused();
  await expect(headings.first()).not.toHaveText('What is tested');
  expect(await axe(page)).toEqual([]);
  await page.keyboard.press('Control+z');
  await expect(order).toHaveText([/What is tested/, /Readings/]);
  await page.keyboard.press('Control+y');
  await expect(order).toHaveText([/Readings/, /What is tested/]);
  await page.keyboard.press('Escape');
  await expect(page.getByRole('contentinfo', { name: 'Title block' })).toContainText(/saved \d+:\d\d/);

  await page.reload();
  await page.getByRole('button', { name: 'Report', exact: true }).click();
  await expect(report.getByLabel('Paper')).toHaveValue('A4');
  await expect(report.getByLabel('Report')).toHaveValue('sections');
  await expect(order).toHaveText([/Readings/, /What is tested/]);
  await order
    .first()
    .getByRole('button', { name: /leave out/ })
    .click();
  await expect(airTest.getByRole('checkbox', { name: 'Readings', exact: true })).not.toBeChecked();
});

for (const [size, profile, pieces] of [
  ['letter', 'base', 22],
  ['A4', 'casing', 47],
] as const) {
  test(`client summary, order list and cut list on ${size}: pages counted, every row in them`, async ({
    page,
  }, info) => {
    await page.goto('/');
    await page.getByRole('navigation').getByRole('button', { name: /^Trim/ }).click();
    await page.locator('#cell-shown_profile select').selectOption(profile);
    await page.getByRole('button', { name: 'Report', exact: true }).click();
    const report = page.getByRole('region', { name: 'Report' });
    await report.getByLabel('Paper').selectOption(size);
    const pages = async (name: string) => {
      await page.emulateMedia({ media: 'print' });
      const path = info.outputPath(`${name}-${size}.pdf`);
      const pdf = (await page.pdf({ path, preferCSSPageSize: true })).toString('latin1');
      await page.emulateMedia({ media: 'screen' });
      return [...pdf.matchAll(/\/Type\s*\/Page\b/g)].length;
    };

    await report.getByLabel('Report').selectOption('client');
    await expect(report.locator('.whole > div > svg').first()).toBeVisible();
    expect(await pages('client')).toBe(1);

    await report.getByLabel('Report').selectOption('order');
    const text = await readFile(new URL('../../templates/juniper-hollow.json', import.meta.url), 'utf8');
    const stock = (JSON.parse(text) as DemoFile).sheets
      .flatMap(({ sections }) => sections.flatMap(({ items }) => items))
      .find(({ name }) => name === 'trim_stock')?.rows;
    const table = report.locator('.whole', { has: page.getByRole('heading', { name: /^Stock lengths/ }) });
    // What is not ordered is left out and counted: together they are all the lines that were typed.
    // Read in one moment: the plan may still be getting better.
    const { counts, left } = await table.evaluate((element) => {
      const cells = (row: Element) => [...row.querySelectorAll('th, td')].map((cell) => cell.textContent);
      const [head, ...lines] = [...element.querySelectorAll('tr:not(.footer)')].map(cells);
      const words = /(\d+) lines? with nothing to order/.exec(element.textContent);
      return {
        counts: lines.map((line) => Number(line[head?.indexOf('Order') ?? 0])),
        left: Number(words?.[1]),
      };
    });
    expect(counts.filter((count) => !(count > 0))).toEqual([]);
    expect(left).toBeGreaterThan(0);
    expect(counts.length + left).toBe(stock?.length);
    await expect(table.locator('tbody tr.footer')).toHaveCount(1);
    expect(await pages('order')).toBe(1);

    await report.getByLabel('Report').selectOption('cut');
    // Every piece of the profile shown has its box to tick.
    const boxes = async () => ((await report.locator('article table').innerText()).match(/☐/g) ?? []).length;
    await expect.poll(boxes).toBe(pieces);
    // The picture of the casing is longer than a page: its list stands without it.
    await expect(report.locator('article svg').first()).toBeVisible({ visible: profile === 'base' });
    expect(await pages('cut-list')).toBe(1);
  });
}

test('a test of fourteen readings still stands on one page of Letter', async ({ page }) => {
  const text = await readFile(new URL('../../templates/juniper-hollow.json', import.meta.url), 'utf8');
  const [first] = await typedReadings();
  const line = text
    .split('\n')
    .find((each) => each.includes(`"$id": "${first?.$id}", "test": "${first?.test}"`));
  const more = [1, 2, 3, 4].map((at) => (line ?? '?').replace(/"\$id": "[^"]*"/, `"$id": "more${at}"`));
  await page.goto('/');
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open', exact: true }).click(),
  ]);
  const buffer = Buffer.from(text.replace(line ?? '?', [...more, line].join('\n')));
  await chooser.setFiles({ name: 'more.json', mimeType: 'application/json', buffer });
  await expect(page.getByText('14 points').first()).toBeVisible();
  await page.getByRole('button', { name: 'Report', exact: true }).click();
  const report = page.getByRole('region', { name: 'Report' });
  await expect(report.locator('.beside > div > svg')).toHaveCount(1);
  await expect(report.locator('table').first().locator('tbody tr')).toHaveCount(14);
  await page.emulateMedia({ media: 'print' });
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
  expect([...pdf.matchAll(/\/Type\s*\/Page\b/g)]).toHaveLength(1);
});

test('a point left out stands in the certificate, struck through, with its reason', async ({ page }) => {
  const text = await readFile(new URL('../../templates/juniper-hollow.json', import.meta.url), 'utf8');
  const [gone] = (await typedReadings()).slice(3);
  const line = text
    .split('\n')
    .find((each) => each.includes(`"$id": "${gone?.$id}", "test": "${gone?.test}"`));
  expect(line).toBeDefined();
  const marked = text.replace(
    line ?? '?',
    (line ?? '').replace(/"\}/, '", "left_out": "gust <at> the door"}'),
  );
  expect(marked).not.toBe(text);
  await page.goto('/');
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open', exact: true }).click(),
  ]);
  await chooser.setFiles({ name: 'gust.json', mimeType: 'application/json', buffer: Buffer.from(marked) });
  // Nothing but the opened file holds the reason.
  await expect(page.locator('main')).toContainText('gust <at> the door');
  await page.getByRole('button', { name: 'Report', exact: true }).click();
  const out = page.getByRole('region', { name: 'Report' }).locator('tr.out');
  await expect(out).toHaveCount(1);
  await expect(out).toContainText('gust <at> the door');
  await expect(out).toContainText((gone?.house_pressure ?? '?').replace('-', '−'));
});

test('every template is offered with a line, opens without a fault and asks what the job is called', async ({
  page,
}) => {
  await page.goto('/');
  const opener = page.getByRole('button', { name: 'New', exact: true });
  await opener.click();
  const offered = page.locator('.list button[aria-describedby]');
  const titles = (await offered.allInnerTexts()).filter(
    (title) => !['Empty workbook', 'Next job like this one'].includes(title),
  );
  expect(titles).toHaveLength(7);
  await page.keyboard.press('Escape');
  for (const title of titles.slice(1)) {
    await opener.click();
    await page.locator('.list').getByRole('button', { name: title, exact: true }).first().click();
    await expect(page.getByRole('textbox', { name: 'Name', exact: true })).toBeFocused();
    await expect(page.getByRole('contentinfo', { name: 'Title block' })).toContainText('none');
  }
});

test('a table wider than the paper is printed in parts that each name the room, lengths as they were typed', async ({
  page,
}) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'Report', exact: true }).click();
  const report = page.getByRole('region', { name: 'Report' });
  await report.getByLabel('Report').selectOption('sections');
  await report.getByRole('checkbox', { name: 'House', exact: true }).check();
  const parts = report.locator('table', { has: page.locator('.part') });
  await expect(parts.first()).toContainText(/Rooms, at the framing face before board, part 1 of \d/);
  expect(await parts.count()).toBeGreaterThan(1);
  await page.emulateMedia({ media: 'print' });
  // A4 less the margins of a report, in CSS pixels.
  await page.setViewportSize({ width: 680, height: 1000 });
  for (const part of await parts.all()) {
    await expect(part.locator('tbody td:first-child').first()).toHaveText('living');
    const box = await part.boundingBox();
    expect((box?.x ?? 0) + (box?.width ?? 0)).toBeLessThanOrEqual(681);
    const size = await part
      .locator('td')
      .first()
      .evaluate((node) => parseFloat(getComputedStyle(node).fontSize));
    expect(size).toBeGreaterThanOrEqual(10);
  }
  await expect(parts.first().locator('tbody tr').first()).toContainText('21\' 7 1/2"');
});

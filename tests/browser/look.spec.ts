import type { Page } from '@playwright/test';
import { axe, expect, test } from './support.ts';

/** Pages that are no worksheets. */
const APART = ['What if', 'Inputs of the job', 'Functions and units'];

/** Pixels by which anything sticks out of the page to the right. */
const overflow = (page: Page) => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);

for (const colorScheme of ['light', 'dark'] as const) {
  test(`axe finds nothing on any sheet at the desk, ${colorScheme}`, async ({ page }) => {
    await page.emulateMedia({ colorScheme });
    test.slow();
    await page.goto('/');
    const names = page.getByRole('navigation').locator('button > span');
    await expect(names.first()).toBeVisible();
    for (const sheet of (await names.allInnerTexts()).filter((name) => !APART.includes(name))) {
      await page
        .getByRole('navigation')
        .getByRole('button', { name: new RegExp(`^${sheet}`) })
        .first()
        .click();
      await expect(page.getByRole('heading', { level: 1, name: sheet, exact: true })).toBeVisible();
      await page.locator('main [data-row-name], main [data-at]').filter({ visible: true }).first().click();
      expect(await axe(page), sheet).toEqual([]);
      expect(await overflow(page), sheet).toBeLessThanOrEqual(0);
    }
  });

  test(`axe finds nothing and nothing sticks out on a phone, ${colorScheme}`, async ({ page }) => {
    await page.setViewportSize({ width: 360, height: 740 });
    await page.emulateMedia({ colorScheme });
    test.slow();
    await page.goto('/');
    const chooser = page.getByRole('combobox', { name: 'Worksheet' });
    await expect(chooser).toBeVisible();
    // The choices carry their verdicts once all worksheets are worked out.
    await expect(page.getByRole('contentinfo')).toContainText('none');
    for (const sheet of (await chooser.locator('option').allInnerTexts()).filter(
      (name) => !APART.includes(name),
    )) {
      await chooser.selectOption({ label: sheet });
      // Behind the title stands what the worksheet has to say.
      const [title = sheet] = sheet.split(' · ');
      await expect(page.getByRole('heading', { level: 1, name: title, exact: true })).toBeVisible();
      await page
        .locator('main .line:is(button), main [data-row-name]')
        .filter({ visible: true })
        .first()
        .click();
      expect(await overflow(page), sheet).toBeLessThanOrEqual(0);
      expect(await axe(page), sheet).toEqual([]);
    }
  });
}

test('the colours can be chosen and are remembered', async ({ page }) => {
  await page.emulateMedia({ colorScheme: 'light' });
  await page.goto('/');
  const paper = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  const light = await paper();
  const button = page.getByRole('button', { name: /^Colours/ });
  await button.click();
  await button.click();
  await expect(button).toHaveAccessibleName('Colours: dark');
  const dark = await paper();
  expect(dark).not.toBe(light);
  await page.reload();
  await expect(button).toHaveAccessibleName('Colours: dark');
  expect(await paper()).toBe(dark);
});

test('a reading on a phone: first touch opens its card, the next one types, minus by key, next goes on', async ({
  page,
}) => {
  await page.setViewportSize({ width: 360, height: 740 });
  await page.goto('/');
  const lines = page.getByRole('group', { name: 'Readings', exact: true });
  await lines.getByRole('button', { name: /56\.2/ }).click();
  const card = page.getByRole('group', { name: 'Row 2' });
  const house = card.getByRole('textbox', { name: /^House/ });
  await expect(card).toBeFocused();
  await house.click();
  await house.fill('57');
  await page.getByRole('button', { name: 'minus', exact: true }).click();
  await expect(house).toHaveValue('-57');
  await card.getByRole('button', { name: 'Next row' }).click();
  await expect(page.getByRole('group', { name: 'Row 3' })).toBeVisible();
  await expect(lines.getByRole('button', { name: /57\.0/ })).toBeVisible();
  await expect(page.getByRole('contentinfo')).toContainText('1.0');

  // Everything a finger is meant for is large enough.
  const small = await page.evaluate(() =>
    [
      ...document.querySelectorAll<HTMLElement>(
        'main button.button, main .line:is(button), main select, main input, header button',
      ),
    ]
      .map((element) => ({ text: element.textContent, height: element.getBoundingClientRect().height }))
      .filter(({ height }) => height > 0 && height < 47.5 && height !== 0),
  );
  expect(small.filter(({ text }) => text !== '' && !text.startsWith('#'))).toEqual([]);
});

test('a cell is found by its label and shown', async ({ page }) => {
  await page.goto('/');
  await expect(page.getByRole('heading', { level: 1, name: 'Air test' })).toBeVisible();
  await page.keyboard.press('Control+k');
  const field = page.getByRole('combobox', { name: 'Name or label' });
  await expect(field).toBeFocused();
  await field.fill('side_wing_ridge');
  const found = page.getByRole('listbox', { name: 'Cells and columns' }).getByRole('option');
  await expect(found.first()).toContainText('side_wing_ridge_height');
  expect(await axe(page)).toEqual([]);
  await field.press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'House' })).toBeVisible();
  await expect(page.locator('#cell-side_wing_ridge_height')).toHaveClass(/selected/);
  await expect(page.locator('#cell-side_wing_ridge_height').getByRole('button').first()).toBeFocused();
});

test('opening a row does not let it jump away from under the finger', async ({ page }) => {
  await page.goto('/');
  await page.locator('#cell-flow_coefficient').getByRole('button').first().click();
  const next = page.locator('#cell-ach50').getByRole('button').first();
  await next.scrollIntoViewIfNeeded();
  const before = await next.boundingBox();
  await next.click();
  await expect(page.locator('#cell-ach50')).toHaveClass(/selected/);
  const after = await next.boundingBox();
  expect(Math.abs((after?.y ?? 0) - (before?.y ?? 99))).toBeLessThanOrEqual(1);
});

test('icons are lines of 1.5 px in the ink of their words, unread, and never alone without a name', async ({
  page,
}) => {
  await page.goto('/');
  await expect(page.getByRole('button', { name: 'Find a cell' }).locator('svg.icon')).toBeVisible();
  await page.getByRole('button', { name: 'Rows of Readings' }).first().click();
  const found = await page.locator('svg.icon').evaluateAll((icons) =>
    icons.map((icon) => {
      const { strokeWidth, stroke, color, width } = getComputedStyle(icon);
      const wrong = strokeWidth !== '1.5px' || stroke !== color || !(parseFloat(width) <= 20);
      const button = icon.closest('button');
      const name = button ? button.textContent.trim() + (button.ariaLabel ?? '') : 'beside a word';
      return { hidden: icon.ariaHidden, wrong, named: name !== '' };
    }),
  );
  expect(found.length).toBeGreaterThan(20);
  expect(new Set(found.map((each) => JSON.stringify(each)))).toEqual(
    new Set([JSON.stringify({ hidden: 'true', wrong: false, named: true })]),
  );
  await expect(page.getByRole('button', { name: 'Undo', exact: true })).toHaveText('Undo');
});

test('a menu is walked by the arrows, and opens upwards where it would be cut off', async ({ page }) => {
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto('/');
  const opener = page.getByRole('button', { name: 'Rows of Readings' }).first();
  await opener.scrollIntoViewIfNeeded();
  await page.locator('main').evaluate((main) => {
    const menu = main.querySelector('.heading .menu');
    main.scrollBy(0, (menu?.getBoundingClientRect().bottom ?? 0) - main.getBoundingClientRect().bottom + 40);
  });
  await opener.focus();
  await page.keyboard.press('ArrowDown');
  const first = page.getByRole('button', { name: /^Insert a row above/ });
  await expect(first).toBeVisible();
  const [menu, main] = await Promise.all([
    first.locator('..').boundingBox(),
    page.locator('main').boundingBox(),
  ]);
  expect((menu?.y ?? 0) + (menu?.height ?? 0)).toBeLessThanOrEqual((main?.y ?? 0) + (main?.height ?? 0));
  expect(menu?.y ?? 0).toBeGreaterThanOrEqual(main?.y ?? 1);
  await expect(first).toBeFocused();
  await page.keyboard.press('ArrowDown');
  await expect(page.getByRole('button', { name: /^Insert a row below/ })).toBeFocused();
  await page.keyboard.press('Escape');
  await expect(opener).toBeFocused();
  await expect(first).toBeHidden();
});

test('what a menu opens gives the focus back to the menu when it closes', async ({ page }) => {
  await page.goto('/');
  for (const [menu, command] of [
    ['New', /^All workbooks/],
    ['More', /^Compare with another/],
    ['More', /^Copy worksheets/],
    ['More', /^Save this job as a template/],
    ['Help', /^Keys/],
  ] as const) {
    const opener = page.getByRole('button', { name: menu, exact: true });
    await opener.focus();
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: command }).press('Enter');
    const dialog = page.getByRole('dialog');
    await expect(dialog).toBeVisible();
    expect(await axe(page, 'dialog'), String(command)).toEqual([]);
    await page.keyboard.press('Escape');
    await expect(dialog).toHaveCount(0);
    await expect(opener).toBeFocused();
  }
});

test('the head of the page fits from a tablet to a wide desk, and every command keeps its name', async ({
  page,
}) => {
  await page.goto('/');
  for (const width of [1440, 1200, 1024, 768]) {
    await page.setViewportSize({ width, height: 800 });
    await expect
      .poll(() => page.locator('header').evaluate((head) => head.scrollWidth - head.clientWidth), {
        message: `at ${width}`,
      })
      .toBeLessThanOrEqual(0);
    const job = await page.locator('header .job').boundingBox();
    expect(job?.width, `the job's title at ${width}`).toBeGreaterThan(60);
    if (width < 800) await page.getByRole('button', { name: 'Menu', exact: true }).click();
    for (const name of ['Undo', 'Find a cell', 'Arrange', 'Open', 'Share', 'Report'])
      await expect(page.getByRole('button', { name, exact: true })).toBeVisible();
  }
});

test('a table says its own label beside the title of its section where it adds to it', async ({ page }) => {
  await page.goto('/');
  const stages = page
    .locator('.heading')
    .filter({ has: page.getByRole('heading', { name: 'Stage by stage' }) });
  await expect(stages).toContainText('Stages');
  const readings = page
    .locator('.heading')
    .filter({ has: page.getByRole('button', { name: 'Rows of Readings' }) });
  await expect(readings).not.toContainText('Readings');
});

test('on a phone a length reads as it was typed, in feet and inches', async ({ page }) => {
  await page.setViewportSize({ width: 360, height: 740 });
  await page.goto('/');
  await page.getByRole('combobox', { name: 'Worksheet' }).selectOption({ label: 'House' });
  await expect(page.locator('[data-table="rooms"] .line').nth(1)).toContainText('21\' 7 1/2"');
});

test('the page is never longer than its frame, so that nothing scrolls beside what scrolls', async ({
  page,
}) => {
  await page.goto('/');
  for (const [width, height] of [
    [800, 600],
    [1024, 768],
    [1440, 900],
  ] as const) {
    await page.setViewportSize({ width, height });
    await expect(page.locator('#figures figure').first()).toBeAttached();
    await expect
      .poll(() => page.evaluate(() => document.documentElement.scrollHeight - innerHeight), {
        message: `at ${width}`,
      })
      .toBe(0);
  }
});

test('on a tablet the worksheets take one line: a list of all, and those that ask for something', async ({
  page,
}) => {
  await page.setViewportSize({ width: 800, height: 600 });
  await page.goto('/');
  const nav = page.getByRole('navigation', { name: 'Worksheets' });
  await expect(nav.getByRole('button', { name: /^Leaks/ })).toContainText('2 open');
  await expect(nav.getByRole('button', { name: /^House/ })).toHaveCount(0);
  expect((await nav.boundingBox())?.height).toBeLessThan(60);
  await nav.getByRole('button', { name: /^Leaks/ }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Leaks' })).toBeVisible();
  await nav.getByRole('combobox', { name: 'Worksheet' }).selectOption({ label: 'House' });
  await expect(page.getByRole('heading', { level: 1, name: 'House' })).toBeVisible();
  expect(await axe(page)).toEqual([]);
});

test('a worksheet begins at its head, and is found again where it was left', async ({ page }) => {
  await page.goto('/');
  const main = page.locator('main');
  const top = () => main.evaluate((element) => element.scrollTop);
  const go = (name: string) => page.getByRole('navigation').getByRole('button', { name }).click();
  await main.evaluate((element) => {
    element.scrollTop = 500;
  });
  await go('House');
  await expect(page.getByRole('heading', { level: 1, name: 'House' })).toBeVisible();
  expect(await top()).toBe(0);
  await go('Air test');
  await expect.poll(top).toBe(500);
});

test('the commands on a row stand under one another', async ({ page }) => {
  await page.goto('/');
  await page.getByRole('grid', { name: 'Readings' }).locator('[data-at="0:0"]').click({ button: 'right' });
  const lefts = await page.getByRole('dialog', { name: 'Row 1' }).evaluate((panel) =>
    [...panel.querySelectorAll('button')].map((button) => {
      const words = [...button.childNodes].find((node) => node.nodeType === Node.TEXT_NODE);
      const range = document.createRange();
      if (words) range.selectNodeContents(words);
      return Math.round(range.getBoundingClientRect().left);
    }),
  );
  expect(lefts.length).toBeGreaterThan(8);
  expect(new Set(lefts).size, String(lefts)).toBe(1);
});

test('figures stand beside their own worksheet only, and nothing leads to where there are none', async ({
  page,
}) => {
  await page.goto('/');
  await expect(page.locator('#figures figure').first()).toBeVisible();
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^What if/ })
    .click();
  await expect(page.getByRole('heading', { level: 1, name: 'What if' })).toBeVisible();
  await expect(page.locator('#figures')).toHaveCount(0);
  await page.setViewportSize({ width: 360, height: 740 });
  const figures = page.getByRole('link', { name: 'Figures' });
  await expect(figures).toHaveCount(0);
  const sheets = page.getByRole('combobox', { name: 'Worksheet' });
  await sheets.selectOption({ label: 'House' });
  await expect(figures).toHaveCount(0);
  await sheets.selectOption({ label: 'Envelope' });
  await expect(figures).toBeVisible();
});

test('where motion is reduced, what waits before it shows itself still waits', async ({ page }) => {
  // The browser's database never answers.
  await page.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      const request = Object.create(IDBOpenDBRequest.prototype) as IDBOpenDBRequest;
      return Object.defineProperty(request, 'addEventListener', { value: () => undefined });
    };
  });
  await page.goto('/');
  const looking = page.getByText('Looking for the workbooks kept on this device…');
  await expect(looking).toBeAttached();
  expect(await page.evaluate(() => matchMedia('(prefers-reduced-motion: reduce)').matches)).toBe(true);
  await expect(looking).toHaveCSS('animation-name', /appear/);
  await expect(looking).toHaveCSS('animation-delay', '0.6s');
  await expect(looking).toBeVisible();
});

test('an address or a word longer than its line is read whole, wherever it stands', async ({ page }) => {
  const word = 'a'.repeat(50) + 'http/'.repeat(30);
  const bindings = { x: 'rows.n', y: 'rows.n' };
  const columns = [{ id: 'n', name: 'n', label: 'Number', type: 'number', unit: '' }];
  const items = [
    { kind: 'cell', id: 'source', name: 'source', label: 'Source', type: 'text', text: word, unit: '' },
    { kind: 'prose', id: 'said', text: word },
    { kind: 'table', id: 'rows', name: 'rows', label: word, note: word, columns, rows: [] },
    { kind: 'figure', id: 'drawn', figure: 'points', title: word, bindings },
  ];
  const sheets = [
    { id: 'one', title: word, note: word, sections: [{ id: 'all', title: word, note: word, items }] },
  ];
  const buffer = Buffer.from(
    JSON.stringify({ app: 'close-in', format: 1, title: 'Long', units: 'us', sheets }),
  );
  await page.goto('/');
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open', exact: true }).click(),
  ]);
  await chooser.setFiles({ name: 'long.json', mimeType: 'application/json', buffer });
  await expect(page.locator('h1')).toContainText(word);
  const cut = await page.evaluate((text) => {
    const texts = [...document.querySelectorAll<HTMLElement>('nav *, main *, aside *, #figures *')];
    const own = texts.filter((at) =>
      [...at.childNodes].some((node) => node.nodeType === 3 && node.textContent?.includes(text)),
    );
    const frame = (at: HTMLElement) =>
      at.closest('nav, main, aside, #figures')?.getBoundingClientRect().right ?? 0;
    const isCut = (at: HTMLElement) => {
      const range = document.createRange();
      range.selectNodeContents(at);
      return range.getBoundingClientRect().right > frame(at) + 1;
    };
    return { found: own.length, cut: own.filter(isCut).map((at) => at.outerHTML.slice(0, 80)) };
  }, word);
  expect(cut.found).toBeGreaterThan(7);
  expect(cut.cut).toEqual([]);
});

/** A phone on its side, which has no height to give away, and a small tablet. */
import { chooseSheet, press } from './phone-pad.ts';
import { expect, test } from './support.ts';

test.use({ viewport: { width: 740, height: 360 }, hasTouch: true, isMobile: true });

test('no command of the menu lies under the headline strip, and the last can be scrolled to', async ({
  page,
}) => {
  await page.goto('/');
  await expect(page.getByRole('contentinfo', { name: 'Title block' })).toContainText('1.029');
  await page.getByRole('button', { name: 'Menu', exact: true }).tap();
  const commands = page.locator('header .list button');
  await expect(commands.first()).toBeVisible();
  const isOnTop = (button: Element) => {
    const { left, top, width, height } = button.getBoundingClientRect();
    const found = document.elementFromPoint(left + width / 2, top + height / 2);
    return found !== null && button.contains(found);
  };
  expect(await commands.first().evaluate(isOnTop)).toBe(true);
  await commands.last().scrollIntoViewIfNeeded();
  expect(await commands.last().evaluate(isOnTop)).toBe(true);
});

test('Next shows whose row it has come to', async ({ page }) => {
  await page.goto('/');
  await expect(page.getByRole('contentinfo', { name: 'Title block' })).toContainText('1.029');
  await chooseSheet(page, /^Commissioning/);
  const grilles = page.getByRole('group', { name: 'Grille by grille', exact: true });
  await grilles.getByRole('button', { name: /^bedroom_3/ }).tap();
  await grilles.getByRole('textbox', { name: /^Measured/ }).tap();
  await press(page, '5', 'Next');
  const next = grilles.getByRole('group', { name: 'Row 11', exact: true });
  const room = await next.getByRole('combobox', { name: 'Room' }).boundingBox();
  const strip = await page.getByRole('contentinfo', { name: 'Title block' }).boundingBox();
  expect(room?.y).toBeGreaterThanOrEqual((strip?.y ?? 0) + (strip?.height ?? 0));
});

test.describe('a small tablet', () => {
  test.use({ viewport: { width: 820, height: 1180 } });

  test('what a hold point waits for is read whole, under its row, and makes no row a column', async ({
    page,
  }) => {
    await page.goto('/');
    await expect(page.getByRole('contentinfo', { name: 'Title block' })).toContainText('1.029');
    await chooseSheet(page, /^Hold points/);
    const table = page.locator('table[data-table="hold_points"]');
    await expect(table).toContainText('waits for');
    const rows = await table.locator('tbody tr').evaluateAll((all) =>
      all.map((row) => {
        const said = row.querySelector('.aside span');
        return { height: row.getBoundingClientRect().height, end: said?.getBoundingClientRect().right ?? 0 };
      }),
    );
    expect(Math.max(...rows.map(({ height }) => height))).toBeLessThan(90);
    expect(Math.max(...rows.map(({ end }) => end))).toBeLessThanOrEqual(820);
  });
});

/** A phone on its side: the width of a tablet, and no height to give away. */
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

/** Values typed in US units where the screen shows SI: what is typed over them means the unit on the screen. */
import { openWorkbook } from '../tooling/open-workbook.mjs';
import { pad, PHONE, press } from './phone-pad.ts';
import { expect, test } from './support.ts';

const BOOK = JSON.stringify({
  app: 'close-in',
  format: 1,
  title: 'Gaps',
  units: 'si',
  sheets: [
    {
      id: 'list',
      title: 'List',
      sections: [
        {
          id: 'first',
          title: 'First',
          items: [
            {
              kind: 'cell',
              id: 'gap',
              name: 'gap',
              label: 'Gap',
              type: 'number',
              unit: 'in',
              text: '0.3125 in',
            },
            {
              kind: 'cell',
              id: 'twice',
              name: 'twice',
              label: 'Twice',
              type: 'number',
              unit: 'in',
              text: 'gap * 2',
            },
            {
              kind: 'table',
              id: 'gaps',
              name: 'gaps',
              label: 'Gaps',
              columns: [{ id: 'width', name: 'width', label: 'Width', unit: 'in' }],
              rows: [{ $id: 'a', width: '0.3125 in' }],
            },
          ],
        },
      ],
    },
  ],
});

test.describe('on a phone', () => {
  test.use(PHONE);

  test('a card shows millimetres, opens as typed with all of it taken, and a digit means millimetres', async ({
    page,
  }) => {
    await page.goto('/');
    await page.getByRole('button', { name: 'Menu' }).tap();
    await openWorkbook(page, 'gaps.json', BOOK);
    await expect(page.locator('button.line')).toHaveCount(1);
    await page.locator('button.line').tap();
    const width = page.getByRole('textbox', { name: 'Width, mm' });
    await expect(width).toHaveValue('7.938');
    await width.tap();
    await expect(width).toHaveValue('0.3125 in');
    await press(page, '4', 'Done');
    await expect(pad(page)).toHaveCount(0);
    await expect(width).toHaveValue('4 mm');
    // Looked at and left, it is as it was.
    await page.getByRole('button', { name: 'Menu' }).tap();
    await page.getByRole('button', { name: /^Undo/ }).tap();
    await page.keyboard.press('Escape');
    await expect(width).toHaveValue('7.938');
    await width.tap();
    await press(page, 'Done');
    await expect(width).toHaveValue('7.938');
    // A second touch puts the caret where it is wanted.
    await width.tap();
    await width.tap();
    await width.press('End');
    await press(page, 'delete', 'delete', 'delete', 'unit');
    await press(page, 'in', 'Done');
    await expect(width).toHaveValue('7.938');
  });

  test('a target says beside its limit what that is measured in', async ({ page }) => {
    await page.goto('/');
    const target = page
      .locator('.lines[data-table="targets"] button.line')
      .filter({ hasText: 'second target' });
    await expect(target).toContainText(/cfm\/ft2 of envelope at 50 Pa.*0\.070/s);
  });
});

test('what-if speaks the units on the screen: what stands there now, a bare number, and the answer', async ({
  page,
}) => {
  await page.goto('/');
  await openWorkbook(page, 'gaps.json', BOOK);
  await page.getByRole('button', { name: 'What if' }).click();
  await page.getByRole('button', { name: 'Add a scenario' }).click();
  await page.getByRole('combobox', { name: 'Try another value for' }).selectOption({ label: 'Gap' });
  await page.getByRole('button', { name: 'Try it' }).click();
  const tried = page.getByRole('textbox', { name: 'Gap (mm) now 7.938 mm' });
  await expect(tried).toHaveValue('0.3125 in');
  await page.keyboard.type('4');
  await page.keyboard.press('Tab');
  await expect(tried).toHaveValue('4 mm');

  const form = page.getByRole('region', { name: 'Solve' });
  await form.getByLabel('Make').selectOption({ label: 'Twice' });
  await form.getByLabel('by changing').selectOption({ label: 'Gap' });
  await form.getByLabel('equal').fill('20');
  await form.getByLabel('between').fill('1');
  await form.getByLabel('and', { exact: true }).fill('5');
  await form.getByRole('button', { name: 'Look for it' }).click();
  await expect(form).toContainText('twice goes from 2 mm to 10 mm and does not pass 20 mm');
  await form.getByLabel('and', { exact: true }).fill('50');
  await form.getByRole('button', { name: 'Look for it' }).click();
  await expect(form).toContainText(/gap = 10 mm gives twice = 20 mm/);
});

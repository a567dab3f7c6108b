import { kept, title, typeTitle } from './kept-job.ts';
import { axe, expect, test } from './support.ts';

test('a link: its length is said, it opens apart and for reading, and is kept when asked', async ({
  context,
  page,
}) => {
  await page.goto('/');
  await page.getByRole('button', { name: 'New', exact: true }).click();
  await page.getByRole('banner').getByRole('button', { name: 'Air test', exact: true }).click();
  await expect(title(page)).toHaveValue('Air test');
  await typeTitle(page, 'Sent to the office');
  await page.getByRole('button', { name: 'Share' }).click();
  const panel = page.getByRole('dialog', { name: 'Share this workbook' });
  const field = panel.getByRole('textbox', { name: 'The link' });
  await expect(field).toHaveValue(/#workbook\.1\./);
  const link = await field.inputValue();
  await expect(panel).toContainText(`${link.length.toLocaleString('en-US')} characters`);
  expect(await axe(page)).toEqual([]);

  const other = await context.newPage();
  await other.goto(link);
  await expect(title(other)).toHaveValue('Sent to the office');
  expect(new URL(other.url()).hash).toBe('');
  const notice = other.getByRole('status').filter({ hasText: 'Opened from a link' });
  await expect(notice).toBeVisible();
  await expect(kept(other)).toContainText('not kept yet');
  await typeTitle(other, 'Changed');
  await expect(title(other)).toHaveValue('Sent to the office');
  await notice.getByRole('button', { name: 'Keep on this device' }).click();
  await expect(kept(other)).toContainText(/saved \d+:\d\d/);
  await typeTitle(other, 'Mine now');
  await expect(kept(other)).toContainText(/saved \d+:\d\d/);
  await other.reload();
  await expect(title(other)).toHaveValue('Mine now');
  // The sender's own workbook is another.
  await expect(title(page)).toHaveValue('Sent to the office');

  // Cut, changed, and pasted into a page that is open: refused with the reason, and what is open stays.
  const fragment = new URL(link).hash;
  const tryFragment = async (tried: string, reason: string) => {
    await other.evaluate((hash) => {
      location.hash = hash;
    }, tried);
    await expect(other.getByRole('alert')).toContainText(reason);
    await expect(title(other)).toHaveValue('Mine now');
    expect(new URL(other.url()).hash).toBe('');
    await other.getByRole('button', { name: 'Dismiss' }).click();
  };
  await tryFragment(fragment.slice(0, 1500), 'cut off');
  // As it is from a mail: the page begins with it.
  await other.goto('about:blank');
  await other.goto(`/${fragment.slice(0, 1500)}`);
  await expect(other.getByRole('alert')).toContainText('cut off');
  await expect(title(other)).toHaveValue('Mine now');
  await other.getByRole('button', { name: 'Dismiss' }).click();
  await tryFragment(
    fragment.slice(0, 300) + (fragment[300] === 'A' ? 'B' : 'A') + fragment.slice(301),
    'changed on the way',
  );
  await other.evaluate((hash) => {
    location.hash = hash;
  }, fragment);
  await expect(title(other)).toHaveValue('Sent to the office');
});

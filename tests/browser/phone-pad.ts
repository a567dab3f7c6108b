/** A phone in a browser test: its screen, the keys under a field, and what lies in sight between them and the strip. */
import type { Locator, Page } from '@playwright/test';

export const PHONE = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true } as const;

export const pad = (page: Page) => page.getByRole('region', { name: /^Keys for/ });

/** The list of worksheets, where there is no room for one beside the sheet. */
export const sheets = (page: Page) => page.getByRole('combobox', { name: 'Worksheet' });

/** Each stands there with its verdict behind its name, where it has one. */
export async function chooseSheet(page: Page, title: RegExp): Promise<void> {
  const label = await sheets(page).locator('option').filter({ hasText: title }).first().innerText();
  await sheets(page).selectOption({ label });
}

/** A touch opens a cell, the next one what is typed in it, which is given back. */
export async function edited(row: Locator): Promise<Locator> {
  const opener = row.getByRole('button').first();
  await opener.tap();
  await opener.tap();
  return row.getByRole('textbox');
}

/** One press of the pad after another; the names of its keys. */
export async function press(page: Page, ...keys: string[]) {
  for (const name of keys) await pad(page).getByRole('button', { name, exact: true }).tap();
}

/** Whether an element lies between the headline strip and the pad, neither of them over it. */
export async function isInSight(page: Page, selector: string): Promise<boolean> {
  return page.evaluate((wanted) => {
    const box = document.querySelector(wanted)?.getBoundingClientRect();
    const strip = document.querySelector('footer')?.getBoundingClientRect();
    const keys = document.querySelector('.pad')?.getBoundingClientRect();
    if (!box || !strip) return false;
    return box.top >= strip.bottom - 1 && box.bottom <= (keys?.top ?? innerHeight) + 1 && strip.top >= -1;
  }, selector);
}

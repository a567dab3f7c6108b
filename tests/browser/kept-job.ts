/** The job's title as a register of edits, and what the title block says of keeping: the same in every browser test. */
import type { Page } from '@playwright/test';

export const kept = (page: Page) => page.getByRole('contentinfo', { name: 'Title block' }).locator('.kept');
export const title = (page: Page) => page.getByRole('textbox', { name: 'Job' });

/** One edit: the person types a title and presses Enter. */
export async function typeTitle(page: Page, text: string): Promise<void> {
  await title(page).fill(text);
  await title(page).press('Enter');
}

/** What the page's database holds; run in the page. */
export async function change(page: Page, store: string, how: string): Promise<number> {
  return page.evaluate(
    async ([name, body]) => {
      const open = indexedDB.open('close-in');
      const database = await new Promise<IDBDatabase>((resolve, reject) => {
        open.onsuccess = () => {
          resolve(open.result);
        };
        open.onerror = () => {
          reject(new Error('the database did not open'));
        };
      });
      const transaction = database.transaction(name, 'readwrite');
      const records = transaction.objectStore(name);
      let changed = 0;
      await new Promise<void>((resolve, reject) => {
        const walk = records.openCursor();
        walk.onsuccess = () => {
          const cursor = walk.result;
          if (!cursor) return;
          const record = cursor.value as Record<string, unknown>;
          if (body === 'flip') {
            const text = String(record.text);
            const at = Math.floor(text.length / 2);
            record.text =
              text.slice(0, at) + String.fromCharCode(text.charCodeAt(at) ^ 1) + text.slice(at + 1);
          } else Object.assign(record, JSON.parse(body));
          cursor.update(record);
          changed++;
          cursor.continue();
        };
        transaction.oncomplete = () => {
          resolve();
        };
        transaction.onerror = () => {
          reject(new Error('the change failed'));
        };
      });
      database.close();
      return changed;
    },
    [store, how] as const,
  );
}

/** Takes away the page's own files. */
export async function loseSecondCopies(page: Page): Promise<void> {
  await page.evaluate(async () => {
    const root = await navigator.storage.getDirectory();
    await root.removeEntry('second copies', { recursive: true });
  });
}

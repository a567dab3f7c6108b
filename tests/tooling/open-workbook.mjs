/**
 * Opens a workbook with the page's own button. The browser's picker of files, where it has one, answers to no script:
 * without it the page asks for the file in the way of browsers that have none.
 * @param {import('@playwright/test').Page} page
 * @param {string} name of the file
 * @param {string} text
 */
export async function openWorkbook(page, name, text) {
  await page.evaluate(() => Reflect.deleteProperty(globalThis, 'showOpenFilePicker'));
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open', exact: true }).click(),
  ]);
  await chooser.setFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
}

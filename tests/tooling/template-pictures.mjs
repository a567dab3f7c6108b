// node tests/tooling/template-pictures.mjs: a small picture of every template, taken from the built app, for the list
// of templates. To be run after a template's first worksheet has changed its look; npm run build comes first.
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';
import { NO_BROWSER, findChromium } from './chromium.mjs';
import { openWorkbook } from './open-workbook.mjs';
import { serveApp } from './serve.mjs';

const TOP = fileURLToPath(new URL('../..', import.meta.url));
const TEMPLATES = path.join(TOP, 'templates');
const PICTURES = path.join(TOP, 'static/templates');
const PAGE = { width: 1440, height: 1000 };
const SCALE = 0.6;
/** Width over height of a picture in the list. */
const RATIO = 118 / 74;
/** The worksheet whose first figure tells the template from the others; without one, the head of its first worksheet. */
const FIGURES = new Map([
  ['juniper-hollow.json', 'Air test'],
  ['house-envelope-ventilation.json', 'Ventilation'],
  ['finishes.json', 'Beams'],
  ['trim.json', 'Trim'],
]);

const found = await findChromium();
if (!found) throw new Error(NO_BROWSER);
Object.assign(process.env, found.env);
const { address, close } = await serveApp(0);
const browser = await chromium.launch({ executablePath: found.executablePath, chromiumSandbox: false });
try {
  fs.mkdirSync(PICTURES, { recursive: true });
  for (const file of fs.readdirSync(TEMPLATES)) {
    const context = await browser.newContext({
      viewport: PAGE,
      deviceScaleFactor: SCALE,
      serviceWorkers: 'block',
      reducedMotion: 'reduce',
      colorScheme: 'light',
    });
    const page = await context.newPage();
    await page.goto(address);
    const text = fs.readFileSync(path.join(TEMPLATES, file), 'utf8');
    await openWorkbook(page, file, text);
    const { title } = JSON.parse(text);
    await page.waitForFunction((wanted) => document.title.startsWith(wanted), title);
    const sheet = FIGURES.get(file);
    if (sheet !== undefined)
      await page.getByRole('navigation').getByRole('button', { name: sheet }).first().click();
    // The figures are drawn a moment after the worksheet.
    await page.waitForTimeout(1_500);
    const clip = await region(page, sheet !== undefined);
    const target = path.join(PICTURES, file.replace(/json$/, 'png'));
    await page.screenshot({ path: target, clip });
    console.log(`${path.relative(TOP, target)} ${fs.statSync(target).size} bytes`);
    await context.close();
  }
} finally {
  await browser.close();
  await close();
}

/**
 * Of the page, in its pixels.
 * @param {import('@playwright/test').Page} page
 * @param {boolean} figure
 */
async function region(page, figure) {
  const part = page.locator(figure ? '#figures > *' : 'main h1').first();
  await part.scrollIntoViewIfNeeded();
  const box = await part.boundingBox();
  if (!box) throw new Error('the part to be taken is not on the page');
  const [width, x] = figure ? [410, box.x - 6] : [560, box.x - 14];
  return { x, y: Math.max(0, box.y - 10), width, height: width / RATIO };
}

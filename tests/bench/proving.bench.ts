/**
 * What the page feels of a proof in its worker: the longest task of the main thread and the longest time between two
 * frames while plans are proved, and how long Stop takes to be seen. In the built app, the demo and a generated job.
 */
import fs from 'node:fs/promises';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type Page } from '@playwright/test';
import { openWorkbook } from '../tooling/open-workbook.mjs';
import { GRID, trimJob } from './cutting-jobs.ts';

/** A seed of the generated jobs whose proof takes many seconds. */
const HARD = 46;

interface Tools {
  readonly buildApp: () => Promise<void>;
  readonly serveApp: (port: number) => Promise<{ address: string; close: () => Promise<void> }>;
  readonly findChromium: () => Promise<{ executablePath: string; env: Record<string, string> } | undefined>;
}

/** By path at run time: a bench is bundled, and the scripts know their own place. */
async function tools(): Promise<Tools> {
  const load = (name: string) =>
    import(pathToFileURL(path.resolve('tests/tooling', name)).href) as Promise<Partial<Tools>>;
  return { ...(await load('serve.mjs')), ...(await load('chromium.mjs')) } as Tools;
}

interface Felt {
  readonly frames: number;
  readonly longestFrame: number;
  readonly longestTask: number;
}

/** Begins to watch; what is drawn when the sheet first opens is not part of the proof. */
async function watch(page: Page): Promise<void> {
  await page.evaluate(() => {
    const felt = { frames: 0, longestFrame: 0, longestTask: 0 };
    Object.assign(globalThis, { felt });
    new PerformanceObserver((list) => {
      for (const { duration } of list.getEntries()) felt.longestTask = Math.max(felt.longestTask, duration);
    }).observe({ type: 'longtask' });
    let last = performance.now();
    const frame = (now: number) => {
      felt.frames++;
      felt.longestFrame = Math.max(felt.longestFrame, now - last);
      last = now;
      requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  });
}

const felt = (page: Page) => page.evaluate(() => ({ ...(globalThis as unknown as { felt: Felt }).felt }));

function tell(what: string, { frames, longestFrame, longestTask }: Felt, seconds: number): void {
  const task = longestTask === 0 ? 'none over 50' : longestTask.toFixed(0);
  console.log(
    `${what}: ${seconds.toFixed(1)} s, ${String(frames)} frames, longest ${longestFrame.toFixed(0)} ms; longest task, ms: ${task}`,
  );
}

async function openTrim(page: Page): Promise<void> {
  await page.getByRole('navigation').getByRole('button', { name: /^Trim/ }).click();
  await page.getByRole('progressbar').waitFor();
}

/** The template with one moulding's worth of pieces that takes seconds to prove. */
async function hardJob(seed: number): Promise<string> {
  const document = JSON.parse(await fs.readFile('templates/trim.json', 'utf8')) as {
    sheets: { sections: { items: { id: string; rows?: Record<string, string>[]; text?: string }[] }[] }[];
  };
  const items = document.sheets.flatMap((sheet) => sheet.sections.flatMap((section) => section.items));
  const item = (id: string) => {
    const found = items.find((each) => each.id === id);
    if (!found) throw new Error(`no ${id}`);
    return found;
  };
  const { pieces, stocks, kerf } = trimJob(seed);
  item('trim_pieces').rows = pieces.map(({ length, demand }, i) => ({
    $id: `r${String(i + 1)}`,
    mark: `P${String(i + 1)}`,
    profile: 'casing',
    from: 'measured',
    measured: String(length / GRID),
    times: String(demand),
  }));
  item('trim_stock').rows = stocks.map(({ length, cost }, i) => ({
    $id: `r${String(i + 1)}`,
    profile: 'casing',
    stock_length: String(Math.ceil(length / GRID / 12)),
    usable_length: String(length / GRID),
    price: String(cost / 100),
  }));
  item('saw_kerf').text = `${String(kerf / GRID)} in`;
  item('plan_objective').text = 'price';
  return JSON.stringify(document);
}

export async function run(): Promise<void> {
  const { buildApp, serveApp, findChromium } = await tools();
  const found = await findChromium();
  if (!found) throw new Error('no browser');
  await buildApp();
  const { address, close } = await serveApp(0);
  const browser = await chromium.launch({
    executablePath: found.executablePath,
    env: { ...(process.env as Record<string, string>), ...found.env },
    chromiumSandbox: false,
    args: ['--no-sandbox', '--disable-gpu'],
  });
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 }, serviceWorkers: 'block' });
    await page.goto(address);
    await openTrim(page);
    await watch(page);
    let from = performance.now();
    // The least price of the demo: between two of its plans nothing is under way for a moment.
    await page
      .locator('#cell-trim_price .number')
      .filter({ hasText: /1[,.]?065\.70/ })
      .waitFor({ timeout: 180_000 });
    tell('the demo’s four plans, proved', await felt(page), (performance.now() - from) / 1000);

    await openWorkbook(page, 'hard.json', await hardJob(HARD));
    await page.getByRole('progressbar').waitFor();
    await page.waitForTimeout(600);
    await watch(page);
    from = performance.now();
    await page.waitForTimeout(1500);
    tell('a generated job, under way', await felt(page), (performance.now() - from) / 1000);
    const stopped = await page.evaluate(async () => {
      const stop = [...document.querySelectorAll('button')].find(
        (button) => button.textContent.trim() === 'Stop',
      );
      if (!stop) return undefined;
      const began = performance.now();
      stop.click();
      while (document.querySelector('[role=progressbar]')) await new Promise(requestAnimationFrame);
      return performance.now() - began;
    });
    console.log(
      stopped === undefined
        ? 'it was proved before it could be stopped'
        : `Stop is seen after ${stopped.toFixed(0)} ms`,
    );
  } finally {
    await browser.close();
    await close();
  }
}

/**
 * From the keystroke that ends a reading to the redrawn fit, in Chromium on the built demo. Counted from the key
 * event as the browser stamped it until the page's own work is done: the edit, every value on the sheet, the figures
 * drawn on their canvases, and the style and layout of the page.
 */
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type Page } from '@playwright/test';
import { print, quantile } from './rounds.ts';

const KEYSTROKES = 120;
const WARM_UP = 20;
const FRAME = 16;

interface Tooling {
  readonly buildApp: () => Promise<void>;
  readonly serveApp: (port: number) => Promise<{ address: string; close: () => Promise<void> }>;
  readonly findChromium: () => Promise<{ executablePath: string; env: Record<string, string> } | undefined>;
}

/** By address: bundled into the bench they would look for the project beside the cache. */
async function tooling(): Promise<Tooling> {
  const load = (name: string) => import(pathToFileURL(path.resolve('tests/tooling', name)).href);
  return { ...(await load('serve.mjs')), ...(await load('chromium.mjs')) } as Tooling;
}

interface Sample {
  readonly drawn: number;
  readonly laidOut: number;
  readonly canvasCalls: number;
}

export async function run(): Promise<void> {
  const { buildApp, serveApp, findChromium } = await tooling();
  const found = await findChromium();
  if (!found) throw new Error('no browser to measure in');
  await buildApp();
  const { address, close } = await serveApp(0);
  const browser = await chromium.launch({
    executablePath: found.executablePath,
    env: { ...process.env, ...found.env },
    chromiumSandbox: false,
    args: ['--disable-gpu', '--disable-dev-shm-usage'],
  });
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await page.goto(address);
    await page.locator('#figures canvas').first().waitFor();
    await watch(page);
    report(await type(page));
  } finally {
    await browser.close();
    await close();
  }
}

/** Notes for every Enter when the last canvas was drawn on, and when the page was laid out after it. */
async function watch(page: Page): Promise<void> {
  await page.evaluate(() => {
    const samples: Sample[] = [];
    let drawn = 0;
    let calls = 0;
    const surface = CanvasRenderingContext2D.prototype;
    for (const name of ['stroke', 'fill', 'fillText', 'clearRect'] as const) {
      const original = Reflect.get(surface, name) as (
        this: CanvasRenderingContext2D,
        ...args: unknown[]
      ) => void;
      Object.assign(surface, {
        [name](this: CanvasRenderingContext2D, ...args: unknown[]) {
          original.apply(this, args);
          drawn = performance.now();
          calls++;
        },
      });
    }
    addEventListener(
      'keydown',
      (event) => {
        if (event.key !== 'Enter') return;
        calls = 0;
        // A task of its own: it runs when the key's own work and all that it promised are done.
        const channel = new MessageChannel();
        channel.port1.onmessage = () => {
          void document.body.offsetHeight;
          const laidOut = performance.now() - event.timeStamp;
          samples.push({ drawn: drawn - event.timeStamp, laidOut, canvasCalls: calls });
        };
        channel.port2.postMessage(undefined);
      },
      true,
    );
    Object.assign(globalThis, { samples });
  });
}

async function type(page: Page): Promise<Sample[]> {
  const grid = page.getByRole('grid', { name: 'Readings' });
  const exponent = page.locator('#cell-pressure_exponent .number');
  const cell = grid.locator('[data-at="3:2"]');
  let before = await exponent.textContent();
  for (let k = 0; k < KEYSTROKES; k++) {
    await cell.click();
    await page.keyboard.type(String(60 + (k % 9)));
    await page.keyboard.press('Enter');
    // The number of a reading that is the same again may stay; two different ones never give the same fit.
    const now = await exponent.textContent();
    if (now === before) throw new Error('the fit did not follow the reading');
    before = now;
  }
  const samples = await page.evaluate(() => (globalThis as unknown as { samples: Sample[] }).samples);
  if (samples.length !== KEYSTROKES) throw new Error(`${samples.length} keystrokes seen of ${KEYSTROKES}`);
  if (samples.some(({ canvasCalls }) => canvasCalls === 0)) throw new Error('a figure was not drawn in time');
  return samples.slice(WARM_UP);
}

function report(samples: readonly Sample[]): void {
  const line = (name: string, of: (sample: Sample) => number): string[] => {
    const sorted = samples.map(of).sort((a, b) => a - b);
    const p95 = quantile(sorted, 0.95);
    if (p95 > FRAME) process.exitCode = 1;
    return [
      name,
      `p50 ${quantile(sorted, 0.5).toFixed(2)}, p95 ${p95.toFixed(2)}`,
      '',
      `p95 under ${FRAME} ms`,
      p95 <= FRAME ? 'yes' : 'NO',
    ];
  };
  print('from the keystroke that ends a reading, in Chromium', [
    line('figures redrawn', (sample) => sample.drawn),
    line('and the page laid out', (sample) => sample.laidOut),
  ]);
}

/**
 * A first visit: from the navigation to the demo in use, in Chromium on the built app, served without compression
 * from this machine. Every round has a browser context of its own, so that nothing is cached or kept, and no service
 * worker answers. Counted by the page's own clock, which begins with the navigation: when the first number of the
 * title block is painted, when the first figure is drawn, and when a reading has changed the result that is clicked
 * and typed as soon as it stands there. Click and keys are sent to the browser at once, as hands that wait for nothing
 * would: a robot that looks for the place every now and then, and waits for an answer to every key, takes longer by
 * itself than the page.
 */
import type { Browser, CDPSession } from '@playwright/test';
import { builtApp } from './built-app.ts';
import { print, quantile } from './rounds.ts';

const ROUNDS = Number(process.env.ROUNDS ?? 20);
const WARM_UP = 2;
const LIMIT = 1000;

interface Times {
  readonly number: number;
  readonly figure: number;
  readonly answered: number;
}

const SAID: Record<keyof Times, string> = {
  number: 'the first number is painted',
  figure: 'the first figure is drawn',
  answered: 'a reading is typed and answered',
};

export async function run(): Promise<void> {
  const { address, launch, close } = await builtApp();
  const browser = await launch();
  try {
    const rounds: Times[] = [];
    for (let round = 0; round < WARM_UP + ROUNDS; round++) {
      // Who types puts the figures off: they are waited for in a visit of their own.
      const { number, figure } = await visit(browser, address, ['number', 'figure']);
      const { answered } = await visit(browser, address, ['number', 'answered']);
      if (round >= WARM_UP) rounds.push({ number, figure, answered });
    }
    report(rounds);
  } finally {
    await browser.close();
    await close();
  }
}

async function visit(browser: Browser, address: string, wanted: readonly (keyof Times)[]): Promise<Times> {
  const context = await browser.newContext({
    viewport: { width: 1440, height: 900 },
    serviceWorkers: 'block',
  });
  try {
    const page = await context.newPage();
    const hands = await context.newCDPSession(page);
    await page.exposeFunction('clickAndType', (x: number, y: number) => {
      if (wanted.includes('answered')) clickAndType(hands, x, y);
    });
    await page.addInitScript(watch);
    await page.goto(address, { waitUntil: 'commit' });
    await page.waitForFunction((names) => {
      const { seen } = globalThis as unknown as Watched;
      return names.every((name) => seen[name] > 0);
    }, wanted);
    return await page.evaluate(() => (globalThis as unknown as Watched).seen);
  } finally {
    await context.close();
  }
}

interface Watched {
  seen: Times;
}

/** Runs in the page before its own scripts. A frame after what is looked for is there, it is painted. */
function watch(): void {
  const seen: Partial<Record<keyof Times, number>> = {};
  Object.assign(globalThis, { seen });
  let before = '';
  let drawn = false;
  const surface = CanvasRenderingContext2D.prototype;
  const stroke: (this: CanvasRenderingContext2D, ...args: []) => void = Reflect.get(surface, 'stroke');
  surface.stroke = function (this: CanvasRenderingContext2D, ...args: []) {
    stroke.apply(this, args);
    drawn = true;
  };
  const note = (what: keyof Times) => {
    if (seen[what] !== undefined) return;
    seen[what] = 0;
    const channel = new MessageChannel();
    channel.port1.onmessage = () => (seen[what] = performance.now());
    channel.port2.postMessage(undefined);
  };
  let isTyped = false;
  const look = () => {
    const result = document.querySelector('footer .figure b')?.textContent ?? '';
    if (/\d/.test(result)) {
      if (before === '') before = result;
      note('number');
      if (result !== before) note('answered');
    }
    if (drawn) note('figure');
    const reading = document.querySelector('table[aria-label="Readings"] [data-at="0:1"]');
    if (reading && !isTyped) {
      isTyped = true;
      const { left, top, width, height } = reading.getBoundingClientRect();
      (globalThis as unknown as Hands).clickAndType(left + width / 2, top + height / 2);
    }
    requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}

interface Hands {
  clickAndType(x: number, y: number): void;
}

/** The first reading's house pressure; nothing waits for an answer. */
function clickAndType(hands: CDPSession, x: number, y: number): void {
  const send = (...command: Parameters<CDPSession['send']>) => {
    // Refused where the page is gone by then, which the round notices by itself.
    hands.send(...command).catch(() => undefined);
  };
  for (const type of ['mousePressed', 'mouseReleased'] as const)
    send('Input.dispatchMouseEvent', { type, x, y, button: 'left', clickCount: 1 });
  for (const text of '-40.5') {
    send('Input.dispatchKeyEvent', { type: 'keyDown', key: text, text });
    send('Input.dispatchKeyEvent', { type: 'keyUp', key: text });
  }
  const enter = { key: 'Enter', code: 'Enter', windowsVirtualKeyCode: 13 };
  send('Input.dispatchKeyEvent', { type: 'keyDown', ...enter, text: '\r' });
  send('Input.dispatchKeyEvent', { type: 'keyUp', ...enter });
}

function report(rounds: readonly Times[]): void {
  print(
    `a first visit, ${rounds.length} rounds, ms from the navigation`,
    (Object.keys(SAID) as (keyof Times)[]).map((what) => {
      const sorted = rounds.map((times) => times[what]).sort((a, b) => a - b);
      const middle = quantile(sorted, 0.5);
      if (middle > LIMIT) process.exitCode = 1;
      return [
        SAID[what],
        `p50 ${middle.toFixed(0)}, p95 ${quantile(sorted, 0.95).toFixed(0)}`,
        '',
        `under ${LIMIT} ms`,
        middle <= LIMIT ? 'yes' : 'NO',
      ];
    }),
  );
}

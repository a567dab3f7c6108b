import { test as base, expect, type BrowserContext, type Page } from '@playwright/test';
import axeCore from 'axe-core';

export { expect };

/** What every test of the app must end without. The list grows while pages of the context are open. */
export async function watch(context: BrowserContext, origin: string): Promise<string[]> {
  const problems: string[] = [];
  context.on('console', (message) => {
    if (message.type() === 'error') problems.push(`console: ${message.text()}`);
  });
  context.on('weberror', (error) => problems.push(`page: ${error.error().stack ?? error.error().message}`));
  context.on('request', (request) => {
    const url = new URL(request.url());
    const isOwn = url.origin === origin || url.protocol === 'data:' || url.protocol === 'blob:';
    if (!isOwn) problems.push(`request leaves the origin: ${request.url()}`);
  });
  context.on('page', (page) => {
    page.on('websocket', (socket) => problems.push(`socket: ${socket.url()}`));
    page.on('crash', () => problems.push('the page crashed'));
  });
  await context.exposeBinding('reportViolation', (_source, text: string) => {
    problems.push(`content security policy: ${text}`);
  });
  await context.addInitScript(() => {
    addEventListener('securitypolicyviolation', (event) => {
      const report = (globalThis as unknown as { reportViolation: (text: string) => void }).reportViolation;
      report(`${event.violatedDirective} blocked ${event.blockedURI} ${event.sample}`);
    });
  });
  return problems;
}

function withoutFilePickers(): void {
  for (const picker of ['showOpenFilePicker', 'showSaveFilePicker'])
    Reflect.deleteProperty(globalThis, picker);
}

interface Fixtures {
  /** Whether the browser can write files in place. Without it files are chosen and downloaded, as in most browsers. */
  writesFiles: boolean;
  /** Faults seen so far in the test's own context; a test that provokes one on purpose takes it out. */
  problems: string[];
}

/** Playwright's `test`, which also fails on anything `watch` sees. */
export const test = base.extend<Fixtures>({
  writesFiles: [false, { option: true }],
  problems: [
    async ({ context, baseURL, writesFiles }, use) => {
      if (baseURL === undefined) throw new Error('no address to test');
      if (!writesFiles) await context.addInitScript(withoutFilePickers);
      const problems = await watch(context, new URL(baseURL).origin);
      await use(problems);
      expect(problems, 'console, page, policy and network').toEqual([]);
    },
    { auto: true },
  ],
});

export interface AccessibilityFault {
  readonly rule: string;
  readonly help: string;
  readonly at: readonly string[];
}

/** Every fault axe finds on the page as it stands; `within` narrows it to a part of the page. */
export async function axe(page: Page, within?: string): Promise<AccessibilityFault[]> {
  // Evaluated from outside, so the page's policy stays in force.
  await page.evaluate(axeCore.source);
  return page.evaluate(async (selector) => {
    const { axe: loaded } = globalThis as unknown as { axe: typeof axeCore };
    const { violations } = await loaded.run(selector ?? document, { resultTypes: ['violations'] });
    return violations.map(({ id, help, nodes }) => ({
      rule: id,
      help,
      at: nodes.map((node) => `${node.target.join(' ')}: ${node.failureSummary ?? ''}`),
    }));
  }, within);
}

/** Goes to a worksheet by the list of them. */
export async function openSheet(page: Page, title: RegExp): Promise<void> {
  await page.getByRole('navigation').getByRole('button', { name: title }).click();
}

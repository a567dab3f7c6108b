/** A browser killed while a robot types: started on a profile of its own, with nothing between it and SIGKILL. */
import { spawn, type ChildProcess } from 'node:child_process';
import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { chromium, type Browser, type Page } from '@playwright/test';
import { title } from './kept-job.ts';

const FLAGS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--disable-dev-shm-usage',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
  '--remote-debugging-port=0',
];

interface Running {
  readonly process: ChildProcess;
  readonly browser: Browser;
  readonly page: Page;
}

async function start(executable: string, profile: string): Promise<Running> {
  const portFile = path.join(profile, 'DevToolsActivePort');
  await fs.rm(portFile, { force: true });
  // A group of its own, so that its children go with it.
  const process = spawn(executable, [...FLAGS, `--user-data-dir=${profile}`, 'about:blank'], {
    detached: true,
    stdio: 'ignore',
  });
  let port = '';
  while (port === '') {
    await new Promise((resolve) => setTimeout(resolve, 20));
    port = (await fs.readFile(portFile, 'utf8').catch(() => '')).split('\n')[0] ?? '';
    if (process.exitCode !== null) throw new Error('the browser did not start');
  }
  const browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`);
  const [context] = browser.contexts();
  if (!context) throw new Error('no context');
  const page = context.pages()[0] ?? (await context.newPage());
  // As at a desk; and what is not there is said, not waited for until the test is over.
  await page.setViewportSize({ width: 1280, height: 800 });
  page.setDefaultTimeout(60_000);
  return { process, browser, page };
}

/** What the database has in it, whatever the page shows. */
async function held(page: Page): Promise<string> {
  return page.evaluate(async () => {
    const found: string[] = [];
    for (const { name, version } of await indexedDB.databases()) {
      if (name === undefined) continue;
      const database = await new Promise<IDBDatabase>((resolve, reject) => {
        const request = indexedDB.open(name);
        request.onsuccess = () => {
          resolve(request.result);
        };
        request.onerror = () => {
          reject(new Error(request.error?.message));
        };
      });
      const heads = await new Promise<{ title: string }[]>((resolve, reject) => {
        const request = database.transaction('heads').objectStore('heads').getAll();
        request.onsuccess = () => {
          resolve(request.result as { title: string }[]);
        };
        request.onerror = () => {
          reject(new Error(request.error?.message));
        };
      });
      database.close();
      found.push(`${name} ${version ?? ''}: ${heads.map((head) => head.title).join(', ') || 'nothing'}`);
    }
    return found.join('; ') || 'no database';
  });
}

async function kill({ process: child, browser }: Running): Promise<void> {
  const ended = new Promise((resolve) => child.once('exit', resolve));
  if (child.pid !== undefined) process.kill(-child.pid, 'SIGKILL');
  await ended;
  await browser.close().catch(() => undefined);
}

export interface Killings {
  readonly kills: number;
  /** Edits that the page called saved before a kill. */
  readonly saved: number;
  readonly typed: number;
  /** What was not there again, in words. */
  readonly lost: readonly string[];
}

/** Opens, looks whether the last edit called saved is there, lets the robot type, kills; as often as asked. */
export async function killWhileTyping(
  address: string,
  executable: string,
  kills: number,
  chance: () => number,
): Promise<Killings> {
  const profile = await fs.mkdtemp(path.join(os.tmpdir(), 'kills-'));
  const lost: string[] = [];
  let saved = 0;
  let savedEdits = 0;
  let typed = 0;
  try {
    for (let killed = 0; killed <= kills; killed++) {
      const running = await start(executable, profile);
      const { page } = running;
      try {
        await page.exposeBinding('calledSaved', (_source, number: number) => {
          savedEdits += Math.max(0, number - saved);
          saved = Math.max(saved, number);
        });
        await page.exposeBinding('typing', (_source, number: number) => {
          typed = Math.max(typed, number);
        });
        await page.goto(address);
        await title(page).waitFor();
        if (killed === 0) {
          await page.getByRole('button', { name: 'New', exact: true }).click();
          await page.getByRole('banner').getByRole('button', { name: 'Air test', exact: true }).click();
          await page.waitForFunction(
            () => document.querySelector<HTMLInputElement>('input[aria-label="Job"]')?.value === 'Air test',
          );
        } else {
          // Killed before anything was saved, the page shows its demo.
          const shown = await title(page).inputValue();
          const found = Number(shown) || 0;
          if (!(found >= saved && found <= typed + 1)) {
            const said = (await page.locator('.notice').allInnerTexts()).join(' ');
            lost.push(
              `kill ${killed}: found “${shown}”, though ${saved} was called saved and ${typed} typed; the page says “${said}”; the device holds ${await held(page)}`,
            );
          }
          const notes = await page.getByText(/is damaged|is missing/).count();
          if (notes > 0) lost.push(`kill ${killed}: ${await page.locator('.notice').first().innerText()}`);
        }
        if (killed === kills) break;
        await page.evaluate(robot, Math.max(saved, typed));
        await new Promise((resolve) => setTimeout(resolve, 50 + chance() * 500));
      } finally {
        await kill(running);
      }
    }
  } finally {
    await fs.rm(profile, { recursive: true, force: true, maxRetries: 5 });
  }
  return { kills, saved: savedEdits, typed, lost };
}

/** In the page: types titles that count on, and says when the page has called them saved. */
function robot(from: number): void {
  const page = globalThis as unknown as Record<'calledSaved' | 'typing', (number: number) => Promise<void>>;
  const field = document.querySelector<HTMLInputElement>('input[aria-label="Job"]');
  const state = document.querySelector('footer .kept');
  if (!field || !state) throw new Error('no title or no title block');
  let number = from;
  let seen = number;
  const look = () => {
    // In a task of its own, so the page has shown its state.
    if (seen === number || !state.textContent.includes('saved ')) return;
    seen = number;
    void page.calledSaved(number);
  };
  const type = () => {
    look();
    number++;
    void page.typing(number);
    field.value = String(number);
    field.dispatchEvent(new Event('change', { bubbles: true }));
    // Now and then a pause, in which everything is kept.
    setTimeout(type, number % 5 === 0 ? 60 : 4);
    setTimeout(look, 30);
  };
  type();
}

/**
 * 300 kills of the browser while a robot types into the built app, or as many as KILLS in the environment says: no edit
 * that was called saved may be lost.
 */
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { chanceFrom } from '../engine/calculation/random-formula.ts';
import { killWhileTyping } from '../browser/kills.ts';

const KILLS = Number(process.env.KILLS ?? 300);

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

export async function run(): Promise<void> {
  const { buildApp, serveApp, findChromium } = await tools();
  const browser = await findChromium();
  if (!browser) throw new Error('no browser');
  Object.assign(process.env, browser.env);
  await buildApp();
  const { address, close } = await serveApp(0);
  try {
    const { saved, typed, lost } = await killWhileTyping(
      address,
      browser.executablePath,
      KILLS,
      chanceFrom(20),
    );
    console.log(`${KILLS} kills: ${typed} edits typed, ${saved} called saved, ${lost.length} lost`);
    if (lost.length > 0) throw new Error(lost.join('\n'));
  } finally {
    await close();
  }
}

/** The app as it is built and served, and a browser to measure it in. */
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type Browser } from '@playwright/test';

export interface BuiltApp {
  readonly address: string;
  readonly executablePath: string;
  readonly launch: (...flags: string[]) => Promise<Browser>;
  readonly close: () => Promise<void>;
}

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

export async function builtApp(): Promise<BuiltApp> {
  const { buildApp, serveApp, findChromium } = await tools();
  const found = await findChromium();
  if (!found) throw new Error('no browser to measure in');
  Object.assign(process.env, found.env);
  await buildApp();
  const { address, close } = await serveApp(0);
  return {
    address,
    executablePath: found.executablePath,
    launch: (...flags) =>
      chromium.launch({
        executablePath: found.executablePath,
        chromiumSandbox: false,
        args: ['--disable-gpu', '--disable-dev-shm-usage', ...flags],
      }),
    close,
  };
}

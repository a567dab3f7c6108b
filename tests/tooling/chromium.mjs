import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const TOP = fileURLToPath(new URL('../..', import.meta.url));

/** What to say where there is none. */
export const NO_BROWSER =
  'No browser to test in: install Chromium, Chrome or Edge, or run "npx playwright install chromium", ' +
  'or set CHROMIUM_PATH to a browser of that family.';

/**
 * @typedef {{ executablePath: string, env: Record<string, string> }} Browser `env` goes to the browser's process
 */

/**
 * A browser of the Chromium family: the one CHROMIUM_PATH names, one that Playwright installed, one of the system,
 * or on Linux x64 the one packaged on npm. Call it once, before any browser starts: the last one is unpacked here.
 * @returns {Promise<Browser | undefined>}
 */
export async function findChromium() {
  const named = process.env.CHROMIUM_PATH;
  if (named) return fs.existsSync(named) ? { executablePath: named, env: {} } : undefined;

  const { chromium } = await import('@playwright/test');
  for (const executablePath of [chromium.executablePath(), ...systemPlaces()]) {
    if (isBrowser(executablePath)) return { executablePath, env: {} };
  }
  return packagedChromium();
}

/** @returns {string[]} */
function systemPlaces() {
  if (process.platform === 'darwin') {
    return ['Google Chrome', 'Chromium', 'Microsoft Edge'].map(
      (name) => `/Applications/${name}.app/Contents/MacOS/${name}`,
    );
  }
  if (process.platform === 'win32') {
    return ['PROGRAMFILES', 'PROGRAMFILES(X86)', 'LOCALAPPDATA'].flatMap((name) => {
      const folder = process.env[name];
      return folder === undefined
        ? []
        : [
            `${folder}/Google/Chrome/Application/chrome.exe`,
            `${folder}/Microsoft/Edge/Application/msedge.exe`,
          ];
    });
  }
  return [
    'chromium-headless-shell',
    'chromium',
    'chromium-browser',
    'google-chrome-stable',
    'google-chrome',
    'microsoft-edge-stable',
  ].map((name) => `/usr/bin/${name}`);
}

/**
 * On Linux the file may be a stub that only says how to install the browser, or lack a library: it is asked for its
 * version. Elsewhere that question opens a window, and a file at its place is the browser.
 * @param {string} executablePath
 * @param {Record<string, string>} [env]
 */
function isBrowser(executablePath, env = {}) {
  if (!executablePath || !fs.existsSync(executablePath)) return false;
  if (process.platform !== 'linux') return true;
  const asked = spawnSync(executablePath, ['--version'], {
    env: { ...process.env, ...env },
    timeout: 20_000,
    encoding: 'utf8',
  });
  return asked.status === 0 && /\d+\.\d+\.\d+/.test(asked.stdout);
}

/** @returns {Browser | undefined} */
function packagedChromium() {
  if (process.platform !== 'linux' || process.arch !== 'x64') return undefined;
  const { version } = createRequire(import.meta.url)(
    path.join(TOP, 'node_modules/@sparticuz/chromium/package.json'),
  );
  const folder = path.join(TOP, 'node_modules/.cache/chromium', version);
  if (!fs.existsSync(folder)) unpack(folder);

  const executablePath = path.join(folder, 'chromium');
  const fonts = fs.existsSync('/etc/fonts/fonts.conf')
    ? {}
    : { FONTCONFIG_FILE: path.join(folder, 'fonts.conf') };
  // The system's libraries if it has them, else those of the package.
  const ownLibraries = [path.join(folder, 'al2023/lib'), process.env.LD_LIBRARY_PATH]
    .filter(Boolean)
    .join(':');
  for (const env of [fonts, { ...fonts, LD_LIBRARY_PATH: ownLibraries }]) {
    if (isBrowser(executablePath, env)) return { executablePath, env };
  }
  return undefined;
}

/**
 * The package unpacks into the temporary folder and takes whatever it finds there for complete; so it is given a
 * folder of its own, which gets its name when all is there.
 * @param {string} folder
 */
function unpack(folder) {
  fs.mkdirSync(path.dirname(folder), { recursive: true });
  const staging = fs.mkdtempSync(`${folder}-`);
  try {
    const script = "import pack from '@sparticuz/chromium'; await pack.executablePath();";
    const unpacked = spawnSync(process.execPath, ['--input-type=module', '-e', script], {
      cwd: TOP,
      // The second makes it unpack its shared libraries too.
      env: { ...process.env, TMPDIR: staging, CODEBUILD_BUILD_IMAGE: 'nodejs20' },
      stdio: ['ignore', 'inherit', 'inherit'],
    });
    if (unpacked.status !== 0) throw new Error('the packaged Chromium could not be unpacked');
    fs.writeFileSync(
      path.join(staging, 'fonts.conf'),
      `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig><dir>${folder}/fonts</dir><dir>/usr/share/fonts</dir><cachedir>${folder}/fonts-cache</cachedir></fontconfig>
`,
    );
    if (!fs.existsSync(folder)) fs.renameSync(staging, folder);
  } finally {
    fs.rmSync(staging, { recursive: true, force: true });
  }
}

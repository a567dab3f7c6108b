// npm test: unit and reference tests, then the built app in a real browser; one closing line for both.
// npm run test:browser [-- ARGUMENTS OF PLAYWRIGHT]: only the second half.
// npm run pictures [-- -u]: how the pages look, held against the pictures accepted last; -u accepts those of now.
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { NO_BROWSER, findChromium } from './chromium.mjs';
import { closingLine, playwrightTally, tally, vitestTally } from './tally.mjs';

const TOP = fileURLToPath(new URL('../..', import.meta.url));
const REPORTS = path.join(TOP, 'node_modules/.cache/test-reports');
const UNIT_REPORT = path.join(REPORTS, 'unit.json');
const BROWSER_REPORT = path.join(REPORTS, 'browser.json');

/**
 * @param {string[]} args
 * @param {Record<string, string>} [env]
 * @returns {Promise<boolean>}
 */
function node(args, env = {}) {
  return new Promise((done) => {
    const child = spawn(process.execPath, args, {
      cwd: TOP,
      stdio: 'inherit',
      env: { ...process.env, ...env },
    });
    child.on('close', (code) => done(code === 0));
  });
}

async function unitTests() {
  const ok = await node([
    'node_modules/vitest/vitest.mjs',
    'run',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${UNIT_REPORT}`,
  ]);
  return tally(UNIT_REPORT, vitestTally, ok);
}

/**
 * @param {string[]} args
 * @param {Record<string, string>} [env]
 */
async function browserTests(args, env = {}) {
  if (!(await node(['node_modules/vite/bin/vite.js', 'build']))) return { passed: 0, failed: 1 };
  const browser = await findChromium();
  if (!browser) {
    console.error(NO_BROWSER);
    return { passed: 0, failed: 1 };
  }
  const ok = await node(
    [
      'node_modules/@playwright/test/cli.js',
      'test',
      '--config',
      'tests/browser/playwright.config.ts',
      ...args,
    ],
    {
      ...browser.env,
      ...env,
      CHROMIUM_PATH: browser.executablePath,
      BROWSER_REPORT,
    },
  );
  return tally(BROWSER_REPORT, playwrightTally, ok);
}

const [flag, ...args] = process.argv.slice(2);
fs.rmSync(REPORTS, { recursive: true, force: true });
const tallies =
  flag === '--browser-only'
    ? [await browserTests(args)]
    : flag === '--pictures'
      ? [await browserTests(args, { PICTURES: 'yes' })]
      : [await unitTests(), await browserTests([])];
console.log(`\n${closingLine(tallies)}`);
process.exitCode = tallies.some(({ failed }) => failed > 0) ? 1 : 0;

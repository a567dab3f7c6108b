// npm run check: format, lint, types, cycles and the lock. All of them run, two at a time, so that one run shows
// every fault; ends with exit code 1 when any of them found one.
import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { lockProblems } from './lock.mjs';

const TOP = fileURLToPath(new URL('../..', import.meta.url));

/** Longest first. @type {[name: string, cli: string, ...args: string[]][]} */
const CHECKS = [
  ['lint', 'eslint/bin/eslint.js', '.', '--max-warnings', '0'],
  ['components', 'svelte-check/bin/svelte-check', '--tsconfig', './tsconfig.json', '--fail-on-warnings'],
  ['types', 'typescript/bin/tsc', '-p', '.'],
  // Workbooks are written by the app and samples of old files are frozen: neither is reformatted.
  ['format', 'prettier/bin/prettier.cjs', '--check', '.', '!templates/**', '!tests/**/*.json'],
  ['cycles', 'dependency-cruiser/bin/dependency-cruise.mjs', '--config', 'tests/tooling/cycles.mjs', 'src'],
];

/**
 * @param {string} cli
 * @param {string[]} args
 * @returns {Promise<{ ok: boolean, output: string }>}
 */
function run(cli, args) {
  return new Promise((done) => {
    const child = spawn(process.execPath, [`node_modules/${cli}`, ...args], { cwd: TOP });
    let output = '';
    child.stdout.on('data', (part) => (output += part));
    child.stderr.on('data', (part) => (output += part));
    child.on('close', (code) => done({ ok: code === 0, output }));
  });
}

/** @type {string[]} */
const failed = [];

/**
 * @param {string} name
 * @param {boolean} ok
 * @param {string} output
 * @param {number} began
 */
function report(name, ok, output, began) {
  const seconds = ((performance.now() - began) / 1000).toFixed(1);
  console.log(`${ok ? 'ok    ' : 'FAILED'} ${name} (${seconds} s)`);
  if (ok) return;
  failed.push(name);
  console.log(output.trimEnd());
}

const lock = lockProblems(TOP);
report('lock', lock.length === 0, lock.join('\n'), performance.now());

const waiting = [...CHECKS];
async function work() {
  for (let next = waiting.shift(); next; next = waiting.shift()) {
    const [name, cli, ...args] = next;
    const began = performance.now();
    const { ok, output } = await run(cli, args);
    report(name, ok, output, began);
  }
}
await Promise.all([work(), work()]);

if (failed.length > 0) {
  console.log(`check failed: ${failed.join(', ')}`);
  process.exitCode = 1;
}

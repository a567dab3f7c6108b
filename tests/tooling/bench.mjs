// npm run bench [-- WORD ...]: every tests/bench/*.bench.ts whose name contains a WORD, one after the other, each in
// a process of its own so that none meets another's warm or spoilt optimised code. A bench exports run() and prints.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { loadModule } from './module.mjs';

const FOLDER = fileURLToPath(new URL('../bench', import.meta.url));
const [flag, ...rest] = process.argv.slice(2);

if (flag === '--one') {
  const { run } = await loadModule(path.join(FOLDER, rest[0] ?? ''));
  if (typeof run !== 'function') throw new Error(`${rest[0] ?? ''} exports no run()`);
  await run();
} else {
  const words = flag === undefined ? [] : [flag, ...rest];
  const files = (fs.existsSync(FOLDER) ? fs.readdirSync(FOLDER) : [])
    .filter((name) => name.endsWith('.bench.ts'))
    .filter((name) => words.length === 0 || words.some((word) => name.includes(word)))
    .sort();
  if (files.length === 0) {
    console.error('no bench of that name in tests/bench');
    process.exitCode = 1;
  }
  for (const name of files) {
    console.log(`\n${name}`);
    const { status } = spawnSync(
      process.execPath,
      ['--expose-gc', fileURLToPath(import.meta.url), '--one', name],
      {
        stdio: 'inherit',
      },
    );
    if (status !== 0) {
      console.error(`${name} failed`);
      process.exitCode = 1;
    }
  }
}

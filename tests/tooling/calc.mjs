// npm run -s calc -- FILE ...: src/cli/calc.ts, without a build step of its own.
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { loadModule } from './module.mjs';

// npm changes to the top folder; file names on the command line are meant from where the person stands.
const { INIT_CWD, npm_lifecycle_event } = process.env;
if (INIT_CWD !== undefined && npm_lifecycle_event === 'calc') process.chdir(INIT_CWD);

// Whoever reads the lines may have enough of them: `… --list | head`.
process.stdout.on('error', (error) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit();
});

const entry = fileURLToPath(new URL('../../src/cli/calc.ts', import.meta.url));
const { main } = await loadModule(path.resolve(entry));
if (typeof main !== 'function') throw new Error('src/cli/calc.ts exports no main');
process.exitCode = await main(process.argv.slice(2));

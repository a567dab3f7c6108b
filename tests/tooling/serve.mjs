import fs from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build, preview } from 'vite';

const CONFIG = fileURLToPath(new URL('../../vite.config.ts', import.meta.url));
const DIST = fileURLToPath(new URL('../../dist/index.html', import.meta.url));

export async function buildApp() {
  await build({ configFile: CONFIG, mode: 'production', logLevel: 'info' });
}

/**
 * Serves the built app from this process: nothing to kill, and it ends with the process.
 * @param {number} port 0 takes any free port; another one is tried first, then the next ones
 * @returns {Promise<{ address: string, close: () => Promise<void> }>}
 */
export async function serveApp(port) {
  if (!fs.existsSync(DIST)) throw new Error('dist is empty: run npm run build first');
  const server = await preview({
    configFile: CONFIG,
    mode: 'production',
    logLevel: 'warn',
    preview: { port, host: '127.0.0.1', strictPort: false, open: false },
  });
  const bound = server.httpServer.address();
  if (bound === null || typeof bound === 'string') throw new Error('the server has no port');
  return { address: `http://127.0.0.1:${bound.port}/`, close: () => server.close() };
}

// npm start [-- --no-open]: builds the app, serves it on this machine only, and opens it where there is a browser.
import { spawn } from 'node:child_process';
import { buildApp, serveApp } from './serve.mjs';

await buildApp();
const { address, close } = await serveApp(4173);
console.log(`Close-in is at ${address}`);
console.log('Press Ctrl+C to stop.');
if (!process.argv.includes('--no-open')) openBrowser(address);

for (const signal of /** @type {const} */ (['SIGINT', 'SIGTERM', 'SIGHUP'])) {
  process.once(signal, () => {
    // A browser keeps connections open; the work is done once nothing new is accepted.
    void close().finally(() => process.exit(0));
    setTimeout(() => process.exit(0), 500).unref();
  });
}

/**
 * Does nothing where there is no screen, and never fails: the address is printed anyway.
 * @param {string} url
 */
function openBrowser(url) {
  const { platform, env } = process;
  if (env.CI !== undefined && env.CI !== 'false') return;
  if (platform === 'linux' && !env.DISPLAY && !env.WAYLAND_DISPLAY) return;
  const [command, args] =
    platform === 'darwin'
      ? ['open', [url]]
      : platform === 'win32'
        ? ['cmd', ['/c', 'start', '', url]]
        : ['xdg-open', [url]];
  try {
    const child = spawn(command, args, { stdio: 'ignore', detached: true });
    child.on('error', () => undefined);
    child.unref();
  } catch {
    // No opener: the address stands above.
  }
}

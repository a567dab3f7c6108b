import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';
import { contentSecurityPolicy, firstLoad } from './tests/tooling/build-rules.mjs';

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** The app is built from src; the tests are run from the top folder. */
export default defineConfig(({ mode }) => ({
  root: mode === 'test' ? at('.') : at('src'),
  base: './',
  publicDir: at('static'),
  cacheDir: at('node_modules/.vite'),
  plugins: [svelte({ configFile: at('svelte.config.js') }), contentSecurityPolicy(), firstLoad(230_000)],
  server: { host: '127.0.0.1', fs: { allow: [at('.')] } },
  // The solver is a part of its worker that is loaded when it is first asked.
  worker: { format: 'es' },
  preview: { host: '127.0.0.1' },
  build: {
    outDir: at('dist'),
    emptyOutDir: true,
    target: 'es2022',
    // Everything is served from the page's own origin: no data: fonts, no polyfill that fetches.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: false,
  },
  test: {
    // Generous: a busy machine is no failing test.
    testTimeout: 30_000,
    hookTimeout: 30_000,
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          environment: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/**/*.dom.test.ts', 'tests/browser/**'],
        },
      },
      {
        extends: true,
        // Without it Svelte picks its server build.
        resolve: { conditions: ['browser'] },
        test: { name: 'dom', environment: 'happy-dom', include: ['tests/**/*.dom.test.ts'] },
      },
    ],
  },
}));

import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { VitePWA, type VitePWAOptions } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';
import { contentSecurityPolicy, firstLoad } from './tests/tooling/build-rules.mjs';
import { documents } from './tests/tooling/documents.mjs';
import { icons } from './tests/tooling/icons.mjs';

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** The installed app opens workbooks from the system's own lists of files, each in a window of its own. */
const WORKBOOK_FILES = {
  action: './',
  accept: { 'application/json': ['.json'] },
  launch_type: 'multiple-clients',
};

/** Works without network after the first visit; a new version waits until the person loads it. */
const OFFLINE: Partial<VitePWAOptions> = {
  registerType: 'prompt',
  injectRegister: false,
  manifest: {
    id: './',
    name: 'Close-in',
    short_name: 'Close-in',
    description: 'A workbook that takes a house from a sealed shell to finished trim.',
    start_url: './',
    scope: './',
    display: 'standalone',
    file_handlers: [WORKBOOK_FILES],
    background_color: '#faf9f5',
    theme_color: '#faf9f5',
    icons: [
      { src: 'icon.svg', type: 'image/svg+xml', sizes: 'any' },
      { src: 'icon-192.png', type: 'image/png', sizes: '192x192' },
      { src: 'icon-512.png', type: 'image/png', sizes: '512x512' },
      { src: 'icon-maskable-512.png', type: 'image/png', sizes: '512x512', purpose: 'maskable' },
    ],
  },
  workbox: {
    globPatterns: ['**/*.{js,css,html,svg,png,woff2,wasm}'],
    // The solver of cutting plans is 3.6 MB, and needed where there is no network.
    maximumFileSizeToCacheInBytes: 5_000_000,
    clientsClaim: true,
    cleanupOutdatedCaches: true,
    navigateFallback: 'index.html',
  },
  includeManifestIcons: false,
};

/** The app is built from src; the tests are run from the top folder. */
export default defineConfig(({ mode }) => ({
  root: mode === 'test' ? at('.') : at('src'),
  base: './',
  publicDir: at('static'),
  cacheDir: at('node_modules/.vite'),
  plugins: [
    icons(),
    documents(),
    svelte({ configFile: at('svelte.config.js') }),
    contentSecurityPolicy(),
    firstLoad(260_000),
    // Tests have no service worker to build.
    ...(mode === 'test' ? [] : VitePWA(OFFLINE)),
  ],
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
    rolldownOptions: {
      input: [at('src/index.html'), at('src/gallery.html')],
      // These do nothing by being imported, so what only a later page needs of them is loaded with that page.
      treeshake: {
        moduleSideEffects: [{ test: /[/]src[/](?:engine|trade|workbook)[/]/u, sideEffects: false }],
      },
      // What the first number needs comes in one file: forty small ones take longer to fetch, and are larger.
      output: {
        codeSplitting: {
          groups: [
            {
              name: 'first',
              tags: ['$initial'],
              test: /^(?!.*[/]src[/](?:main[.]ts|gallery[.]ts|\w+[.]html)$)/u,
            },
          ],
        },
      },
    },
  },
  test: {
    // Generous: a busy machine is no failing test.
    testTimeout: 30_000,
    hookTimeout: 30_000,
    // Modules are loaded once a worker, not once a file: that took twice as long as the tests themselves. So a
    // test file puts back what it changes outside itself.
    isolate: false,
    // Both cores of a small machine: left alone, one is kept for what watches.
    maxWorkers: '100%',
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

import { defineConfig } from '@playwright/test';

/** Started by `npm test` or `npm run test:browser`, which find the browser and build the app first. */
const { BASE_URL, BROWSER_REPORT, CHROMIUM_PATH, PICTURES } = process.env;
if (CHROMIUM_PATH === undefined) throw new Error('start the browser tests with: npm run test:browser');

export default defineConfig({
  testDir: '.',
  testMatch: PICTURES === undefined ? '*.spec.ts' : '*.pictures.ts',
  snapshotPathTemplate: '{testDir}/pictures/{arg}{ext}',
  outputDir: '../../test-results',
  globalSetup: './global-setup.ts',
  // Two browsers, each with a file of tests of its own: one leaves half of a small machine idle. Pictures wait until
  // cutting plans are proved, which has a limit of time.
  workers: PICTURES === undefined ? 2 : 1,
  // A test that passes only the second time is a failing test.
  retries: 0,
  fullyParallel: false,
  forbidOnly: true,
  // Generous: a busy machine is no failing test.
  timeout: 90_000,
  expect: { timeout: 15_000, toHaveScreenshot: { maxDiffPixelRatio: 0.002 } },
  reporter: [
    ['list'],
    ...(BROWSER_REPORT === undefined ? [] : [['json', { outputFile: BROWSER_REPORT }] as const]),
  ],
  use: {
    ...(BASE_URL === undefined ? {} : { baseURL: BASE_URL }),
    browserName: 'chromium',
    headless: true,
    viewport: { width: 1280, height: 800 },
    locale: 'en-US',
    timezoneId: 'UTC',
    reducedMotion: 'reduce',
    // Only offline.spec.ts is about it; elsewhere it would fetch everything for each test.
    serviceWorkers: 'block',
    trace: 'off',
    video: 'off',
    screenshot: 'only-on-failure',
    launchOptions: {
      executablePath: CHROMIUM_PATH,
      chromiumSandbox: false,
      args: [
        '--disable-gpu',
        '--disable-quic',
        '--disable-dev-shm-usage',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
        '--no-first-run',
      ],
    },
  },
});

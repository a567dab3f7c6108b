import fs from 'node:fs';

/** @typedef {{ passed: number, failed: number }} Tally */

/**
 * Reads a runner's JSON report. A runner that failed without a failing test to show for it (a file that does not
 * load, an error between tests, no report at all) counts as one failure: a fault never adds up to none.
 * @param {string} file
 * @param {(report: any) => Tally} read
 * @param {boolean} ok whether the runner itself ended well
 * @returns {Tally}
 */
export function tally(file, read, ok) {
  let found = { passed: 0, failed: 0 };
  if (fs.existsSync(file)) found = read(JSON.parse(fs.readFileSync(file, 'utf8')));
  return ok || found.failed > 0 ? found : { ...found, failed: 1 };
}

/**
 * @param {{ numPassedTests: number, numFailedTests: number,
 *   testResults?: { status: string, assertionResults: unknown[] }[] }} report
 * @returns {Tally}
 */
export function vitestTally(report) {
  const unloaded = (report.testResults ?? []).filter(
    (file) => file.status === 'failed' && file.assertionResults.length === 0,
  );
  return { passed: report.numPassedTests, failed: report.numFailedTests + unloaded.length };
}

/**
 * @param {{ stats: { expected: number, unexpected: number, flaky: number }, errors?: unknown[] }} report
 * @returns {Tally}
 */
export function playwrightTally({ stats, errors = [] }) {
  return { passed: stats.expected, failed: stats.unexpected + stats.flaky + errors.length };
}

/** @param {Tally[]} tallies */
export function closingLine(tallies) {
  const sum = (/** @type {keyof Tally} */ key) => tallies.reduce((total, one) => total + one[key], 0);
  return `${sum('passed')} passed, ${sum('failed')} failed`;
}

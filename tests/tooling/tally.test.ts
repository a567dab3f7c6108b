import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { closingLine, playwrightTally, tally, vitestTally } from './tally.mjs';

const folder = mkdtempSync(path.join(tmpdir(), 'close-in-tally-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

function report(content: unknown): string {
  const file = path.join(folder, 'report.json');
  writeFileSync(file, JSON.stringify(content));
  return file;
}

describe('the closing line', () => {
  it('adds up both runners', () => {
    const line = closingLine([
      { passed: 3, failed: 1 },
      { passed: 4, failed: 0 },
    ]);
    expect(line).toBe('7 passed, 1 failed');
  });

  it('counts a test file that does not load', () => {
    const file = report({
      numPassedTests: 5,
      numFailedTests: 1,
      testResults: [
        { status: 'failed', assertionResults: [] },
        { status: 'failed', assertionResults: [{}] },
        { status: 'passed', assertionResults: [{}] },
      ],
    });
    expect(tally(file, vitestTally, false)).toEqual({ passed: 5, failed: 2 });
  });

  it('counts flaky browser tests and errors outside tests as failed', () => {
    const file = report({ stats: { expected: 2, unexpected: 1, flaky: 1 }, errors: [{}] });
    expect(tally(file, playwrightTally, false)).toEqual({ passed: 2, failed: 3 });
  });

  it('never says that nothing failed when a runner failed', () => {
    const file = report({ numPassedTests: 5, numFailedTests: 0 });
    expect(tally(file, vitestTally, false)).toEqual({ passed: 5, failed: 1 });
    expect(tally(path.join(folder, 'missing.json'), vitestTally, false)).toEqual({ passed: 0, failed: 1 });
  });
});

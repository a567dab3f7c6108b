import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const top = fileURLToPath(new URL('../..', import.meta.url));

// One real run each way: that Node starts it, that both outputs are apart, and that the exit code arrives.
test('the command itself', { timeout: 60_000 }, () => {
  const run = (...argv: string[]) =>
    spawnSync(process.execPath, ['tests/tooling/calc.mjs', 'templates/juniper-hollow.json', ...argv], {
      cwd: top,
      encoding: 'utf8',
    });
  const good = run('--get', 'sealed_q50', '--get', 'verdict_ach50', '--json');
  expect(good.stderr).toBe('');
  expect(good.status).toBe(0);
  const found = JSON.parse(good.stdout) as Record<string, { value: number | string }>;
  expect(found.sealed_q50?.value).toBeCloseTo(445.2036, 4);
  expect(found.verdict_ach50?.value).toBe('met');
  const bad = run('--get', 'nothing_of_that_name');
  expect(bad.status).toBe(2);
  expect(bad.stdout).toBe('');
  expect(bad.stderr).toBe('nothing is named nothing_of_that_name; --list prints every name\n');
});

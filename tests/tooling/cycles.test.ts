import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';

const at = (name: string) => fileURLToPath(new URL(name, import.meta.url));
const folder = mkdtempSync(path.join(tmpdir(), 'close-in-cycles-'));
afterAll(() => {
  rmSync(folder, { recursive: true });
});

it('a file may not import itself over others, not even a type', { timeout: 30_000 }, () => {
  const files = {
    'loop-a.ts': "import { b } from './loop-b.ts'; export const a = (): unknown => b;",
    'loop-b.ts': "import { a } from './loop-a.ts'; export const b = (): unknown => a;",
    'type-a.ts': "import { b } from './type-b.ts'; export type A = typeof b;",
    'type-b.ts': "import type { A } from './type-a.ts'; export const b = (a: A): unknown => a;",
    'chain-a.ts': "import { b } from './chain-b.ts'; export const a = b;",
    'chain-b.ts': 'export const b = 1;',
  };
  mkdirSync(path.join(folder, 'src'));
  writeFileSync(path.join(folder, 'tsconfig.json'), '{}');
  for (const [file, code] of Object.entries(files)) writeFileSync(path.join(folder, 'src', file), code);

  const cli = at('../../node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
  const { status, stdout } = spawnSync(process.execPath, [cli, '--config', at('cycles.mjs'), 'src'], {
    cwd: folder,
    encoding: 'utf8',
  });
  expect(status).not.toBe(0);
  expect(stdout).toContain('no-cycle: src/loop-');
  expect(stdout).toContain('no-cycle: src/type-');
  expect(stdout).not.toContain('chain');
});

/** The command line run inside a test, and files of a test's own that are gone after it. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll } from 'vitest';
import { main } from '../../src/cli/calc.ts';

export interface Run {
  readonly code: number;
  readonly out: string;
  readonly errors: string[];
}

export async function calc(...argv: string[]): Promise<Run> {
  const out: string[] = [];
  const errors: string[] = [];
  const code = await main(
    argv,
    (line) => out.push(line),
    (line) => errors.push(line),
  );
  return { code, out: out.join('\n'), errors };
}

/** Called once in a file of tests: writes a file for them and gives its path. */
export function ownFiles(): (name: string, text: string) => string {
  let folder = '';
  beforeAll(() => {
    folder = mkdtempSync(path.join(tmpdir(), 'calc-'));
  });
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });
  return (name, text) => {
    const place = path.join(folder, name);
    writeFileSync(place, text);
    return place;
  };
}

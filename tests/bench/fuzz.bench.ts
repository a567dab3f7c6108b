/** 100,000 formulas and 10,000 files by chance: no exception, nothing planted; the slowest of each is printed. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import {
  GROUND,
  openStrangeFiles,
  sharedProperties,
  typeStrangeFormulas,
  type Outcome,
} from '../workbook/stranger.ts';

const FORMULAS = 100_000;
const FILES = 10_000;

export function run(): void {
  const before = sharedProperties();
  report(`${FORMULAS} formulas`, typeStrangeFormulas(7, FORMULAS));
  const sources = [
    GROUND,
    ...['tests/workbook/file/frozen/format-1.json', 'templates/air-test.json'].map((name) =>
      readFileSync(path.resolve(name), 'utf8'),
    ),
  ];
  report(`${FILES} files`, openStrangeFiles(7, FILES, sources));
  if (sharedProperties() !== before)
    throw new Error('something was planted in an object that all code shares');
  console.log('nothing planted');
}

function report(what: string, { states, slowest, slowestText }: Outcome): void {
  const counts = [...states].sort((a, b) => b[1] - a[1]).map(([state, count]) => `${state} ${count}`);
  console.log(`${what}: ${counts.join(', ')}; slowest ${slowest.toFixed(0)} ms`);
  if (slowest > 2_000) throw new Error(`took over 2 s: ${slowestText}`);
}

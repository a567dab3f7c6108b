/** Rule R1: whatever the way to a workbook, its states are those of an engine built fresh. */
import fc from 'fast-check';
import { describe, test } from 'vitest';
import { follow } from './follow.ts';
import { chanceFrom } from './random-formula.ts';
import { editFrom, type Edit } from './random-workbook.ts';

function batchesFrom(seed: number, count: number, manyRows: boolean): Edit[][] {
  const chance = chanceFrom(seed);
  const next = (): number => Math.floor(chance() * 2 ** 32);
  const many = (n: number): Edit[] => Array.from({ length: n }, () => editFrom(next(), manyRows));
  return [many(25), ...Array.from({ length: count }, () => many(1 + Math.floor(chance() * 3)))];
}

const LONG = Number(process.env.RANDOM_EDITS ?? 0);

describe('R1: the edited engine equals one built fresh', () => {
  test('shortest found by shrinking', { timeout: 600_000 }, () => {
    fc.assert(
      fc.property(fc.array(fc.nat(2 ** 31 - 1), { maxLength: 40 }), (seeds) => {
        follow(seeds.map((seed) => [editFrom(seed)]));
      }),
      { numRuns: LONG || 150, ...(LONG ? {} : { seed: 2026 }) },
    );
  });
  test.each([1, 2, 3, 4, 5, 6])('seed %i', (seed) => {
    follow(batchesFrom(seed, 60, false));
  });
  test.each([11, 12])('many rows, seed %i', (seed) => {
    follow(batchesFrom(seed, 25, true));
  });
});

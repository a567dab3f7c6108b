/** Rule R1: whatever the way to a workbook, its states are those of an engine built fresh. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Engine } from '../../../src/engine/index.ts';
import { chanceFrom } from './random-formula.ts';
import {
  apply,
  editFrom,
  emptyModel,
  freshEngine,
  LIBRARY,
  statesOf,
  type Edit,
  type States,
} from './random-workbook.ts';

/** Runs batches of edits; after each, the edited engine must read as a fresh one does, and must have said what changed. */
function follow(batches: readonly (readonly Edit[])[]): void {
  const model = emptyModel();
  const engine = new Engine(LIBRARY);
  let before: States = new Map();
  for (const batch of batches) {
    for (const edit of batch) apply(edit, model, engine);
    const changes = engine.recalculate();
    const edited = statesOf(engine, model);
    const fresh = statesOf(freshEngine(model), model);
    expect(differences(edited, fresh), JSON.stringify(batches)).toEqual([]);
    expect(unsaid(before, edited, changes.names), JSON.stringify(batches)).toEqual([]);
    before = edited;
  }
}

function differences(edited: States, fresh: States): unknown[] {
  const found: unknown[] = [];
  for (const [name, state] of fresh)
    if (JSON.stringify(edited.get(name)) !== JSON.stringify(state))
      found.push({ name, edited: edited.get(name), fresh: state });
  return found;
}

/** Names whose state changed though the changes do not name them. */
function unsaid(before: States, after: States, names: ReadonlySet<string>): unknown[] {
  const found: unknown[] = [];
  for (const [key, state] of after) {
    const name = key.replace(/\[.*/, '');
    if (names.has(name) || names.has(key.split('.')[0]!)) continue;
    if (before.has(key) && JSON.stringify(before.get(key)) !== JSON.stringify(state))
      found.push({ key, before: before.get(key), after: state });
  }
  return found;
}

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

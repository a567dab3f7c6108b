/** Runs batches of edits; after each, the edited engine must read as a fresh one does, and must have said what changed. */
import { expect } from 'vitest';
import { Engine } from '../../../src/engine/index.ts';
import {
  apply,
  emptyModel,
  freshEngine,
  LIBRARY,
  statesOf,
  type Edit,
  type States,
} from './random-workbook.ts';

export function follow(batches: readonly (readonly Edit[])[]): void {
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

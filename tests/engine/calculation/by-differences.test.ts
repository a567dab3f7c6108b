/** A budget names the functions whose sensitivities are not exact, and where they are called. */
import { expect, test } from 'vitest';
import { defineFunction, Engine, FunctionLibrary } from '../../../src/engine/index.ts';

const plain = { kind: 'quantity', unit: '' } as const;
const common = {
  summary: 'the square of x',
  source: 'made for this test',
  limits: 'none',
  parameters: [{ name: 'x', type: plain, summary: 'any number' }],
  result: plain,
  example: { result: 0 },
  compute: (x: number) => x * x,
};
const bent = defineFunction({ ...common, name: 'bent' });
const exact = defineFunction({ ...common, name: 'exact', partials: (x: number) => ({ result: [2 * x] }) });

function engine(): Engine {
  const made = new Engine(new FunctionLibrary([bent, exact]));
  made.defineTable({
    name: 't',
    rows: 3,
    columns: [
      { name: 'id', type: 'number', entries: ['1', '2', '3'] },
      { name: 'd', type: 'number', entries: ['1 ± 0.1', '2', '3 ± 0.1'] },
      { name: 'b', type: 'number', formula: 'bent(d)', entries: [] },
    ],
  });
  const cells = {
    x: '2 ± 0.1',
    k: '5',
    y: 'bent(x + 1)',
    helper: 'y * 2',
    both: 'helper + bent(x)',
    known: 'exact(x)',
    certain: 'x * bent(k)',
    cancelled: 'x + 0 * bent(x)',
    total: 'sum(t.b)',
    inside: 'sum(bent(t.d))',
    third: 'lookup(t.b, t.id, 3)',
    all: 'total + helper',
  };
  for (const [name, text] of Object.entries(cells)) made.defineCell({ name, type: 'number', text });
  made.recalculate();
  return made;
}

test.each([
  ['y', ['y']],
  ['helper', ['y']],
  ['both', ['both', 'y']],
  ['known', []],
  // Of what is certain the derivative does not matter, nor of what does not come through.
  ['certain', []],
  ['cancelled', []],
  ['total', ['t.b 0', 't.b 2']],
  ['inside', ['inside']],
  ['third', ['t.b 2']],
  ['all', ['t.b 0', 't.b 2', 'y']],
])('%s: %j', (name, places) => {
  const budget = engine().budget(name);
  expect(budget?.byDifferences.map((each) => each.function)).toEqual(places.map(() => 'bent'));
  expect(
    budget?.byDifferences.map((each) => (each.row === undefined ? each.name : `${each.name} ${each.row}`)),
  ).toEqual(places);
});

test('in one row of a column', () => {
  expect(engine().budget('t.b', 2)?.byDifferences).toEqual([{ function: 'bent', name: 't.b', row: 2 }]);
  expect(engine().budget('t.b', 1)?.byDifferences).toEqual([]);
});

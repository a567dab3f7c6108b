/** A sampled run leaves everything as it was, also what it rests on and does not move. */
import { expect, test } from 'vitest';
import { Engine, FunctionLibrary } from '../../../src/engine/index.ts';

test('a cell that only the careful run gets through keeps its value', () => {
  const engine = new Engine(new FunctionLibrary([]));
  const cells = {
    gap: '',
    x: '5 ± 0.1',
    fixed: 'otherwise(gap, 2) * 3',
    moved: 'otherwise(gap, x) * 3',
    y: 'fixed > 1 ? x + moved : 0',
  };
  for (const [name, text] of Object.entries(cells)) engine.defineCell({ name, type: 'number', text });
  engine.recalculate();
  const names = Object.keys(cells);
  const before = names.map((name) => engine.read(name));
  const sampling = engine.sampling(['y'], 100, 1);
  sampling?.draw(100);
  const [sample] = sampling?.finish() ?? [];
  expect(new Set(sample?.values).size).toBe(100);
  expect(names.map((name) => engine.read(name))).toEqual(before);
  expect(engine.read('fixed')).toMatchObject({ state: 'value', value: 6 });
});

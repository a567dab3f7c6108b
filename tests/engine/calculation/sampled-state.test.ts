/** A sampled run draws every source there is, and leaves everything as it was. */
import { expect, test } from 'vitest';
import { Engine, FunctionLibrary, sampling } from '../../../src/engine/index.ts';

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
  const run = sampling(engine, ['y'], 100, 1);
  run?.draw(100);
  const [sample] = run?.finish() ?? [];
  expect(new Set(sample?.values).size).toBe(100);
  expect(names.map((name) => engine.read(name))).toEqual(before);
  expect(engine.read('fixed')).toMatchObject({ state: 'value', value: 6 });
});

test('a ± inside a formula, and one typed over a formula, is drawn like any other', () => {
  const engine = new Engine(new FunctionLibrary([]));
  engine.defineTable({
    name: 't',
    rows: 3,
    columns: [
      { name: 'd', type: 'number', entries: ['1', '2', '3'] },
      { name: 'twice', type: 'number', formula: 'd * 2', entries: [undefined, '5 ± 0.3'] },
      { name: 'more', type: 'number', formula: 'd + (1 ± 0.2)', entries: [] },
    ],
  });
  const cells = {
    p: '(5 ± 0.3) * 2',
    zero: 'p - p',
    over: 'sum(t.twice)',
    rows: 'sum(t.more)',
    all: 'p + over + rows',
  };
  for (const [name, text] of Object.entries(cells)) engine.defineCell({ name, type: 'number', text });
  engine.defineCell({ name: 'flat', type: 'number', text: '(5 ± 0.3) * 1', plusMinus: 'limits' });
  engine.recalculate();
  const names = [...Object.keys(cells), 'flat'];
  const before = names.map((name) => engine.read(name));
  const run = sampling(engine, names, 20_000, 3);
  run?.draw(20_000);
  const samples = run?.finish() ?? [];
  for (const { name, values } of samples) {
    const mean = values.reduce((a, b) => a + b, 0) / values.length;
    const sd = Math.sqrt(values.reduce((a, b) => a + (b - mean) ** 2, 0) / (values.length - 1));
    const u = engine.budget(name)?.uncertainty ?? NaN;
    // Three standard errors of 20,000 draws are 1.5 %.
    expect(Math.abs(sd - u), name).toBeLessThanOrEqual(0.015 * u);
  }
  // Limits are never passed.
  expect(Math.max(...(samples.at(-1)?.values ?? [9]))).toBeLessThan(5.3);
  expect(engine.budget('rows')?.uncertainty).toBeCloseTo(0.6, 12);
  expect(names.map((name) => engine.read(name))).toEqual(before);
});

/** Sensitivities of functions that do not declare them, whatever the size of their arguments. */
import { expect, test } from 'vitest';
import { defineFunction, Engine, FunctionLibrary } from '../../../src/engine/index.ts';

const plain = { kind: 'quantity', unit: '' } as const;
const common = { source: 'made for this test', limits: 'none', result: plain, example: { result: 0 } };
const x = { name: 'x', type: plain, summary: 'x' };
const y = { name: 'y', type: plain, summary: 'y' };
const functions = [
  defineFunction({
    ...common,
    name: 'in_series',
    summary: 'permeance of two layers',
    parameters: [x, y],
    compute: (a: number, b: number) =>
      a > 0 && b > 0 ? 1 / (1 / a + 1 / b) : { fault: 'not above zero', suggestion: 'type more' },
  }),
  defineFunction({
    ...common,
    name: 'raised',
    summary: 'a line',
    parameters: [x],
    compute: (a: number) => 3 * (1 + a),
  }),
  defineFunction({ ...common, name: 'root', summary: 'a root', parameters: [x], compute: Math.sqrt }),
];

function sensitivity(formula: string, value: string): number {
  const engine = new Engine(new FunctionLibrary(functions));
  engine.defineCell({ name: 'a', type: 'number', text: value });
  engine.defineCell({ name: 'y', type: 'number', text: formula });
  engine.recalculate();
  const budget = engine.budget('y');
  expect(budget?.byDifferences.length).toBe(1);
  return budget?.lines.find((line) => line.source === 'a')?.sensitivity ?? NaN;
}

// Resistances add: 1/g = 1/a + 1/b, so dg/da = (g/a)².
test.each([
  ['5.7e-11', 2e-10],
  ['5.7e-11', 1e-8],
  ['3e-6', 1e-5],
  ['2', 5],
])('%s and %d in series', (a, b) => {
  const g = 1 / (1 / Number(a) + 1 / b);
  const exact = (g / Number(a)) ** 2;
  const found = sensitivity(`in_series(a, ${String(b)})`, `${a} ± ${String(Number(a) / 20)}`);
  expect(Math.abs(found / exact - 1)).toBeLessThan(1e-6);
});

test.each(['0 ± 0.1', '5e-17 ± 0.1', '1e-9 ± 0.1', '4e-4 ± 0.1', '7 ± 0.1'])(
  'a value of %s beside one: what is as good as zero has the slope of zero',
  (a) => {
    expect(Math.abs(sensitivity('raised(a)', a) / 3 - 1)).toBeLessThan(1e-5);
  },
);

test('at the edge of the range one side is taken', () => {
  // The root at 1e-9, below which a step of a thousandth would not go.
  const found = sensitivity('root(a)', '1e-9 ± 1e-10');
  expect(Math.abs(found / (0.5 / Math.sqrt(1e-9)) - 1)).toBeLessThan(1e-6);
});

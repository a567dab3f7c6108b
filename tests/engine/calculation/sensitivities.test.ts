/** Rule U1: a result's sensitivity to each source is the exact derivative; central differences are the witness. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Engine, FunctionLibrary, type TableDefinition } from '../../../src/engine/index.ts';

type Inputs = Readonly<Record<string, number>>;
const NOTHING = new FunctionLibrary([]);
const HALF = 0.01;

function engineWith(inputs: Inputs, formula: string, tables: readonly TableDefinition[] = []): Engine {
  const engine = new Engine(NOTHING);
  for (const table of tables) engine.defineTable(table);
  for (const [name, value] of Object.entries(inputs))
    engine.defineCell({ name, type: 'number', text: `${String(value)} ± ${String(HALF)}` });
  engine.defineCell({ name: 'y', type: 'number', text: `= ${formula}` });
  engine.recalculate();
  return engine;
}

function valueOf(engine: Engine): number {
  const state = engine.read('y');
  return state.state === 'value' && typeof state.value === 'number' ? state.value : NaN;
}

/** By source; 0 for a source that the result does not rest on. */
function sensitivities(engine: Engine, inputs: Inputs): Record<string, number> {
  const lines = engine.budget('y')?.lines ?? [];
  return Object.fromEntries(
    Object.keys(inputs).map((name) => [name, lines.find((l) => l.source === name)?.sensitivity ?? 0]),
  );
}

/** Central differences at two steps, extrapolated to none (Richardson), and how far the two steps were apart. */
function difference(at: (x: number) => number, x: number): { slope: number; doubt: number } {
  const step = 1e-3 * Math.max(1, Math.abs(x));
  const once = (h: number): number => (at(x + h) - at(x - h)) / (2 * h);
  const wide = once(step);
  const near = once(step / 2);
  return { slope: near + (near - wide) / 3, doubt: Math.abs(near - wide) };
}

/** False: nothing could be compared. */
function check(inputs: Inputs, formula: string): boolean {
  const engine = engineWith(inputs, formula);
  const result = valueOf(engine);
  const exact = sensitivities(engine, inputs);
  // Near a corner, which the engine tells, there is no one slope to compare with (rule U3).
  const state = engine.read('y');
  if (state.state !== 'value' || state.doubt !== undefined) return false;
  for (const [name, x] of Object.entries(inputs)) {
    const at = (moved: number): number => {
      engine.defineCell({ name, type: 'number', text: `${String(moved)} ± ${String(HALF)}` });
      engine.recalculate();
      return valueOf(engine);
    };
    const { slope, doubt } = difference(at, x);
    at(x);
    const tolerance = 1e-6 * Math.max(1, Math.abs(slope), Math.abs(result)) + doubt / 10;
    const told = `${formula} by ${name}: ${String(exact[name])}, ${String(slope)}`;
    expect(Math.abs(exact[name]! - slope), told).toBeLessThanOrEqual(tolerance);
  }
  return true;
}

describe('U1: sensitivities of each operation', () => {
  test.each([
    'a + b',
    'a - b',
    'a * b',
    'a / b',
    'a ^ b',
    'a ^ 2',
    'a ^ 3',
    'a ^ -1',
    'a ^ 0.5',
    'a ^ 0',
    '2 ^ b',
    '-a',
    'abs(a)',
    'abs(-a)',
    'sqrt(a)',
    'exp(a)',
    'log(a)',
    'log10(a)',
    'sin(a)',
    'cos(a)',
    'tan(a)',
    'asin(a / 3)',
    'acos(a / 3)',
    'atan(a)',
    'floor(a)',
    'ceil(a)',
    'round(a)',
    'floor(a, b)',
    'ceil(a, b)',
    'round(a, b)',
    'min(a, b)',
    'max(a, b)',
    'min(a, b, a * b)',
    'a > b ? a : b',
    'a < b ? a ^ 2 : b ^ 2',
    'a > b ? sum(t.x) * a : b',
    'otherwise(a, b)',
    'otherwise(blank, b) * a',
    'is_blank(blank) ? a * b : a',
    'not (a > b) ? a : b',
    'a > b or blank > 1 ? a * b : b',
    'nominal(a) * b',
    'lookup(t.x, t.k, 2) * a',
    'a * sum(t.x * b)',
    'a * mean(where(t.x ^ a, t.x > b))',
    'max(t.x * a) - min(t.x / b)',
  ])('%s', (formula) => {
    const tables: TableDefinition[] = [
      {
        name: 't',
        rows: 4,
        columns: [
          { name: 'k', type: 'number', entries: ['1', '2', '3', '4'] },
          { name: 'x', type: 'number', entries: ['1.5', '2.25', '', '7'] },
        ],
      },
    ];
    const inputs = { a: 1.7, b: 1.2 };
    const engine = engineWith(inputs, formula, tables);
    engine.defineCell({ name: 'blank', type: 'number', text: '' });
    engine.recalculate();
    const found = sensitivities(engine, inputs);
    expect(valueOf(engine)).not.toBeNaN();
    for (const [name, x] of Object.entries(inputs)) {
      const at = (moved: number): number => {
        engine.defineCell({ name, type: 'number', text: String(moved) });
        engine.recalculate();
        return valueOf(engine);
      };
      const nominal = formula.includes(`nominal(${name})`);
      const { slope } = difference(at, x);
      at(x);
      const wanted = nominal ? 0 : slope;
      expect(Math.abs(found[name]! - wanted), `by ${name}`).toBeLessThan(
        1e-7 * Math.max(1, Math.abs(wanted)),
      );
    }
  });
});

/** Formulas over a, b and c whose parts stay in the ranges where they are defined. */
const smooth = fc.letrec<{ any: string; positive: string }>((tie) => ({
  any: fc.oneof(
    { maxDepth: 4, depthIdentifier: 'any' },
    fc.constantFrom('a', 'b', 'c', '0.5', '2'),
    fc.tuple(tie('any'), fc.constantFrom('+', '-', '*'), tie('any')).map(([x, op, y]) => `(${x} ${op} ${y})`),
    fc.tuple(tie('any'), tie('positive')).map(([x, y]) => `(${x} / ${y})`),
    tie('any').map((x) => `(-${x})`),
    fc.tuple(fc.constantFrom('sin', 'cos', 'atan', 'abs'), tie('any')).map(([f, x]) => `${f}(${x})`),
    fc.tuple(fc.constantFrom('sqrt', 'log', 'log10'), tie('positive')).map(([f, x]) => `${f}(${x})`),
    fc.tuple(fc.constantFrom('min', 'max'), tie('any'), tie('any')).map(([f, x, y]) => `${f}(${x}, ${y})`),
    fc
      .tuple(tie('any'), tie('any'), tie('any'), tie('any'))
      .map(([x, y, p, q]) => `(${x} > ${y} ? ${p} : ${q})`),
    fc.tuple(tie('any'), fc.constantFrom('2', '3')).map(([x, n]) => `${x} ^ ${n}`),
  ),
  positive: fc.oneof(
    { maxDepth: 3, depthIdentifier: 'positive' },
    fc.constantFrom('a', 'b', '1.5'),
    tie('any').map((x) => `(1 + (${x}) ^ 2)`),
    tie('any').map((x) => `exp(sin(${x}))`),
    fc.tuple(tie('positive'), tie('any')).map(([x, y]) => `(${x} ^ sin(${y}))`),
  ),
})).any;
const inputs = fc.record({
  a: fc.integer({ min: 3, max: 30 }).map((n) => n / 10),
  b: fc.integer({ min: 3, max: 30 }).map((n) => n / 10),
  c: fc.integer({ min: -30, max: 30 }).map((n) => n / 10),
});

test('U1: sensitivities of random formulas are their derivatives', { timeout: 60_000 }, () => {
  let compared = 0;
  fc.assert(
    fc.property(smooth, inputs, (formula, values) => {
      if (check(values, formula)) compared++;
    }),
    { numRuns: 250, seed: 2026 },
  );
  expect(compared).toBeGreaterThan(125);
});

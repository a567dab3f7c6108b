/** Rule U1 as laws: how a result is written, in which units and over how many cells, does not change its ±. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Engine, FunctionLibrary } from '../../../src/engine/index.ts';
import { tradeFunctions } from '../../../src/trade/index.ts';

type Tree = string | { readonly op: '+' | '-' | '*' | '/'; readonly left: Tree; readonly right: Tree };

const leaf = fc.constantFrom('a', 'b', 'c', 'd', '3', '0.25');
const tree = fc.letrec<{ tree: Tree }>((tie) => ({
  tree: fc.oneof(
    { maxDepth: 5 },
    leaf,
    fc.record({ op: fc.constantFrom('+', '-', '*', '/'), left: tie('tree'), right: tie('tree') }),
  ),
})).tree;

function written(t: Tree): string {
  return typeof t === 'string' ? t : `(${written(t.left)} ${t.op} ${written(t.right)})`;
}

/** The same function of its leaves, written in another way, chosen by a run of numbers. */
function rewritten(t: Tree, choice: () => number): string {
  if (typeof t === 'string') {
    const r = choice() % 5;
    return r === 0 ? `(2 * ${t} - ${t})` : r === 1 ? `(${t} ^ 3 / ${t} ^ 2)` : r === 2 ? `(-(-${t}))` : t;
  }
  const x = rewritten(t.left, choice);
  const y = rewritten(t.right, choice);
  const other = choice() % 2 === 0;
  switch (t.op) {
    case '+':
      return other ? `(${y} + ${x})` : `(${x} - (-(${y})))`;
    case '-':
      return other ? `(-(${y} - ${x}))` : `(${x} + -1 * ${y})`;
    case '*':
      return distributed(t, choice) ?? (other ? `(${y} * ${x})` : `(${x} / (1 / ${y}))`);
    case '/':
      return other ? `(${x} * ${y} ^ -1)` : `(1 / (${y} / ${x}))`;
  }
}

function distributed(t: Exclude<Tree, string>, choice: () => number): string | undefined {
  const { left, right } = t;
  if (typeof right === 'string' || right.op === '*' || right.op === '/') return undefined;
  const [x, p, q] = [left, right.left, right.right].map((part) => rewritten(part, choice));
  return `(${x} * ${p} ${right.op} ${x} * ${q})`;
}

function chooser(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1103515245) + 12345) & 0x7fffffff;
    return state >>> 16;
  };
}

const INPUTS = { a: '12.0 ± 0.1', b: '8 ± 0.2', c: '-3.1 ± 0.05', d: '0.7 ± 0.01' };

function engineWith(cells: Readonly<Record<string, string>>): Engine {
  const engine = new Engine(new FunctionLibrary(tradeFunctions));
  for (const [name, text] of Object.entries({ ...INPUTS, ...cells }))
    engine.defineCell({ name, type: 'number', text });
  engine.recalculate();
  return engine;
}

/** How much each input contributes, and how large the terms were of which it is the sum. */
function contributions(engine: Engine, name: string): Record<string, number> {
  return Object.fromEntries((engine.budget(name)?.lines ?? []).map((l) => [l.source, l.contribution]));
}

function expectSame(one: Engine, other: Engine, what: string): void {
  const first = contributions(one, 'y');
  const second = contributions(other, 'y');
  const u = one.budget('y')?.uncertainty ?? 0;
  for (const source of new Set([...Object.keys(first), ...Object.keys(second)]))
    expect(
      Math.abs((first[source] ?? 0) - (second[source] ?? 0)),
      `${what} by ${source}`,
    ).toBeLessThanOrEqual(1e-9 * Math.max(u, 1e-6));
}

/** Sums that all but cancel, and quotients by what is near zero, lose digits whatever is done. */
function sound(t: Tree): number | undefined {
  if (typeof t === 'string')
    return Number(t.replace(/^[abcd]$/, (name) => INPUTS[name as keyof typeof INPUTS].split(' ')[0]!));
  const x = sound(t.left);
  const y = sound(t.right);
  if (x === undefined || y === undefined) return undefined;
  const result = t.op === '+' ? x + y : t.op === '-' ? x - y : t.op === '*' ? x * y : x / y;
  const size = t.op === '+' || t.op === '-' ? Math.max(Math.abs(x), Math.abs(y)) : Math.abs(result);
  return Math.abs(result) > 1e-3 * size && Math.abs(result) > 1e-3 && Math.abs(result) < 1e6
    ? result
    : undefined;
}

describe('U1: laws of spreads', { timeout: 60_000 }, () => {
  test('the order in which a result is written does not matter', () => {
    fc.assert(
      fc.property(tree, fc.nat(), (t, seed) => {
        fc.pre(sound(t) !== undefined);
        const other = rewritten(t, chooser(seed));
        fc.pre(other.length < 8000);
        expectSame(engineWith({ y: `= ${written(t)}` }), engineWith({ y: `= ${other}` }), other);
      }),
      { numRuns: 100, seed: 2026 },
    );
  });

  test('splitting a formula over helper cells changes nothing', () => {
    fc.assert(
      fc.property(tree, (t) => {
        const cells: Record<string, string> = {};
        const split = (part: Tree): string => {
          if (typeof part === 'string') return part;
          const name = `h${String(Object.keys(cells).length)}`;
          cells[name] = '';
          cells[name] = `= ${split(part.left)} ${part.op} ${split(part.right)}`;
          return name;
        };
        const top = split(t);
        expectSame(engineWith({ y: `= ${written(t)}` }), engineWith({ ...cells, y: `= ${top}` }), written(t));
      }),
      { numRuns: 100, seed: 2026 },
    );
  });

  test('the unit in which a value and its ± are typed does not matter', () => {
    // Conversions are exact: NIST SP 811 (2008), B.8: 1 ft = 0.3048 m, 1 in = 25.4 mm; B.9 for °F.
    const lengths = [
      ['ft', 0.3048],
      ['in', 0.0254],
      ['m', 1],
      ['mm', 0.001],
    ] as const;
    const u = (w: string, h: string): number => {
      const engine = new Engine(new FunctionLibrary([]));
      engine.defineCell({ name: 'w', type: 'number', text: w });
      engine.defineCell({ name: 'h', type: 'number', text: h });
      engine.defineCell({ name: 'y', type: 'number', text: 'w * h ^ 2 / (w + h)' });
      engine.recalculate();
      return engine.budget('y')?.uncertainty ?? NaN;
    };
    const text = (metres: number, half: number, [unit, factor]: (typeof lengths)[number]): string =>
      `${String(metres / factor)} ± ${String(half / factor)} ${unit}`;
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 20, noNaN: true }),
        fc.double({ min: 0.5, max: 20, noNaN: true }),
        fc.constantFrom(...lengths),
        fc.constantFrom(...lengths),
        (w, h, one, other) => {
          const plain = u(text(w, 0.01, lengths[2]), text(h, 0.02, lengths[2]));
          const same = u(text(w, 0.01, one), text(h, 0.02, other));
          expect(Math.abs(same - plain)).toBeLessThanOrEqual(1e-12 * plain);
        },
      ),
      { numRuns: 100, seed: 2026 },
    );
  });

  test('20 ± 1 °C is 68 ± 1.8 °F', () => {
    const of = (text: string): number => {
      const engine = engineWith({ t: text, y: 'absolute(t) * 2' });
      return engine.budget('y')?.uncertainty ?? NaN;
    };
    expect(of('20 ± 1 degC')).toBeCloseTo(2, 12);
    expect(of('68 ± 1.8 degF')).toBeCloseTo(2, 12);
  });

  test('a value that is subtracted from itself, over however many cells, is certain', () => {
    const engine = engineWith({
      p: 'a * b',
      q: 'p / b',
      r: 'q - a',
      s: 'p - b * a',
      y: 'otherwise(r, 1) * c',
    });
    expect(engine.read('r')).toMatchObject({ state: 'value', value: 0, plusMinus: 0 });
    expect(engine.read('s')).toMatchObject({ state: 'value', value: 0, plusMinus: 0 });
    expect(engine.read('y')).toMatchObject({ plusMinus: 0 });
  });

  test('a ± inside a formula is a source of its own there, and one source to all who read it', () => {
    const engine = engineWith({ p: '(5 ± 0.3) * 2', y: 'p - p', z: 'p + (5 ± 0.3) * 2' });
    expect(engine.budget('y')?.uncertainty).toBe(0);
    expect(engine.budget('z')?.uncertainty).toBeCloseTo(0.6 * Math.SQRT2, 12);
  });

  test.each([
    ['2 + (5 ± 0.3) * 2', 0.6],
    ['abs(-(5 ± 0.3) * 2)', 0.6],
    ['a * 0 + (5 ± 0.3) ^ 2', 3],
    ['3 ^ (2 ± 0.1)', 9 * Math.log(3) * 0.1],
    ['1 + 3 ^ (2 ± 0.1)', 9 * Math.log(3) * 0.1],
    ['min(10, (5 ± 0.3) + 1)', 0.3],
  ])('a ± inside %s is never lost', (text, u) => {
    expect(engineWith({ y: text }).budget('y')?.uncertainty).toBeCloseTo(u, 12);
  });

  test('uncertainty() and chance() in one formula see each their own sides, in each row too', () => {
    const engine = new Engine(new FunctionLibrary([]));
    engine.defineTable({
      name: 'k',
      rows: 3,
      columns: [
        { name: 'id', type: 'number', entries: ['1', '2', '3'] },
        { name: 'v', type: 'number', entries: ['10 ± 1', '20 ± 2', '30 ± 3'] },
        { name: 'twice', type: 'number', formula: 'v * 2', entries: [] },
      ],
    });
    engine.defineTable({
      name: 't',
      rows: 2,
      columns: [
        { name: 'id', type: 'number', entries: ['3', '1'] },
        { name: 'own', type: 'number', entries: ['5 ± 0.25', '6 ± 0.5'] },
        { name: 'far', type: 'number', formula: 'lookup(k.twice, k.id, id)', entries: [] },
        { name: 'both', type: 'number', formula: 'uncertainty(far) + uncertainty(own)', entries: [] },
        { name: 'back', type: 'number', formula: 'uncertainty(own) + 0 * uncertainty(far)', entries: [] },
      ],
    });
    engine.recalculate();
    const at = (column: string, row: number): unknown => engine.readRow('t', column, row);
    expect(at('both', 0)).toMatchObject({ value: 6.25 });
    expect(at('both', 1)).toMatchObject({ value: 2.5 });
    expect(at('back', 0)).toMatchObject({ value: 0.25 });
    expect(at('back', 1)).toMatchObject({ value: 0.5 });
  });

  test('a formula that asks for a spread has none of its own ± mixed up with that of what it asks about', () => {
    const engine = engineWith({ p: '(5 ± 0.3) * a', y: '(7 ± 0.5) + uncertainty(p) * 0' });
    expect(engine.budget('y')?.lines.map((l) => l.source)).toEqual(['a number in y']);
    expect(engine.budget('y')?.uncertainty).toBeCloseTo(0.5, 12);
  });
});

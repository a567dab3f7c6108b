/** Rule U4: what is flat turns a comparison or a corner only where it can come as far as that. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { defineFunction, Engine, FunctionLibrary } from '../../../src/engine/index.ts';
import { tradeFunctions } from '../../../src/trade/index.ts';

const INPUTS = { x: '0 ± 0.1', z: '0 ± 0.2', a: '12.0 ± 0.1', gap: '' };

function engineWith(cells: Readonly<Record<string, string>>, far?: string): Engine {
  const engine = new Engine(new FunctionLibrary(tradeFunctions));
  engine.defineTable({
    name: 't',
    rows: 20,
    columns: [
      { name: 'd', type: 'number', entries: Array.from({ length: 20 }, () => '0 ± 0.1') },
      { name: 'square', type: 'number', formula: 'd ^ 2', entries: [] },
      { name: 'id', type: 'number', entries: Array.from({ length: 20 }, (_, k) => String(k)) },
      ...(far === undefined ? [] : [{ name: 'ok', type: 'number' as const, formula: far, entries: [] }]),
    ],
  });
  for (const [name, text] of Object.entries({ ...INPUTS, ...cells }))
    engine.defineCell({ name, type: 'number', text });
  engine.recalculate();
  return engine;
}

function doubtOf(engine: Engine, name = 'ok'): string | undefined {
  const state = engine.read(name);
  if (state.state !== 'value') throw new Error(JSON.stringify(state));
  return state.doubt;
}

describe('U4: a limit within and out of reach', () => {
  // x² is u² times chi-squared with one degree of freedom: one time in twenty it is above 3.841 u² (NIST/SEMATECH
  // e-Handbook of Statistical Methods, 1.3.6.7.4). Mean and twice the standard uncertainty, 1 + 2√2, come to 3.828.
  test.each([
    ['x ^ 2 < 0.0382', 'undecided'],
    ['x ^ 2 < 0.0384', undefined],
    ['0.0382 > x * x', 'undecided'],
    ['0.0384 > x * x', undefined],
    ['5 - x ^ 2 >= 4.9618', 'undecided'],
    ['5 - x ^ 2 >= 4.9616', undefined],
    // It cannot go below nothing.
    ['x ^ 2 < -0.0001', undefined],
    ['x ^ 2 < 0', undefined],
    ['x ^ 2 >= 0', undefined],
    ['x ^ 2 <= 0', 'undecided'],
    ['x ^ 2 > 0', 'undecided'],
    ['x ^ 2 == 0', 'undecided'],
    // What only two sources do together: a product of two normal values has the product of their u.
    ['x * z < 0.0399', 'undecided'],
    ['x * z < 0.0401', undefined],
    ['x * z > -0.0399', 'undecided'],
    ['x ^ 2 - z ^ 2 < 0.005', 'undecided'],
    ['x ^ 2 - z ^ 2 > -0.1', 'undecided'],
    ['x ^ 2 - z ^ 2 < 0.2', undefined],
    // Chi-squared with 20 degrees of freedom: 34.17 is its 97.5 % quantile; 20 + 2√40 is 32.6.
    ['sum(t.d ^ 2) < 0.32', 'undecided'],
    ['sum(t.d ^ 2) < 0.33', undefined],
    ['sum(t.square) < 0.32', 'undecided'],
    ['sum(t.square) < 0.33', undefined],
    ['lookup(t.square, t.id, 3) < 0.0382', 'undecided'],
    ['lookup(t.square, t.id, 3) < 0.0384', undefined],
    ['otherwise(gap, x ^ 2) < 0.0382', 'undecided'],
    ['otherwise(gap, x ^ 2) < 0.0384', undefined],
    ['x ^ 2 < 0.0382 ? 1 : 2', 'undecided'],
    ['x ^ 2 < 0.0384 ? 1 : 2', undefined],
    ['a > 3 and x ^ 2 < 0.0382 ? 1 : 2', 'undecided'],
    ['(0 ± 0.1) ^ 2 < 0.0382', 'undecided'],
    ['(0 ± 0.1) ^ 2 < 0.0384', undefined],
    ['max(x ^ 2, 0.0382)', 'not-smooth'],
    ['max(x ^ 2, 0.0384)', undefined],
    ['min(0.001, x ^ 2)', 'not-smooth'],
    ['nominal(abs(x ^ 2 - 0.0382))', 'not-smooth'],
    ['nominal(abs(x ^ 2 - 0.0384))', undefined],
    ['ceil(x ^ 2)', 'not-smooth'],
    ['floor(x ^ 2)', undefined],
    ['floor(-x ^ 2)', 'not-smooth'],
    ['ceil(x ^ 2 + 0.5)', undefined],
    ['round(x ^ 2 + 0.47)', 'not-smooth'],
    ['round(x ^ 2 + 0.45)', undefined],
    ['floor(x ^ 2 + 3, 0.25)', undefined],
    ['ceil(3 - x ^ 2, 0.25)', undefined],
    // What cancels is certain, whatever rounding leaves of it; what another ± hides is as ever.
    ['x - x < 0', undefined],
    ['(a * 7) / 7 - a == 0', undefined],
    ['nominal(x) ^ 2 < 0.001', undefined],
    ['x ^ 2 + a > 13', undefined],
  ])('%s: %s', (text, doubt) => {
    expect(doubtOf(engineWith({ ok: text }))).toBe(doubt);
  });
});

/** Flat expressions: each ends at a flat point of x and z, whatever they are added to and multiplied by. */
type Tree = string | { readonly op: '+' | '-' | '*' | '/' | '^'; readonly left: Tree; readonly right: Tree };
const node = (op: '+' | '-' | '*' | '/' | '^', left: Tree, right: Tree): Tree => ({ op, left, right });
const flat = fc.letrec<{ tree: Tree }>((tie) => ({
  tree: fc.oneof(
    { maxDepth: 4 },
    fc.constantFrom(node('^', 'x', '2'), node('*', 'x', 'z'), node('^', 'z', '2'), node('^', 'x', '4')),
    fc.constantFrom('0.75', '-1.5', node('-', node('/', node('*', 'a', 'x'), 'a'), 'x')),
    fc
      .tuple(fc.constantFrom('+' as const, '-' as const, '*' as const), tie('tree'), tie('tree'))
      .map(([op, left, right]) => node(op, left, right)),
  ),
})).tree;

function written(t: Tree): string {
  return typeof t === 'string' ? t : `(${written(t.left)} ${t.op} ${written(t.right)})`;
}

/** The same, written in another order. */
function turned(t: Tree): string {
  if (typeof t === 'string') return t;
  const [left, right] = [turned(t.left), turned(t.right)];
  if (t.op === '^') return t.right === '2' ? `(${left} * ${left})` : `(${left} ^ ${right})`;
  if (t.op === '-') return `(-1 * (${right} - ${left}))`;
  return t.op === '+' || t.op === '*' ? `(${right} ${t.op} ${left})` : `(${left} ${t.op} ${right})`;
}

/** Every part in a cell of its own; gives the name of the last. */
function split(t: Tree, cells: Record<string, string>): string {
  if (typeof t === 'string') return t;
  const text = `= ${split(t.left, cells)} ${t.op} ${split(t.right, cells)}`;
  const name = `part${String(Object.keys(cells).length)}`;
  cells[name] = text;
  return name;
}

describe('U4: laws', { timeout: 60_000 }, () => {
  test('how a comparison is written, and over how many cells, does not matter', () => {
    let undecided = 0;
    let decided = 0;
    fc.assert(
      fc.property(
        flat,
        fc.constantFrom('<', '>=', '==', '!='),
        fc.constantFrom(0, 0.003, -0.007, 0.03, -0.03, 0.3),
        (t, op, off) => {
          const value = engineWith({ y: `= ${written(t)}` }).read('y');
          if (value.state !== 'value' || typeof value.value !== 'number') throw new Error(written(t));
          const limit = String(value.value + off);
          const cells: Record<string, string> = {};
          const last = split(t, cells);
          const found = [
            engineWith({ ok: `= ${written(t)} ${op} ${limit}` }),
            engineWith({ ok: `= ${turned(t)} ${op} ${limit}` }),
            engineWith({ ...cells, ok: `= ${last} ${op} ${limit}` }),
            engineWith({ ...cells, k: limit, margin: `= ${last} - k`, ok: `= margin ${op} 0` }),
          ].map((engine) => doubtOf(engine));
          expect(new Set(found).size, `${written(t)} ${op} ${limit}: ${found.join()}`).toBe(1);
          if (found[0] === undefined) decided++;
          else undecided++;
        },
      ),
      { numRuns: 300, seed: 2026 },
    );
    expect(Math.min(decided, undecided)).toBeGreaterThan(50);
  });

  test('a comparison in each row is judged like one in a cell', () => {
    const engine = engineWith({}, 'square + x * z < 0.07');
    const other = engineWith({}, 'square + x * z < 0.05');
    for (const row of [0, 7, 19]) {
      expect(engine.readRow('t', 'ok', row)).not.toHaveProperty('doubt');
      expect(other.readRow('t', 'ok', row)).toMatchObject({ doubt: 'undecided' });
    }
  });

  test('an error that rows share moves them together, one of each row by itself', () => {
    const doubt = (spread: { each?: string; shared?: string }, limit: string): string | undefined => {
      const engine = engineWith({});
      engine.defineTable({
        name: 's',
        rows: 2,
        columns: [{ name: 'e', type: 'number', entries: ['0', '0'], ...spread }],
      });
      engine.defineCell({ name: 'ok', type: 'number', text: `sum(s.e ^ 2) < ${limit}` });
      engine.recalculate();
      return doubtOf(engine);
    };
    // Twice the square of one error: 2 × 3.83 u²; the sum of two squares: (2 + 2√4) u².
    expect(doubt({ shared: '0.1' }, '0.0765')).toBe('undecided');
    expect(doubt({ shared: '0.1' }, '0.0767')).toBeUndefined();
    expect(doubt({ each: '0.1' }, '0.0599')).toBe('undecided');
    expect(doubt({ each: '0.1' }, '0.0601')).toBeUndefined();
  });

  test('the scatter of a fit is tried as well', () => {
    const middle = defineFunction({
      name: 'middle',
      summary: 'a result that scatters about zero',
      source: 'made for this test',
      limits: 'none',
      parameters: [{ name: 'x', type: { kind: 'quantity', unit: '' }, summary: 'anything' }],
      result: {
        kind: 'record',
        fields: { value: { type: { kind: 'quantity', unit: '' }, summary: 'zero' } },
      },
      example: { result: 0 },
      compute: (x: number) => ({ value: 0 * x }),
      scatter: () => ({ degreesOfFreedom: 9, components: [{ value: 0.1 }] }),
    });
    for (const [limit, doubt] of [
      ['0.0382', 'undecided'],
      ['0.0384', undefined],
    ] as const) {
      const engine = new Engine(new FunctionLibrary([middle]));
      const cells = {
        m: 'middle(3)',
        square: 'm.value ^ 2',
        a: `m.value ^ 2 < ${limit}`,
        b: `square < ${limit}`,
      };
      for (const [name, text] of Object.entries(cells)) engine.defineCell({ name, type: 'number', text });
      engine.recalculate();
      expect([doubtOf(engine, 'a'), doubtOf(engine, 'b')]).toEqual([doubt, doubt]);
      expect(engine.read('square')).toMatchObject({ value: 0, doubt: 'flat' });
    }
  });

  test('it follows the ±, the value and the limit', () => {
    const engine = engineWith({ y: 'x ^ 2', k: '0.0384', ok: 'y < k' });
    const after = (name: string, text: string): string | undefined => {
      engine.defineCell({ name, type: 'number', text });
      engine.recalculate();
      return doubtOf(engine);
    };
    expect(doubtOf(engine)).toBeUndefined();
    expect(after('k', '0.0382')).toBe('undecided');
    expect(after('k', '0.0384')).toBeUndefined();
    expect(after('x', '0 ± 0.11')).toBe('undecided');
    expect(after('x', '0')).toBeUndefined();
  });

  test('nothing is left of the trial: all that is read stays as it was', () => {
    const cells = {
      odd: 'otherwise(gap, 2) + 0 * a',
      other: 'otherwise(gap, 3)',
      y: 'x ^ 2 * other',
      mean: 'mean(t.square)',
      root: 'sqrt(x + 0.001)',
      joined: 'otherwise(gap, y + mean * other) + root - root',
    };
    const names = [...Object.keys(cells), 'x', 'z', 'a'];
    const asked = engineWith({ ...cells, ok: 'joined < 0.05', last: 'odd + joined' });
    expect(doubtOf(asked)).toBe('undecided');
    const plain = engineWith({ ...cells, last: 'odd + joined' });
    const all = (engine: Engine): unknown[] => [
      ...[...names, 'last'].map((name) => engine.read(name)),
      ...[0, 19].map((row) => engine.readRow('t', 'square', row)),
      ...[0, 19].map((row) => engine.readRow('t', 'd', row)),
      engine.budget('odd'),
      engine.budget('last'),
    ];
    expect(all(asked)).toEqual(all(plain));
    for (const engine of [asked, plain]) engine.defineCell({ name: 'x', type: 'number', text: '0.5 ± 0.1' });
    expect([...asked.recalculate().names].filter((name) => name !== 'ok').sort()).toEqual(
      [...plain.recalculate().names].sort(),
    );
    expect(all(asked)).toEqual(all(plain));
  });
});

/** Rule N1: dust of the arithmetic makes no step more and no step less. */
import fc from 'fast-check';
import { all, create } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { Engine, FunctionLibrary } from '../../../src/engine/index.ts';

const math = create(all!);

function value(text: string, cells: Readonly<Record<string, string>> = {}): number {
  const engine = new Engine(new FunctionLibrary([]));
  for (const [name, typed] of Object.entries(cells)) engine.defineCell({ name, type: 'number', text: typed });
  engine.defineCell({ name: 'y', type: 'number', text: `= ${text}` });
  engine.recalculate();
  const state = engine.read('y');
  if (state.state !== 'value' || typeof state.value !== 'number') throw new Error(JSON.stringify(state));
  return state.value;
}

describe('N1: whole but for dust is whole', () => {
  test.each([
    ['ceil(2.0000000000000004)', 2],
    ['ceil((0.1 + 0.2) * 10)', 3],
    ['ceil(0.1 + 0.2 - 0.3)', 0],
    ['ceil(1.1 * 1.1 / 1.21)', 1],
    ['floor(0.3 / 0.1)', 3],
    ['floor((0.1 + 0.7) * 10)', 8],
    ['ceil(33.1 ft * 12 / (1.1 ft))', 362],
    ['round(1.005 * 100)', 101],
    ['round(-1.005 * 100)', -101],
    ['ceil(-(0.1 + 0.2) * 10)', -3],
  ])('%s is %d', (text, whole) => {
    expect(value(text)).toBe(whole);
  });

  test('in steps too', () => {
    // 96.00000000000001 in of run over studs at 16 in.
    expect(value('ceil(9.6 in * 10 + (0.1 + 0.2 - 0.3) * 1 in, 16 in)')).toBeCloseTo(96 * 0.0254, 12);
    expect(value('floor(0.3 m, 0.1 m)')).toBeCloseTo(0.3, 12);
  });

  test('what is really more or less is rounded as ever', () => {
    expect(value('ceil(2.00000001)')).toBe(3);
    expect(value('floor(1.99999999)')).toBe(1);
    expect(value('round(2.49999999)')).toBe(2);
    // A great number keeps its fraction: a relative measure alone would lose it.
    expect(value('ceil(1000000000000.25)')).toBe(1000000000001);
    expect(value('floor(4000000000000.75)')).toBe(4000000000000);
  });

  test('the sum of thousands of rows', () => {
    const engine = new Engine(new FunctionLibrary([]));
    engine.defineTable({
      name: 't',
      rows: 10_000,
      columns: [{ name: 'x', type: 'number', entries: Array.from({ length: 10_000 }, () => '0.1') }],
    });
    engine.defineCell({ name: 'y', type: 'number', text: 'ceil(sum(t.x))' });
    engine.recalculate();
    expect(engine.read('y')).toMatchObject({ value: 1000 });
  });

  // mathjs (15.2) takes numbers as equal that differ by 1e-12 of the greater (relTol), in ceil and floor too.
  test('as mathjs has it, for quotients of decimals', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 99_999 }), fc.integer({ min: 1, max: 999 }), (n, d) => {
        const q = `${String(n / 100)} / ${String(d / 100)}`;
        const x = n / 100 / (d / 100);
        expect(value(`ceil(${q})`)).toBe(math.ceil(x));
        expect(value(`floor(${q})`)).toBe(math.floor(x));
        // And as whole numbers have it, without any rounding at all.
        expect(value(`ceil(${q})`)).toBe(Math.ceil(n / d));
        expect(value(`floor(${q})`)).toBe((n - (n % d)) / d);
      }),
      { numRuns: 300, seed: 2026 },
    );
  });
});

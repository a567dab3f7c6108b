/** Rules U3 and U4: what is certain to first order only is not shown as certain. */
import { describe, expect, test } from 'vitest';
import { Engine, FunctionLibrary, sampling } from '../../../src/engine/index.ts';
import { tradeFunctions } from '../../../src/trade/index.ts';
import { checkSample } from '../../../src/workbook/index.ts';

function engineWith(cells: Readonly<Record<string, string>>): Engine {
  const engine = new Engine(new FunctionLibrary(tradeFunctions));
  for (const [name, text] of Object.entries({
    x: '0 ± 0.1',
    z: '0 ± 0.2',
    a: '12.0 ± 0.1',
    b: '8 ± 0.2',
    ...cells,
  }))
    engine.defineCell({ name, type: 'number', text });
  engine.recalculate();
  return engine;
}

describe('U3: flat points', () => {
  test.each(['chance(y <= 0.001)', 'uncertainty(y)', 'chance(0.001 <= y)'])(
    '%s of a flat y is unavailable: nothing is certain, and no ± is 0',
    (text) => {
      const engine = engineWith({
        y: 'x ^ 2',
        asked: text,
        known: 'chance(y <= a)',
        n: 'x - x',
        nothing: 'chance(n <= 1)',
      });
      expect(engine.read('asked')).toMatchObject({
        state: 'blank',
        reason: expect.stringContaining('cannot be told') as string,
      });
      expect(engine.read('known')).toMatchObject({ state: 'value' });
      expect(engine.read('nothing')).toMatchObject({ state: 'value', value: 1 });
    },
  );

  test.each([
    'x ^ 2',
    '5 + x ^ 2',
    'x * z',
    'cos(x)',
    'x ^ 4 + x ^ 2',
    'x ^ 2 - z ^ 2',
    '(a - 12) ^ 2',
    'a - a + x ^ 2',
    'otherwise(x, 1) ^ 2',
    'a > 3 and b > 3 ? x ^ 2 : 1',
  ])('%s is flagged', (text) => {
    expect(engineWith({ y: text }).read('y')).toMatchObject({ plusMinus: 0, doubt: 'flat' });
  });

  test.each([
    'x - x',
    '(a * b) / b - a',
    'a - a',
    'x * 0',
    'ceil(a + 0.5)',
    'a > 3 ? 5 : x ^ 2',
    'nominal(x) ^ 2',
  ])('%s is not', (text) => {
    const state = engineWith({ y: text }).read('y');
    expect(state).toMatchObject({ state: 'value' });
    expect(state).not.toMatchObject({ doubt: 'flat' });
  });

  test('what rests on a flat result alone is as flat; another ± beside it is shown as ever', () => {
    const engine = engineWith({ y: 'x ^ 2', w: '3 * y + 1', v: 'y + a', none: 'y - y' });
    expect(engine.read('w')).toMatchObject({ plusMinus: 0, doubt: 'flat' });
    expect(engine.read('v')).not.toHaveProperty('doubt');
    expect(engine.read('v')).toMatchObject({ plusMinus: 0.1 });
    expect(engine.read('none')).not.toMatchObject({ doubt: 'flat' });
  });

  test.each([
    ['y < 0.005', true, 'undecided'],
    ['y < k', true, 'undecided'],
    ['3 * y + 1 < 1.001', true, 'undecided'],
    ['y < 0.005 ? 1 : 2', 1, 'undecided'],
    ['max(y, 0.002)', 0.002, 'not-smooth'],
    ['sum(t.square) < 0.03', true, 'undecided'],
    ['sum(t.square) < 1', true, undefined],
    ['y < 1', true, undefined],
    ['max(y, 1)', 1, undefined],
    // What cancels is certain, and beside another ± the flat part counts for nothing.
    ['y - y < 0.001', true, undefined],
    ['y + a > 13', false, undefined],
    ['k < 0.005', true, undefined],
  ])('%s is compared with what could be otherwise', (text, value, doubt) => {
    const engine = engineWith({ y: 'x ^ 2', k: '0.001', ok: text });
    engine.defineTable({
      name: 't',
      rows: 1,
      columns: [
        { name: 'd', type: 'number', entries: ['0 ± 0.1'] },
        { name: 'square', type: 'number', formula: 'd ^ 2', entries: [] },
        { name: 'small', type: 'number', formula: 'square < 0.005', entries: [] },
      ],
    });
    engine.recalculate();
    const state = engine.read('ok');
    expect(state).toMatchObject({ state: 'value', value });
    expect(state.state === 'value' ? state.doubt : '').toBe(doubt);
    expect(engine.readRow('t', 'small', 0)).toMatchObject({ value: true, doubt: 'undecided' });
  });

  test('moved off the point it is uncertain as ever, and flat again when moved back', () => {
    const engine = engineWith({ y: 'x ^ 2' });
    engine.defineCell({ name: 'x', type: 'number', text: '1 ± 0.1' });
    expect([...engine.recalculate().names]).toContain('y');
    expect(engine.read('y')).not.toHaveProperty('doubt');
    engine.defineCell({ name: 'x', type: 'number', text: '0 ± 0.1' });
    engine.recalculate();
    expect(engine.read('y')).toMatchObject({ plusMinus: 0, doubt: 'flat' });
    engine.defineCell({ name: 'x', type: 'number', text: '0' });
    engine.recalculate();
    expect(engine.read('y')).not.toHaveProperty('doubt');
    expect(engine.read('y')).not.toHaveProperty('plusMinus');
  });

  test('in the rows of a table, and in their sum', () => {
    const engine = engineWith({});
    engine.defineTable({
      name: 't',
      rows: 2,
      columns: [
        { name: 'd', type: 'number', entries: ['0 ± 0.1', '2'] },
        { name: 'square', type: 'number', formula: 'd ^ 2', entries: [] },
      ],
    });
    engine.defineCell({ name: 'y', type: 'number', text: 'sum(t.square)' });
    engine.recalculate();
    expect(engine.readRow('t', 'square', 0)).toMatchObject({ value: 0, plusMinus: 0, doubt: 'flat' });
    expect(engine.readRow('t', 'square', 1)).not.toHaveProperty('doubt');
    expect(engine.read('y')).toMatchObject({ value: 4, plusMinus: 0, doubt: 'flat' });
  });

  // x normal about 0 with u = 0.1: x² is u² times chi-squared with one degree of freedom, whose mean is 1, standard
  // deviation √2 and 97.5 % quantile 5.024 (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4).
  test('the sampled check gives the interval that the linear ± misses', () => {
    const engine = engineWith({ y: 'x ^ 2' });
    const budget = engine.budget('y')!;
    const run = sampling(engine, ['y'], 20_000, 1)!;
    run.draw(20_000);
    const check = checkSample(budget, run.finish()[0]!);
    expect(check.agrees).toBe(false);
    expect(check.mean).toBeCloseTo(0.01, 3);
    expect(check.uncertainty / (0.01 * Math.SQRT2)).toBeCloseTo(1, 1);
    expect(check.high / 0.05024).toBeCloseTo(1, 1);
  });
});

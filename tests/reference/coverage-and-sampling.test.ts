/**
 * What is made of a standard uncertainty: coverage by Student's t, chances, sampled intervals; and the ways by which a ±
 * comes to a result other than a plain formula: rows, aggregates, lookups, functions. Sources beside each check.
 */
import { describe, expect, it } from 'vitest';
import {
  defineFunction,
  Engine,
  FunctionLibrary,
  sampling,
  type Budget,
  type ColumnDefinition,
} from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { checkSample, coverageFactor, oneSided95, type SampledCheck } from '../../src/workbook/index.ts';
import { expectRelative } from '../trade/closeness.ts';

const plain = { kind: 'quantity', unit: '' } as const;
const parameters = (...names: string[]) => names.map((name) => ({ name, type: plain, summary: name }));
const made = { source: 'made for this test', limits: 'none', example: { result: 0 } };

/** A value with a standard uncertainty of so many degrees of freedom. */
const estimate = defineFunction({
  ...made,
  name: 'estimate',
  summary: 'an estimate',
  parameters: parameters('value', 'uncertainty', 'freedom'),
  result: { kind: 'record', fields: { value: { type: plain, summary: 'the value' } } },
  compute: (value: number) => ({ value }),
  scatter: (_value: number, uncertainty: number, freedom: number) => ({
    degreesOfFreedom: freedom,
    components: [{ value: uncertainty }],
  }),
});

/** 32 π⁵ h R⁴ R∞⁴ / (15 e⁴ 0.001⁴ c⁶ α⁸), with h in 1e-34 and e in 1e-4; it does not say how it answers to them. */
const stefan = defineFunction({
  ...made,
  name: 'stefan_boltzmann',
  summary: 'from other constants',
  parameters: parameters('planck', 'gas', 'rydberg', 'electron', 'alpha'),
  result: plain,
  compute: (planck: number, gas: number, rydberg: number, electron: number, alpha: number) =>
    (32 * Math.PI ** 5 * (planck * 1e-34) * gas ** 4 * rydberg ** 4) /
    (15 * (electron * 1e-4) ** 4 * 0.001 ** 4 * 299792458 ** 6 * alpha ** 8),
});

function engineOf(
  cells: Readonly<Record<string, string>>,
  columns: readonly ColumnDefinition[] = [],
  rows = 4,
): Engine {
  const engine = new Engine(new FunctionLibrary([...tradeFunctions, estimate, stefan]));
  if (columns.length > 0) engine.defineTable({ name: 't', rows, columns });
  for (const [name, text] of Object.entries(cells)) engine.defineCell({ name, type: 'number', text });
  engine.recalculate();
  return engine;
}

function budgetOf(engine: Engine, name: string): Budget {
  const budget = engine.budget(name);
  if (!budget) throw new Error(`${name}: ${JSON.stringify(engine.read(name))}`);
  return budget;
}

function sampled(engine: Engine, name: string, draws: number): SampledCheck {
  const run = sampling(engine, [name], draws, 7);
  run?.draw(draws);
  const [sample] = run?.finish() ?? [];
  if (!sample) throw new Error('no sample');
  return checkSample(budgetOf(engine, name), sample);
}

const pressures = ['15', '20', '25', '30', '40', '50', '60'];
const flows = ['410', '492', '566', '640', '771', '889', '1001'];

/** Readings of the invented power law whose numbers stand in uncertainty.test.ts. */
function readings(flow: Partial<ColumnDefinition> = {}): ColumnDefinition[] {
  return [
    { name: 'p', type: 'number', unit: 'Pa', entries: pressures },
    { name: 'q', type: 'number', unit: 'm3/h', entries: flows, ...flow },
  ];
}

describe('coverage by Student’s t', () => {
  it('JCGM 100:2008 H.1: 16 effective degrees of freedom, U99 = 2.92 × 32 nm = 93 nm', () => {
    const engine = engineOf({
      ls: 'estimate(50000623, 25, 18)',
      d: 'estimate(215, 9.7, 25.6)',
      da: 'estimate(0, 0.58e-6, 50)',
      th: '-0.1 ± 0.41',
      as: '11.5e-6 ± 1.2e-6',
      dt: 'estimate(0, 0.029, 2)',
      l: 'ls.value + d.value - ls.value * (da.value * th + as * dt.value)',
    });
    const budget = budgetOf(engine, 'l');
    expect(Math.round(budget.uncertainty)).toBe(32);
    expect(Math.floor(budget.degreesOfFreedom)).toBe(16);
    // The guide takes the whole number below (G.4.1).
    const whole = coverageFactor({ ...budget, degreesOfFreedom: 16 }, 0.995);
    expect(whole).toBeCloseTo(2.92, 2);
    expect(Math.round(whole * budget.uncertainty)).toBe(93);
    const factor = coverageFactor(budget, 0.995);
    expect(factor).toBeLessThan(whole);
    expect(factor).toBeGreaterThan(coverageFactor({ ...budget, degreesOfFreedom: 17 }, 0.995));
  });

  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2: 2.571 and 2.015 at 5 degrees of freedom.
  it('the flow of a line through seven readings has 5 degrees of freedom', () => {
    const fit = engineOf({ fit: 'power_law_fit(t.p, t.q)', q: 'fit.flow50' }, readings(), 7);
    const budget = budgetOf(fit, 'q');
    expect(coverageFactor(budget, 0.975)).toBeCloseTo(2.571, 3);
    expectRelative(oneSided95(budget), 2.015 * budget.uncertainty, 1e-4);
    const check = sampled(fit, 'q', 1000);
    expectRelative(check.linearHigh - check.linearLow, 2 * 2.571 * budget.uncertainty, 3e-4);
    const limit = budget.value + 2.015 * budget.uncertainty;
    fit.defineCell({ name: 'limit', type: 'number', text: `${limit} m3/s` });
    fit.defineCell({ name: 'chance_met', type: 'number', text: 'chance(q <= limit)' });
    fit.recalculate();
    expect(budgetOf(fit, 'chance_met').value).toBeCloseTo(0.95, 4);
  });

  // The same handbook, 1.3.6.7.1: the normal distribution is below 1.645 with 0.95.
  it('a typed ± has as many as one likes', () => {
    const engine = engineOf({ x: '5 ± 0.1', limit: '5.1645', met: 'chance(x <= limit)' });
    expect(coverageFactor(budgetOf(engine, 'x'), 0.975)).toBeCloseTo(1.96, 3);
    expect(budgetOf(engine, 'met').value).toBeCloseTo(0.95, 4);
  });
});

describe('sampled intervals', () => {
  const four = (meaning: 'standard' | 'limits', halves: readonly number[]): SampledCheck => {
    const engine = new Engine(new FunctionLibrary([]));
    const names = ['a', 'b', 'c', 'd'];
    names.forEach((name, k) =>
      engine.defineCell({ name, type: 'number', text: `0 ± ${halves[k] ?? 0}`, plusMinus: meaning }),
    );
    engine.defineCell({ name: 'y', type: 'number', text: names.join(' + ') });
    engine.recalculate();
    return sampled(engine, 'y', 400_000);
  };
  const root3 = Math.sqrt(3);

  // One end is off by 0.0085 (one standard error of 400,000 draws), half the length by 0.006.
  it('JCGM 101:2008 9.2, sum of four: ± 3.92 if normal, ± 3.88 if rectangular', () => {
    const normal = four('standard', [1, 1, 1, 1]);
    expect(Math.abs((normal.high - normal.low) / 2 - 3.92)).toBeLessThan(0.018);
    const rectangular = four('limits', [root3, root3, root3, root3]);
    expect(Math.abs((rectangular.high - rectangular.low) / 2 - 3.88)).toBeLessThan(0.018);
  });

  // Published ± 17.0 from memory, recomputed as 17.02; the linear interval is ± 19.9.
  it('JCGM 101:2008 9.2, one of four rectangles ten times as wide: ± 17.0, not ± 19.9', () => {
    const check = four('limits', [root3, root3, root3, 10 * root3]);
    expect(Math.abs((check.high - check.low) / 2 - 17.02)).toBeLessThan(0.08);
    expect(Math.abs(check.uncertainty - 10.15)).toBeLessThan(0.05);
    expect(Math.abs(check.linearHigh - 19.9)).toBeLessThan(0.05);
    expect(check.agrees).toBe(false);
  });

  // JCGM 101:2008 6.4.9: what is known from readings has a scaled t-distribution; its standard deviation is
  // √(ν / (ν − 2)) times as large, its 95 % interval that of t.
  it('the scatter of a fit is drawn from t with its 5 degrees of freedom', () => {
    const fit = engineOf({ fit: 'power_law_fit(t.p, t.q)', n: 'fit.exponent' }, readings(), 7);
    const { uncertainty, value } = budgetOf(fit, 'n');
    const check = sampled(fit, 'n', 100_000);
    expectRelative(check.uncertainty, uncertainty * Math.sqrt(5 / 3), 0.02);
    expectRelative(check.high - value, 2.571 * uncertainty, 0.02);
    expectRelative(value - check.low, 2.571 * uncertainty, 0.02);
    expect(check.agrees).toBe(true);
  });

  // Its covariance (r = −0.99) makes the flow at 35 Pa ten times as certain as coefficient and exponent apart.
  it('and its results are drawn together', () => {
    const engine = engineOf(
      { fit: 'power_law_fit(t.p, t.q)', q: 'fit.flow_coefficient * 35 ^ fit.exponent' },
      readings(),
      7,
    );
    const check = sampled(engine, 'q', 100_000);
    expectRelative(check.uncertainty * 3600, 0.6853 * Math.sqrt(5 / 3), 0.03);
  });

  it('an error that rows share is drawn once for all, one of each row for each', () => {
    const column = (name: string, spread: object): ColumnDefinition => ({
      name,
      type: 'number',
      entries: ['10', '10', '10', '10'],
      ...spread,
    });
    const engine = engineOf({ each: 'sum(t.a)', shared: 'sum(t.b)' }, [
      column('a', { each: '1 %' }),
      column('b', { shared: '1 %' }),
    ]);
    expectRelative(sampled(engine, 'each', 100_000).uncertainty, 0.2, 0.02);
    expectRelative(sampled(engine, 'shared', 100_000).uncertainty, 0.4, 0.02);
  });
});

describe('through rows, aggregates, lookups and functions', () => {
  const column = (name: string, entries: readonly string[], more: Partial<ColumnDefinition> = {}) => ({
    name,
    type: 'number' as const,
    entries,
    ...more,
  });

  // JCGM 100:2008 5.2.2, note 1: with all correlated the sum is linear; 4.2.3: a mean of n is √n times as certain.
  it('an instrument’s error adds up with its sign, a row’s own in squares; a mean divides both', () => {
    const u = (formula: string, entries: string[], more: Partial<ColumnDefinition>): number =>
      budgetOf(engineOf({ y: formula }, [column('x', entries, more), column('k', ['1', '2', '3', '4'])]), 'y')
        .uncertainty;
    const tens = ['10', '10', '10', '10'];
    expectRelative(u('mean(t.x)', tens, { each: '1 %' }), 0.05, 1e-12);
    expectRelative(u('mean(t.x)', tens, { shared: '1 %' }), 0.1, 1e-12);
    expectRelative(u('mean(where(t.x, t.k > 2))', tens, { each: '1 %' }), 0.1 / Math.SQRT2, 1e-12);
    // Which rows go in hangs on the row that asks.
    const later = engineOf({}, [
      column('x', tens, { each: '1 %' }),
      column('k', ['1', '2', '3', '4']),
      column('m', [], { formula: 'mean(where(t.x, t.k > k))' }),
    ]);
    expectRelative(later.budget('t.m', 0)?.uncertainty, 0.1 / Math.sqrt(3), 1e-12);
    expectRelative(later.budget('t.m', 1)?.uncertainty, 0.1 / Math.SQRT2, 1e-12);
    expectRelative(u('sum(t.x)', ['10', '-4', '', ''], { shared: '1 %' }), 0.06, 1e-12);
    expect(u('sum(t.x)', ['10', '-10', '', ''], { shared: '1 %' })).toBe(0);
    expectRelative(u('sum(t.x)', ['10', '-10', '', ''], { each: '1 %' }), 0.1 * Math.SQRT2, 1e-12);
    expectRelative(u('sum(t.x)', ['10', '-10', '', ''], { shared: '0.3' }), 0.6, 1e-12);
  });

  it('JCGM 101:2008 9.2, the four typed in rows: ± in a column is meant as the column says', () => {
    for (const [plusMinus, half] of [
      ['standard', '1'],
      ['95', '1.959963984540054'],
      ['limits', '1.7320508075688772'],
    ] as const) {
      const rows = Array.from({ length: 4 }, () => `0 ± ${half}`);
      const engine = engineOf({ y: 'sum(t.x)' }, [column('x', rows, { plusMinus })]);
      expectRelative(budgetOf(engine, 'y').uncertainty, 2, 1e-12);
    }
  });

  it('EURACHEM/CITAC guide, example A1, looked up in a table: 1002.70 ± 0.835', () => {
    const engine = engineOf(
      { c: '1000 * lookup(t.x, t.k, 1) * lookup(t.x, t.k, 2) / lookup(t.x, t.k, 3)' },
      [
        column('k', ['1', '2', '3']),
        column('x', ['100.28 ± 0.05', '0.9999 ± 0.0000577350269', '100 ± 0.06647305']),
      ],
      3,
    );
    const budget = budgetOf(engine, 'c');
    expectRelative(budget.value, 1002.69972, 1e-8);
    expectRelative(budget.uncertainty, 0.835199, 1e-5);
    const parts = budget.lines.map((line) => Math.abs(line.contribution));
    for (const [k, part] of [0.666525, 0.49995, 0.057897].entries())
      expectRelative(parts[k] ?? NaN, part, 1e-4);
  });

  // CODATA 2010 constants, NIST Uncertainty Machine example: 5.670 37e-8 ± 2.05e-13, recomputed 2.046119e-13.
  it('the Stefan–Boltzmann constant from a function without derivatives: ± 2.046e-13, by differences', () => {
    const engine = engineOf({
      gas: '8.3144621 ± 7.5e-6',
      planck: '6.62606957 ± 2.9e-7',
      electron: '5.4857990946 ± 2.2e-9',
      alpha: '7.2973525698e-3 ± 2.4e-12',
      rydberg: '10973731.568539 ± 5.5e-5',
      sigma: 'stefan_boltzmann(planck, gas, rydberg, electron, alpha)',
    });
    const budget = budgetOf(engine, 'sigma');
    expectRelative(budget.value, 5.670372483e-8, 1e-9);
    expectRelative(budget.uncertainty, 2.046119e-13, 1e-6);
    expect(budget.byDifferences.map((each) => each.function)).toEqual(['stefan_boltzmann']);
  });

  // Ordinary least squares: u(slope) = u(y) / √Sxx (JCGM 100:2008, H.3), by reading |dx| u(y) / Sxx.
  it('a ± of every reading goes into the slope of a fitted line with its own weight', () => {
    const engine = engineOf({ fit: 'power_law_fit(t.p, t.q)' }, readings({ each: '1 %' }), 7);
    const x = pressures.map((p) => Math.log(Number(p)));
    const mean = x.reduce((a, b) => a + b, 0) / x.length;
    const sxx = x.reduce((sum, each) => sum + (each - mean) ** 2, 0);
    const lines = budgetOf(engine, 'fit.exponent').lines.filter((line) => line.kind === 'typed');
    expect(lines.length).toBe(7);
    const all = lines.reduce((sum, line) => sum + line.contribution ** 2, 0);
    expectRelative(Math.sqrt(all), 0.01 / Math.sqrt(sxx), 1e-9);
    x.forEach((each, k) => {
      const line = lines.find(({ source }) => source === `t.q, row ${k + 1}`);
      expectRelative(line?.contribution ?? NaN, ((each - mean) / sxx) * 0.01, 1e-9);
    });
  });
});

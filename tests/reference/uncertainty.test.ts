/** Published uncertainty budgets, through the engine. Sources are named beside each check. */
import { describe, expect, it } from 'vitest';
import {
  defineFunction,
  Engine,
  FunctionLibrary,
  sampling,
  type FunctionDefinition,
} from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { checkSample } from '../../src/workbook/index.ts';

function book(
  cells: Readonly<Record<string, string>>,
  functions: readonly FunctionDefinition[] = [],
): Engine {
  const engine = new Engine(new FunctionLibrary([...tradeFunctions, ...functions]));
  for (const [name, text] of Object.entries(cells)) engine.defineCell({ name, type: 'number', text });
  engine.recalculate();
  return engine;
}

function u(engine: Engine, name: string): number {
  const budget = engine.budget(name);
  if (!budget) throw new Error(`${name}: ${JSON.stringify(engine.read(name))}`);
  return budget.uncertainty;
}

function drawn(engine: Engine, name: string, draws: number, seed: number) {
  const run = sampling(engine, [name], draws, seed);
  run?.draw(draws);
  return run?.finish()[0];
}

function value(engine: Engine, name: string): number {
  return engine.budget(name)?.value ?? NaN;
}

function part(engine: Engine, name: string, source: string): number {
  return Math.abs(engine.budget(name)?.lines.find((line) => line.source === source)?.contribution ?? 0);
}

const DEGREES = 1e-9;
function near(found: number, expected: number, relative = DEGREES): void {
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(relative * Math.abs(expected));
}

describe('JCGM 100:2008 H.1, gauge block', () => {
  const gauge = book({
    ls: '50000623 ± 25',
    d: '215 ± 9.7',
    da: '0 ± 0.58e-6',
    th: '-0.1 ± 0.41',
    as: '11.5e-6 ± 1.2e-6',
    dt: '0 ± 0.029',
    l: 'ls + d - ls * (da * th + as * dt)',
  });

  it('gives the published length and standard uncertainty, 50 000 838 nm and 32 nm', () => {
    expect(Math.round(value(gauge, 'l'))).toBe(50_000_838);
    expect(Math.round(u(gauge, 'l'))).toBe(32);
  });

  it('gives the components of its table, to the digits computed from its inputs', () => {
    near(u(gauge, 'l'), 31.71061, 1e-7);
    near(part(gauge, 'l', 'ls'), 25, 1e-9);
    near(part(gauge, 'l', 'd'), 9.7, 1e-9);
    near(part(gauge, 'l', 'da'), 2.900036, 1e-6);
    near(part(gauge, 'l', 'dt'), 16.675208, 1e-6);
    expect(part(gauge, 'l', 'th')).toBe(0);
    expect(part(gauge, 'l', 'as')).toBe(0);
  });

  it('is caught by sampling: two inputs without first-order effect bring the true 33.9 nm', () => {
    const budget = gauge.budget('l');
    const sample = drawn(gauge, 'l', 200_000, 11);
    if (!budget || !sample) throw new Error('no sample');
    const check = checkSample(budget, sample);
    expect(Math.abs(check.uncertainty - 33.89)).toBeLessThan(0.25);
    expect(check.agrees).toBe(false);
  });
});

describe('JCGM 100:2008 H.2, resistance and reactance from simultaneous readings', () => {
  const readings = {
    v: [5.007, 4.994, 5.005, 4.99, 4.999],
    i: [19.663e-3, 19.639e-3, 19.64e-3, 19.685e-3, 19.678e-3],
    phi: [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
  };
  const number = { kind: 'quantity', unit: '' } as const;
  const field = (summary: string) => ({ type: number, summary });

  /** Means of readings taken together, with their covariance as its Cholesky factor. */
  const means = defineFunction({
    name: 'simultaneous_means',
    summary: 'means of three quantities read together',
    source: 'JCGM 100:2008, 5.2.3',
    limits: 'two readings or more',
    parameters: ['v', 'i', 'phi'].map((name) => ({ name, type: number, column: true, summary: name })),
    result: { kind: 'record', fields: { v: field('mean'), i: field('mean'), phi: field('mean') } },
    example: { result: 0 },
    compute: (v: readonly number[], i: readonly number[], phi: readonly number[]) => ({
      v: mean(v),
      i: mean(i),
      phi: mean(phi),
    }),
    scatter: (...columns: readonly (readonly number[])[]) => {
      const n = columns[0]?.length ?? 0;
      const c = columns.map((a) => columns.map((b) => covariance(a, b) / n));
      const l = cholesky(c);
      const names = ['v', 'i', 'phi'];
      return {
        degreesOfFreedom: n - 1,
        components: names.map((_, j) => Object.fromEntries(names.map((name, k) => [name, l[k]?.[j] ?? 0]))),
      };
    },
  });

  function electric(): Engine {
    const engine = new Engine(new FunctionLibrary([means]));
    engine.defineTable({
      name: 'r',
      rows: 5,
      columns: Object.entries(readings).map(([name, values]) => ({
        name,
        type: 'number',
        entries: values.map(String),
      })),
    });
    const cells = {
      m: 'simultaneous_means(r.v, r.i, r.phi)',
      resistance: 'm.v / m.i * cos(m.phi)',
      reactance: 'm.v / m.i * sin(m.phi)',
      impedance: 'm.v / m.i',
      again: 'sqrt(resistance^2 + reactance^2) - impedance',
    };
    for (const [name, text] of Object.entries(cells)) engine.defineCell({ name, type: 'number', text });
    engine.recalculate();
    return engine;
  }

  it('gives the published 127.732 ± 0.071, 219.847 ± 0.295 (0.2956), 254.260 ± 0.236', () => {
    const engine = electric();
    near(value(engine, 'resistance'), 127.73216993, 1e-9);
    near(u(engine, 'resistance'), 0.071071407, 1e-7);
    near(value(engine, 'reactance'), 219.84651191, 1e-9);
    near(u(engine, 'reactance'), 0.295581677, 1e-7);
    near(value(engine, 'impedance'), 254.25970195, 1e-9);
    near(u(engine, 'impedance'), 0.23633613, 1e-7);
  });

  it('keeps the three results correlated: the impedance found again is certain', () => {
    expect(u(electric(), 'again')).toBeLessThan(1e-12);
  });

  it('would be 2.7 times too large without the correlation (negative control)', () => {
    const apart = book({
      v: '4.9990 ± 0.003209361307',
      i: '0.0196610 ± 0.000009471008394',
      phi: '1.04446 ± 0.0007520638271',
      resistance: 'v / i * cos(phi)',
      reactance: 'v / i * sin(phi)',
      impedance: 'v / i',
    });
    near(u(apart, 'resistance'), 0.194544, 1e-5);
    near(u(apart, 'reactance'), 0.200909, 1e-5);
    near(u(apart, 'impedance'), 0.204076, 1e-5);
  });
});

describe('NIST Technical Note 1900', () => {
  it('E13, thermal expansion: 1.7266e-5 ± 1.76e-6 to first order', () => {
    const engine = book({
      l0: '1.4999 ± 0.0001',
      t0: '288.15 ± 0.02',
      l1: '1.5021 ± 0.0002',
      t1: '373.10 ± 0.05',
      alpha: '(l1 - l0) / (l0 * (t1 - t0))',
    });
    near(value(engine, 'alpha'), 1.726620896e-5, 1e-9);
    near(u(engine, 'alpha'), 1.755477e-6, 1e-6);
  });

  it('E3, falling-ball viscometer: first order 5.687 ± 1.027; sampled 5.82 ± 1.11, 95 % from 4.05 to 8.39', () => {
    const engine = book({
      muC: '4.63 ± 0.0463',
      rB: '2217 ± 0.5',
      rM: '1180 ± 0.5',
      rC: '810 ± 0.5',
      tM: '61 ± 6.1',
      tC: '36.6 ± 5.49',
      mu: 'muC * (rB - rM) / (rB - rC) * tM / tC',
    });
    near(value(engine, 'mu'), 5.687408, 1e-6);
    near(u(engine, 'mu'), 1.026894, 1e-6);
    const budget = engine.budget('mu');
    const sample = drawn(engine, 'mu', 200_000, 3);
    if (!budget || !sample) throw new Error('no sample');
    const check = checkSample(budget, sample);
    // Four standard errors of 200,000 draws are about 0.01 in the mean and 0.03 in the upper end.
    expect(Math.abs(check.mean - 5.824)).toBeLessThan(0.015);
    expect(Math.abs(check.uncertainty - 1.115)).toBeLessThan(0.015);
    expect(Math.abs(check.low - 4.05)).toBeLessThan(0.02);
    expect(Math.abs(check.high - 8.4)).toBeLessThan(0.04);
    expect(check.agrees).toBe(false);
  });
});

describe('further published budgets', () => {
  it('Stefan–Boltzmann constant from the CODATA 2010 constants (NIST Uncertainty Machine example): ± 2.046e-13', () => {
    const engine = book({
      planck: '6.62606957e-34 ± 2.9e-41',
      gas: '8.3144621 ± 7.5e-6',
      rydberg: '10973731.568539 ± 5.5e-5',
      electron: '5.4857990946e-4 ± 2.2e-13',
      alpha: '7.2973525698e-3 ± 2.4e-12',
      sigma: '32 * pi^5 * planck * gas^4 * rydberg^4 / (15 * electron^4 * 0.001^4 * 299792458^6 * alpha^8)',
    });
    near(value(engine, 'sigma'), 5.670372483e-8, 1e-9);
    near(u(engine, 'sigma'), 2.046119e-13, 1e-6);
  });

  it('EURACHEM/CITAC guide, example A1, calibration standard: 1002.70 ± 0.835', () => {
    const mass = book({
      m: '100.28 ± 0.05',
      p: '0.9999 ± 0.0000577350269',
      v: '100 ± 0.06647305',
      c: '1000 * m * p / v',
    });
    near(value(mass, 'c'), 1002.69972, 1e-8);
    near(u(mass, 'c'), 0.835199, 1e-5);
    near(part(mass, 'c', 'm'), 0.49995, 1e-5);
    near(part(mass, 'c', 'v'), 0.666525, 1e-5);
    near(part(mass, 'c', 'p'), 0.057897, 1e-4);
  });

  it('JCGM 101:2008, 9.2, sum of four: normal gives ± 3.92, rectangular ± 3.88', () => {
    const sum = (meaning: 'standard' | 'limits', half: string): number[] => {
      const engine = new Engine(new FunctionLibrary([]));
      for (const name of ['a', 'b', 'c', 'd'])
        engine.defineCell({ name, type: 'number', text: `0 ± ${half}`, plusMinus: meaning });
      engine.defineCell({ name: 'y', type: 'number', text: 'a + b + c + d' });
      engine.recalculate();
      expect(u(engine, 'y')).toBeCloseTo(2, 8);
      const sample = drawn(engine, 'y', 200_000, 5);
      const budget = engine.budget('y');
      if (!budget || !sample) throw new Error('no sample');
      const { low, high } = checkSample(budget, sample);
      return [low, high];
    };
    for (const end of sum('standard', '1')) expect(Math.abs(Math.abs(end) - 3.92)).toBeLessThan(0.05);
    for (const end of sum('limits', '1.7320508075688772'))
      expect(Math.abs(Math.abs(end) - 3.88)).toBeLessThan(0.05);
  });

  it('x² at 0 ± 1 is not certain once it has been sampled', () => {
    const engine = book({ x: '0 ± 1', y: 'x^2' });
    const budget = engine.budget('y');
    const sample = drawn(engine, 'y', 20_000, 2);
    if (!budget || !sample) throw new Error('no sample');
    const check = checkSample(budget, sample);
    expect(check.agrees).toBe(false);
    expect(Math.abs(check.mean - 1)).toBeLessThan(0.05);
  });
});

describe('a power law with fitted coefficient and exponent (values computed with two general libraries)', () => {
  const engine = new Engine(new FunctionLibrary(tradeFunctions));
  engine.defineTable({
    name: 'r',
    rows: 7,
    columns: [
      { name: 'p', type: 'number', unit: 'Pa', entries: ['15', '20', '25', '30', '40', '50', '60'] },
      {
        name: 'q',
        type: 'number',
        unit: 'm3/h',
        entries: ['410', '492', '566', '640', '771', '889', '1001'],
      },
    ],
  });
  const cells: Record<string, string> = { fit: 'power_law_fit(r.p, r.q)', ratio: 'q50 / q10' };
  for (const p of [4, 10, 35, 50])
    cells[`q${p}`] = `fit.flow_coefficient * (${p} Pa / (1 Pa)) ^ fit.exponent`;
  for (const [name, text] of Object.entries(cells)) engine.defineCell({ name, type: 'number', text });
  engine.recalculate();

  it.each([
    ['q4', 174.2746, 0.7406],
    ['q10', 314.779, 0.7782],
    ['q35', 706.4264, 0.6853],
    ['q50', 889.2375, 1.2021],
  ])('%s with the covariance of the fit', (name, flow, spread) => {
    near(value(engine, name) * 3600, flow, 1e-6);
    near(u(engine, name) * 3600, spread, 1e-4);
    expect(engine.budget(name)?.degreesOfFreedom).toBeCloseTo(5, 8);
  });

  it('a ratio of two flows does not depend on the coefficient at all', () => {
    near(value(engine, 'ratio'), 2.824958, 1e-6);
    near(u(engine, 'ratio'), 0.009216, 1e-4);
  });

  it('typed apart, coefficient and exponent make the flow at 35 Pa ten times as uncertain (negative control)', () => {
    const apart = book({
      c: '71.24483 ± 0.49999',
      n: '0.64525236 ± 0.00202695',
      q: 'c * 35 ^ n',
    });
    near(u(apart, 'q'), 7.106, 1e-3);
  });
});

describe('identity of sources', () => {
  const room = (extra: Readonly<Record<string, string>>) =>
    book({ w: '12.0 ± 0.1 ft', h: '8.0 ± 0.1 ft', a: 'w * h', ...extra });
  const FOOT = 0.3048;

  it('w × h × h counts h twice: 20.238577 ft³, not 15.009', () => {
    const engine = room({ v: 'a * h', apart: '(96 ± 1.442221 ft2) * h' });
    near(u(engine, 'a') / FOOT ** 2, 1.442221, 1e-6);
    near(u(engine, 'v') / FOOT ** 3, 20.238577, 1e-7);
    near(u(engine, 'apart') / FOOT ** 3, 15.009, 1e-3);
  });

  it('V / A − h is exactly certain', () => {
    expect(u(room({ v: 'a * h', nothing: 'v / a - h' }), 'nothing')).toBe(0);
  });

  it('one measured length used twice is not two lengths', () => {
    const engine = book({
      l: '20 ± 0.1 ft',
      w: '12 ± 0.1 ft',
      l2: '20 ± 0.1 ft',
      w2: '12 ± 0.1 ft',
      one: '2 * (l + w)',
      four: 'l + w + l2 + w2',
    });
    near(u(engine, 'one') / FOOT, 0.28284, 1e-4);
    near(u(engine, 'four') / FOOT, 0.2, 1e-9);
  });

  it('the meaning of ± changes the area by two: standard 1.442, 95 % 0.736, limits 0.833', () => {
    for (const [meaning, expected] of [
      ['standard', 1.442],
      ['95', 0.736],
      ['limits', 0.833],
    ] as const) {
      const engine = new Engine(new FunctionLibrary([]));
      engine.defineCell({ name: 'w', type: 'number', text: '12.0 ± 0.1 ft', plusMinus: meaning });
      engine.defineCell({ name: 'h', type: 'number', text: '8.0 ± 0.1 ft', plusMinus: meaning });
      engine.defineCell({ name: 'a', type: 'number', text: 'w * h' });
      engine.recalculate();
      expect(Math.abs(u(engine, 'a') / FOOT ** 2 - expected)).toBeLessThan(5e-4);
    }
  });

  it('a shared column error is one source, a ± of every row is many', () => {
    const engine = new Engine(new FunctionLibrary([]));
    const column = (name: string, spread: object) => ({
      name,
      type: 'number' as const,
      unit: 'Pa',
      entries: ['10', '10', '10', '10'],
      ...spread,
    });
    engine.defineTable({
      name: 't',
      rows: 4,
      columns: [column('a', { each: '1 %' }), column('b', { shared: '1 %' })],
    });
    engine.defineCell({ name: 'each', type: 'number', text: 'sum(t.a)' });
    engine.defineCell({ name: 'shared', type: 'number', text: 'sum(t.b)' });
    engine.recalculate();
    near(u(engine, 'each'), 0.2, 1e-9);
    near(u(engine, 'shared'), 0.4, 1e-9);
  });
});

function mean(x: readonly number[]): number {
  return x.reduce((a, b) => a + b, 0) / x.length;
}

function covariance(a: readonly number[], b: readonly number[]): number {
  const ma = mean(a);
  const mb = mean(b);
  return a.reduce((sum, x, k) => sum + (x - ma) * ((b[k] ?? NaN) - mb), 0) / (a.length - 1);
}

function cholesky(c: readonly (readonly number[])[]): number[][] {
  const l = c.map(() => c.map(() => 0));
  for (let i = 0; i < c.length; i++)
    for (let j = 0; j <= i; j++) {
      let sum = c[i]?.[j] ?? 0;
      for (let k = 0; k < j; k++) sum -= (l[i]?.[k] ?? 0) * (l[j]?.[k] ?? 0);
      const row = l[i];
      if (row) row[j] = i === j ? Math.sqrt(sum) : sum / (l[j]?.[j] ?? NaN);
    }
  return l;
}

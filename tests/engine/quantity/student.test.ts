import fc from 'fast-check';
import jStat from 'jstat';
import { describe, expect, test } from 'vitest';
import {
  normalProbability,
  studentProbability,
  studentQuantile,
} from '../../../src/engine/quantity/index.ts';

const { studentt, normal } = jStat as unknown as {
  readonly studentt: { cdf(t: number, dof: number): number };
  readonly normal: { cdf(z: number, mean: number, sd: number): number };
};

const dof = fc.oneof(fc.integer({ min: 1, max: 200 }), fc.double({ min: 1, max: 1e6, noNaN: true }));

function expectRelative(actual: number, expected: number, limit: number, what: string): void {
  expect(Math.abs(actual / expected - 1), `${what}: ${String(actual)} for ${String(expected)}`).toBeLessThan(
    limit,
  );
}

describe('normalProbability', () => {
  // Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 26.1, P(x); digits from memory, and the
  // same to 15 digits as 1/2 (1 + erf(x / sqrt 2)) by the series 7.1.5 there.
  test.each([
    [0, 0.5],
    [0.5, 0.691462461274013],
    [1, 0.841344746068543],
    [1.5, 0.933192798731142],
    [2, 0.977249868051821],
    [3, 0.99865010196837],
    [4, 0.999968328758167],
  ])('P(%d) is that of the table', (x, p) => {
    expectRelative(normalProbability(x), p, 1e-8, `P(${String(x)})`);
    expectRelative(normalProbability(-x), 1 - p, 1e-8, `P(−${String(x)})`);
  });

  // The same handbook, table 26.2, −log10 Q(x), from memory; its five decimals.
  test.each([
    [5, 6.54265],
    [6, 9.00586],
    [8, 15.20614],
    [10, 23.11805],
  ])('the far tail beyond %d is not lost in a subtraction', (x, minusLog) => {
    expect(-Math.log10(normalProbability(-x))).toBeCloseTo(minusLog, 4);
  });

  test('agrees with jstat to what its error function keeps', () => {
    fc.assert(
      fc.property(fc.double({ min: -5, max: 5, noNaN: true }), (z) => {
        expect(Math.abs(normalProbability(z) - normal.cdf(z, 0, 1))).toBeLessThan(2e-7);
      }),
    );
  });
});

describe('studentProbability', () => {
  test('has the closed forms at 1, 2 and 4 degrees of freedom (Shaw, Journal of Computational Finance 9 (2006) 37)', () => {
    for (const t of [-40, -3, -1.4, -0.7, -1e-3, 1e-3, 0.2, 0.9, 1.42, 2, 12.7, 63]) {
      const two = t / Math.sqrt(2 + t * t) / 2;
      const u = t / Math.sqrt(4 + t * t);
      expect(studentProbability(t, 1)).toBeCloseTo(0.5 + Math.atan(t) / Math.PI, 13);
      expect(studentProbability(t, 2)).toBeCloseTo(0.5 + two, 13);
      expect(studentProbability(t, 4)).toBeCloseTo(0.5 + (3 * u) / 4 - (u * u * u) / 4, 13);
    }
  });

  // Abramowitz and Stegun, table 26.10, percentage points of the t-distribution, from memory; three decimals.
  test.each([
    [1, 12.706],
    [2, 4.303],
    [5, 2.571],
    [7, 2.365],
    [8, 2.306],
    [10, 2.228],
    [30, 2.042],
    [120, 1.98],
  ])('with %d degrees of freedom 2.5 %% lie beyond the tabled point', (nu, t) => {
    expect(studentProbability(-t - 5e-4, nu)).toBeLessThan(0.025);
    expect(studentProbability(-t + 5e-4, nu)).toBeGreaterThan(0.025);
  });

  test('agrees with jstat on random values, to what jstat keeps', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -30, max: 30, noNaN: true }),
        fc.integer({ min: 1, max: 200 }),
        (t, nu) => {
          expect(Math.abs(studentProbability(t, nu) - studentt.cdf(t, nu))).toBeLessThan(1e-7);
        },
      ),
      { numRuns: 300 },
    );
  });

  test('undoes studentQuantile, in the far tail too', () => {
    const tail = fc.double({ min: -40, max: Math.log10(0.5), noNaN: true }).map((log) => 10 ** log);
    fc.assert(
      fc.property(tail, dof, (p, nu) => {
        expectRelative(
          studentProbability(studentQuantile(p, nu), nu),
          p,
          1e-11,
          `p ${String(p)}, ν ${String(nu)}`,
        );
      }),
      { numRuns: 300 },
    );
  });

  test('rises from 0 to 1 and is even about the middle', () => {
    expect(studentProbability(0, 5)).toBe(0.5);
    expect(studentProbability(Infinity, 5)).toBe(1);
    expect(studentProbability(-Infinity, 5)).toBe(0);
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1e6, noNaN: true }), dof, (t, nu) => {
        const above = studentProbability(t, nu);
        expect(above).toBeGreaterThanOrEqual(0.5);
        expect(above).toBeLessThanOrEqual(1);
        expect(studentProbability(-t, nu)).toBeCloseTo(1 - above, 14);
        expect(studentProbability(t * 1.1 + 1e-6, nu)).toBeGreaterThanOrEqual(above);
      }),
    );
  });

  test('what is no number gives none', () => {
    expect(studentProbability(NaN, 5)).toBeNaN();
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  BASES,
  describeDimension,
  dimension,
  DIMENSIONLESS,
  dimensionName,
  divide,
  exponents,
  multiply,
  power,
} from '../../../src/engine/quantity/index.ts';

const anyExponent = fc.integer({ min: -12, max: 12 }).map((twelfths) => twelfths / 4);
const anyDimension = fc
  .tuple(...BASES.map(() => anyExponent))
  .map((list) => dimension(Object.fromEntries(BASES.map((base, i) => [base, list[i] ?? 0]))));

describe('dimensions form a commutative group', () => {
  test('products are associative and commutative, and the plain number changes nothing', () => {
    fc.assert(
      fc.property(anyDimension, anyDimension, anyDimension, (a, b, c) => {
        expect(multiply(multiply(a, b), c)).toBe(multiply(a, multiply(b, c)));
        expect(multiply(a, b)).toBe(multiply(b, a));
        expect(multiply(a, DIMENSIONLESS)).toBe(a);
        expect(divide(a, DIMENSIONLESS)).toBe(a);
      }),
    );
  });

  test('a quotient undoes a product', () => {
    fc.assert(
      fc.property(anyDimension, anyDimension, (a, b) => {
        expect(divide(multiply(a, b), b)).toBe(a);
        expect(divide(a, a)).toBe(DIMENSIONLESS);
        expect(multiply(a, power(b, -1))).toBe(divide(a, b));
      }),
    );
  });

  test('powers add and multiply as exponents do', () => {
    fc.assert(
      fc.property(anyDimension, anyExponent, anyExponent, (a, m, n) => {
        expect(multiply(power(a, m), power(a, n))).toBe(power(a, m + n));
        expect(power(power(a, m), n)).toBe(power(a, m * n));
        expect(power(a, 0)).toBe(DIMENSIONLESS);
        expect(power(a, 1)).toBe(a);
      }),
    );
  });

  test('a root and its power come back to the same dimension, thirds included', () => {
    const area = dimension({ length: 2 });
    expect(power(power(area, 1 / 3), 3)).toBe(area);
    expect(power(power(area, 1 / 7), 7)).toBe(area);
    expect(exponents(power(area, 0.5))).toEqual(exponents(dimension({ length: 1 })));
  });

  test('dimensions are the same number whenever they are the same', () => {
    expect(dimension({})).toBe(DIMENSIONLESS);
    expect(DIMENSIONLESS).toBe(0);
    expect(dimension({ length: -0 })).toBe(DIMENSIONLESS);
    expect(dimension({ length: 3, time: -1 })).toBe(divide(dimension({ length: 3 }), dimension({ time: 1 })));
  });

  test('what is no dimension is a mistake of the program', () => {
    expect(() => exponents(1e6)).toThrow(RangeError);
    expect(() => power(DIMENSIONLESS, NaN)).toThrow(RangeError);
  });
});

describe('words for dimensions', () => {
  test.each([
    [{}, undefined, 'a plain number'],
    [{ length: 1 }, 'length', 'length'],
    [{ length: 2 }, 'area', 'area, length²'],
    [{ length: 3, time: -1 }, 'volume flow', 'volume flow, length³/time'],
    [{ mass: 1, length: -1, time: -2 }, 'pressure', 'pressure, mass/(length·time²)'],
    [{ time: -1 }, 'rate', 'rate, 1/time'],
    [{ money: 1, length: -2 }, 'price per area', 'price per area, money/length²'],
    [{ length: 7, mass: -0.5 }, undefined, 'length⁷/mass^0.5'],
  ] as const)('%j', (parts, name, description) => {
    expect(dimensionName(dimension(parts))).toBe(name);
    expect(describeDimension(dimension(parts))).toBe(description);
  });
});

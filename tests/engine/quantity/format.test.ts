import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatFeetInches, formatNumber, formatQuantity } from '../../../src/engine/quantity/index.ts';
import { entry, unit } from './read.ts';

/** As a person reads it: value, and ± where there is one. */
function shown(value: number, plusMinus?: number, places?: number): string {
  const written = formatNumber(value, { plusMinus, places });
  return written.plusMinus === undefined ? written.value : `${written.value} ± ${written.plusMinus}`;
}

/** A number as it was written for people, read back. */
function back(text: string): number {
  const [mantissa = '', tens = '0'] = text.replace('−', '-').replaceAll(',', '').split('×10');
  const digits = Array.from(tens, (c) =>
    c === '⁻' ? '-' : '⁰¹²³⁴⁵⁶⁷⁸⁹'.includes(c) ? '⁰¹²³⁴⁵⁶⁷⁸⁹'.indexOf(c) : c,
  );
  return Number(`${mantissa}e${digits.join('')}`);
}

// Two significant digits of the uncertainty, the value to the same place: JCGM 100:2008, 7.2.6.
describe('with ±: two significant digits of it, and the value to the same place', () => {
  test.each([
    [20.0123, 0.456, '20.01 ± 0.46'],
    [20, 0.0996, '20.00 ± 0.10'],
    [20, 0.996, '20.0 ± 1.0'],
    [20, 9.96, '20 ± 10'],
    [20, 99.6, '20 ± 100'],
    [1234.5678, 12.3, '1,235 ± 12'],
    [1234567, 12345, '1,235,000 ± 12,000'],
    [-1234567, 12345, '−1,235,000 ± 12,000'],
    [0, 0.5, '0.00 ± 0.50'],
    [-0.004, 0.1, '0.00 ± 0.10'],
    [1, 0.05, '1.000 ± 0.050'],
    [1.234e-5, 5e-7, '1.234×10⁻⁵ ± 0.050×10⁻⁵'],
    [1.5e15, 2.5e13, '1.500×10¹⁵ ± 0.025×10¹⁵'],
    [0, 1e-30, '0.0×10⁻³⁰ ± 1.0×10⁻³⁰'],
  ])('%d ± %d', (value, half, text) => {
    expect(shown(value, half)).toBe(text);
    // Places are for values without ±.
    expect(shown(value, half, 5)).toBe(text);
  });

  test('a ± far below what the value can hold is ± 0, never a long string of digits', () => {
    for (const half of [0, 1e-30, 1e-12, 4e-9]) expect(shown(5, half)).toBe('5 ± 0');
    expect(shown(5, 1e-12, 2)).toBe('5.00 ± 0');
    expect(shown(5, 1e-8)).toBe('5.000000000 ± 0.000000010');
    fc.assert(
      fc.property(any, any, (value, half) => {
        const written = formatNumber(value, { plusMinus: half });
        for (const text of [written.value, written.plusMinus ?? '']) expect(text.length).toBeLessThan(28);
      }),
    );
  });

  test('a ± that is no number is left out: the value stands as if it had none', () => {
    expect(shown(5.126, NaN, 2)).toBe('5.13');
    expect(shown(5.126, Infinity, 2)).toBe('5.13');
  });
});

describe('without ±', () => {
  test.each([
    [1.0381, 2, '1.04'],
    [25732.4167, 0, '25,732'],
    [1234567.891, 1, '1,234,567.9'],
    [-0.001, 2, '0.00'],
    [-0, 2, '0.00'],
    [-0.006, 2, '−0.01'],
    [2.5, 0, '3'],
    [0.65, 3, '0.650'],
    [1e11, 2, '100,000,000,000.00'],
    [1e15, 2, '1×10¹⁵'],
    [1e-6, 2, '0.00'],
  ])('%d to %d places', (value, places, text) => {
    expect(shown(value, undefined, places)).toBe(text);
  });

  test.each([
    [0.1 + 0.2, '0.3'],
    [1 / 3, '0.3333'],
    [12345.678, '12,346'],
    [9999.5, '10,000'],
    [999.95, '1,000'],
    [0.99996, '1'],
    [123456789.123, '123,456,789'],
    [0.000123456, '0.0001235'],
    [0.0000123456, '1.235×10⁻⁵'],
    [-1.5e12, '−1.5×10¹²'],
    [0, '0'],
    [-0, '0'],
    [NaN, '–'],
    [Infinity, '∞'],
    [-Infinity, '−∞'],
  ])('%d with no places given: four significant digits, whole numbers in full', (value, text) => {
    expect(shown(value)).toBe(text);
  });
});

const any = fc.double();

test('every number: no exception, a true minus, no -0, and the number itself within its last place', () => {
  const half = fc.option(any, { nil: undefined });
  const places = fc.option(fc.integer({ min: 0, max: 12 }), { nil: undefined });
  fc.assert(
    fc.property(any, half, places, (value, plusMinus, decimals) => {
      const written = formatNumber(value, { plusMinus, places: decimals });
      const text = written.value;
      expect(text).not.toMatch(/-|NaN|undefined|Infinity|e/u);
      if (text.startsWith('−')) expect(text).toMatch(/[1-9∞]/u);
      expect(written.plusMinus ?? '').not.toMatch(/[-−]/u);
      // Rounded up, the largest numbers would be larger than any.
      if (!(Math.abs(value) < 1e307)) return;
      const limit =
        written.plusMinus !== undefined && written.plusMinus !== '0'
          ? Math.abs(plusMinus ?? 0) / 10
          : Math.max(decimals === undefined ? 0 : 0.5 * 10 ** -decimals, Math.abs(value) * 6e-4);
      expect(Math.abs(back(text) - value)).toBeLessThanOrEqual(limit * 1.001 + Number.MIN_VALUE);
    }),
    { numRuns: 1000 },
  );
});

test('a quantity is shown in its unit; the ± of a reading takes no offset', () => {
  expect(formatQuantity(293.15, unit('degF'), { plusMinus: 0.5 })).toEqual({
    value: '68.00',
    plusMinus: '0.90',
    unit: '°F',
  });
  expect(formatQuantity(0.21, unit('cfm'), { places: 0 })).toEqual({ value: '445', unit: 'cfm' });
  expect(formatQuantity(0.0173, unit('%'), { places: 1 })).toEqual({ value: '1.7', unit: '%' });
});

describe('feet and inches', () => {
  test.each([
    [0, `0"`],
    [0.5, `1/2"`],
    [-0.5, `−1/2"`],
    [12, `1' 0"`],
    [-30, `−2' 6"`],
    [63.625, `5' 3 5/8"`],
    [148.5, `12' 4 1/2"`],
    [11.99, `1' 0"`],
    [0.01, `0"`],
    [-0.01, `0"`],
    [158.9375, `13' 2 15/16"`],
  ])('%d in', (inches, text) => {
    expect(formatFeetInches(inches * 0.0254)).toBe(text);
  });

  test('to 1/16 unless asked otherwise, and never by more than half of that', () => {
    expect(formatFeetInches(0.0254 / 64)).toBe(`0"`);
    expect(formatFeetInches(0.0254 / 64, 64)).toBe(`1/64"`);
    const denominator = fc.constantFrom(1, 2, 4, 8, 16, 32, 64);
    fc.assert(
      fc.property(fc.double({ min: -50, max: 50, noNaN: true }), denominator, (metres, below) => {
        const read = entry(formatFeetInches(metres, below), 'ft').si;
        expect(Math.abs(read - metres)).toBeLessThanOrEqual((0.0254 / below / 2) * (1 + 1e-9));
      }),
    );
  });

  test('what is no number is a dash', () => {
    expect(formatFeetInches(NaN)).toBe('–');
    expect(formatFeetInches(Infinity)).toBe('∞');
  });
});

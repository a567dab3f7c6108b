import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dimension, fromSI, parseUnit, toSI, UNIT_ROWS } from '../../../src/engine/quantity/index.ts';
import { unit } from './read.ts';

describe('every row of the table', () => {
  test.each(UNIT_ROWS.map((row) => [row.symbols[0], row] as const))('%s', (canonical, row) => {
    expect(row.source.length).toBeGreaterThan(5);
    const own = unit(canonical);
    for (const symbol of row.symbols) {
      expect(unit(symbol)).toMatchObject({
        dimension: own.dimension,
        factor: own.factor,
        symbol: own.symbol,
      });
    }
    // What is shown can be typed.
    expect(unit(own.symbol)).toMatchObject({ dimension: own.dimension, offset: own.offset });
    expect(unit(own.symbol).factor / own.factor).toBeCloseTo(1, 14);
    if (row.counterpart !== undefined) expect(unit(row.counterpart).dimension).toBe(own.dimension);
    expect(row.system === 'both').toBe(row.counterpart === undefined);
    fc.assert(
      fc.property(
        fc.double({ min: -1e9, max: 1e9, noNaN: true }).filter((v) => v === 0 || Math.abs(v) > 1e-200),
        (v) => {
          const back = fromSI(toSI(v, own), own);
          expect(Math.abs(back - v)).toBeLessThanOrEqual(1e-12 * (Math.abs(v) + own.offset / own.factor));
        },
      ),
      { numRuns: 50 },
    );
  });

  test('no spelling stands in two rows', () => {
    const all = UNIT_ROWS.flatMap((row) => row.symbols);
    expect(all.filter((symbol, i) => all.indexOf(symbol) !== i)).toEqual([]);
  });
});

/**
 * NIST Special Publication 811 (2008), appendix B.8, factors rounded there to seven digits or fewer, written here from
 * memory; those of the foot, inch, pound, gallon, Btu, horsepower, psi, grain, perm and ton of refrigeration were
 * compared with a second listing of the same publication.
 */
const SP811 = [
  ['Btu', 1.055056e3, 'J'],
  ['Btu/h', 2.930711e-1, 'W'],
  ['Btu/(h ft2)', 3.154591, 'W/m2'],
  ['Btu/(h ft2 degF)', 5.678263, 'W/(m2 K)'],
  ['Btu ft/(h ft2 degF)', 1.730735, 'W/(m K)'],
  ['Btu in/(h ft2 degF)', 1.442279e-1, 'W/(m K)'],
  ['Btu/lb', 2.326e3, 'J/kg'],
  ['Btu/(lb degF)', 4.1868e3, 'J/(kg K)'],
  ['h ft2 degF/Btu', 1.761102e-1, 'm2 K/W'],
  ['R_IP', 1.761102e-1, 'm2 K/W'],
  ['U_IP', 5.678263, 'W/(m2 K)'],
  ['ft3', 2.831685e-2, 'm3'],
  ['cfm', 4.719474e-4, 'm3/s'],
  ['ft/min', 5.08e-3, 'm/s'],
  ['ft2', 9.290304e-2, 'm2'],
  ['in^3', 1.638706e-5, 'm3'],
  ['board_foot', 2.359737e-3, 'm3'],
  ['gal', 3.785412e-3, 'm3'],
  ['qt', 9.463529e-4, 'm3'],
  ['floz', 2.957353e-5, 'm3'],
  ['grain', 6.479891e-5, 'kg'],
  ['hp', 7.456999e2, 'W'],
  ['inHg', 3.386389e3, 'Pa'],
  ['inH2O', 2.490889e2, 'Pa'],
  ['mmHg', 1.333224e2, 'Pa'],
  ['torr', 1.333224e2, 'Pa'],
  ['kip', 4.448222e3, 'N'],
  ['ksi', 6.894757e6, 'Pa'],
  ['psi', 6.894757e3, 'Pa'],
  ['psf', 4.788026e1, 'Pa'],
  ['plf', 1.45939e1, 'N/m'],
  ['pcf', 1.601846e1, 'kg/m3'],
  ['mi', 1.609344e3, 'm'],
  ['mph', 4.4704e-1, 'm/s'],
  ['oz', 2.834952e-2, 'kg'],
  ['lb', 4.535924e-1, 'kg'],
  ['lbf', 4.448222, 'N'],
  ['ton', 9.071847e2, 'kg'],
  ['refrigeration_ton', 3.516853e3, 'W'],
  ['yd', 9.144e-1, 'm'],
  ['degR', 5.555556e-1, 'K'],
] as const;

/** The same publication gives these to six digits. */
const SP811_SIX_DIGITS = [
  ['perm', 5.72135e-11, 'kg/(s m2 Pa)'],
  ['perm_23C', 5.74525e-11, 'kg/(s m2 Pa)'],
  ['perm_in', 1.45322e-12, 'kg/(s m Pa)'],
  ['therm', 1.05506e8, 'J'],
] as const;

describe('sizes against NIST SP 811 (2008), appendix B.8', () => {
  test.each(SP811)('%s = %d %s', (text, factor, of) => {
    expect(unit(text).dimension).toBe(unit(of).dimension);
    expect(Number((unit(text).factor / unit(of).factor).toPrecision(7))).toBe(factor);
  });
  test.each(SP811_SIX_DIGITS)('%s = %d %s', (text, factor, of) => {
    expect(unit(text).dimension).toBe(unit(of).dimension);
    expect(Number((unit(text).factor / unit(of).factor).toPrecision(6))).toBe(factor);
  });
});

describe('exact sizes, from the international yard and pound and conventional densities', () => {
  test.each([
    [1, 'cfm', 1.69901079552, 'm3/h'],
    [1, 'cfm', 0.4719474432, 'L/s'],
    [1, 'cfm/ft2', 18.288, 'm3/(h m2)'],
    [1, 'ft2', 0.09290304, 'm2'],
    [1, 'ft3', 0.028316846592, 'm3'],
    [1, 'in2', 6.4516, 'cm2'],
    [1, 'inH2O', 249.08891, 'Pa'],
    [0.2, 'inH2O', 49.817782, 'Pa'],
    [0.04, 'cfm/ft2', 0.73152, 'm3/(h m2)'],
    [0.05, 'cfm/ft2', 0.9144, 'm3/(h m2)'],
    [0.06, 'cfm/ft2', 1.09728, 'm3/(h m2)'],
    [0.25, 'cfm/ft2', 4.572, 'm3/(h m2)'],
    [0.28, 'cfm/ft2', 5.12064, 'm3/(h m2)'],
    [0.3, 'cfm/ft2', 5.4864, 'm3/(h m2)'],
    [12, 'in', 1, 'ft'],
    [1000, 'mm', 1, 'm'],
    [7000, 'grain', 1, 'lb'],
    [12, 'board_foot', 1, 'ft3'],
    [1, 'acre', 43560, 'ft2'],
    [1, 'ft^3/min', 1, 'cfm'],
  ])('%d %s = %d %s', (a, from, b, to) => {
    expect(unit(from).dimension).toBe(unit(to).dimension);
    const converted = fromSI(toSI(a, unit(from)), unit(to));
    expect(Math.abs(converted - b)).toBeLessThanOrEqual(2 * Number.EPSILON * b);
  });

  test('lengths that are equal are equal to the last digit', () => {
    expect(toSI(12, unit('in'))).toBe(toSI(1, unit('ft')));
    expect(toSI(3, unit('ft'))).toBe(toSI(1, unit('yd')));
    expect(toSI(304.8, unit('mm'))).toBe(toSI(1, unit('ft')));
    expect(unit('ft^2').factor).toBe(unit('ft2').factor);
    expect(unit('ft^3').factor).toBe(unit('ft3').factor);
  });

  test.each([
    [5, 0.27340332],
    [8, 0.43744532],
    [10, 0.54680665],
  ])('%d m3/(h m2) = %d cfm/ft2, to eight decimals', (si, us) => {
    const converted = fromSI(toSI(si, unit('m3/(h m2)')), unit('cfm/ft2'));
    expect(Number(converted.toFixed(8))).toBe(us);
  });

  test('money is a dimension of its own', () => {
    expect(unit('$').dimension).toBe(dimension({ money: 1 }));
    expect(unit('$/ft2').dimension).toBe(dimension({ money: 1, length: -2 }));
    expect('problem' in parseUnit('€')).toBe(true);
  });
});

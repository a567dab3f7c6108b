import { all, create } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { exponents, isUnitSymbol, parseUnit, toSI, UNIT_ROWS } from '../../../src/engine/quantity/index.ts';

const math = create(all ?? {}, {});
const Unit = math.Unit as unknown as {
  UNITS: Record<string, { prefixes: Record<string, unknown>; base: { key: string } }>;
};

/** SI value of `v` of a unit as mathjs itself calculates it. */
function mathjsSI(v: number, word: string): number {
  const value: unknown = math.unit(v, word).toSI().toNumeric();
  return typeof value === 'number' ? value : Number(value);
}

/** mathjs rounds these; ours are exact by definition, and agree to its own digits. */
const ROUNDED_IN_MATHJS: Readonly<Record<string, number>> = {
  psi: 1e-9,
  hp: 1e-9,
  kip: 1e-8,
  kips: 1e-8,
  acre: 1e-6,
  acres: 1e-6,
  torr: 3e-6,
  mmHg: 4e-6,
  mmhg: 4e-6,
  eV: 1e-7,
  electronvolt: 1e-7,
  electronvolts: 1e-7,
  rd: 2e-6,
};

/** Not offered: information, and a reactive power whose size is imaginary. */
const REFUSED = ['b', 'bits', 'B', 'bytes', 'bit', 'byte', 'VAR'];

const names = Object.keys(Unit.UNITS).filter((name) => !REFUSED.includes(name));

describe('mathjs knows the same units', () => {
  test.each(names)('%s', (name) => {
    const ours = parseUnit(name);
    if ('problem' in ours) throw new Error(ours.problem);
    const tolerance = ROUNDED_IN_MATHJS[name] ?? 4 * Number.EPSILON;
    // A reading and its size at another value show offset and factor at once.
    for (const v of [1, 37]) {
      const theirs = mathjsSI(v, name);
      expect(Math.abs(toSI(v, ours) / theirs - 1)).toBeLessThanOrEqual(tolerance);
    }
    const theirDimensions = (math.unit(1, name) as unknown as { dimensions: number[] }).dimensions;
    // mathjs: mass, length, time, current, temperature, luminosity, amount; then angle, bit.
    const [mass, length, time, current, temperature, luminosity, amount] = theirDimensions;
    expect(exponents(ours.dimension)).toEqual([
      length,
      mass,
      time,
      temperature,
      current,
      amount,
      luminosity,
      0,
    ]);
  });

  test('a size set right by our table is right with prefixes, too', () => {
    const [keV, eV] = [parseUnit('keV'), parseUnit('eV')];
    if ('problem' in keV || 'problem' in eV) throw new Error('not read');
    // SI Brochure, 9th edition (2019): the elementary charge is exactly 1.602176634e-19 C.
    expect(keV.factor / eV.factor).toBeCloseTo(1000, 10);
    expect(keV.factor).toBeCloseTo(1.602176634e-16, 30);
  });

  test.each(REFUSED)('%s is refused', (name) => {
    expect(isUnitSymbol(name)).toBe(false);
  });

  test('every prefix that mathjs allows gives the same size, and none that it does not', () => {
    const prefixes = new Set(Object.values(Unit.UNITS).flatMap(({ prefixes: own }) => Object.keys(own)));
    const rowWords = new Set(UNIT_ROWS.flatMap((row) => row.symbols));
    const differing: string[] = [];
    let compared = 0;
    for (const [name, { prefixes: allowed, base }] of Object.entries(Unit.UNITS)) {
      if (REFUSED.includes(name) || base.key === 'TEMPERATURE') continue;
      for (const prefix of prefixes) {
        const word = prefix + name;
        if (Object.hasOwn(ROUNDED_IN_MATHJS, name) || rowWords.has(word)) continue;
        const ours = parseUnit(word);
        if ('problem' in ours) {
          if (Object.hasOwn(allowed, prefix)) differing.push(word);
          continue;
        }
        let theirs: number;
        try {
          theirs = mathjsSI(1, word);
        } catch {
          differing.push(word);
          continue;
        }
        compared++;
        if (Math.abs(ours.factor / theirs - 1) > 1e-14)
          differing.push(`${word} ${String(ours.factor)} ${String(theirs)}`);
      }
    }
    expect(compared).toBeGreaterThan(2000);
    expect(differing).toEqual([]);
    // mathjs takes its time over four thousand units, more on a busy machine.
  }, 60_000);
});

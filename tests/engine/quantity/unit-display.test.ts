import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  dimension,
  displayUnit,
  fromSI,
  power,
  toSI,
  UNIT_ROWS,
  unitsOf,
} from '../../../src/engine/quantity/index.ts';
import type { Unit, UnitSystem } from '../../../src/engine/quantity/index.ts';
import { unit } from './read.ts';

const SYSTEMS = ['us', 'si'] as const;

function shown(text: string, system: UnitSystem): string {
  const own = unit(text);
  return displayUnit(own, own.dimension, own.reading, system).symbol;
}

const COMPOUND = ['cfm/ft2', 'm3/(h m2)', 'Btu/(h ft2 degF)', 'W/(m2 K)', '$/ft2', 'lb/ft3', 'ft/min', 'L/s'];
const EVERY: readonly Unit[] = [...UNIT_ROWS.map((row) => row.symbols[0]), ...COMPOUND].map(unit);

describe('the unit in which a value is shown', () => {
  test.each([
    ['ft2', 'ft²', 'm²'],
    ['m2', 'ft²', 'm²'],
    ['ft', 'ft', 'm'],
    ['cfm', 'cfm', 'm³/h'],
    ['m3/h', 'cfm', 'm³/h'],
    ['L/s', 'cfm', 'L/s'],
    ['cfm/ft2', 'cfm/ft²', 'm³/(h·m²)'],
    ['R_IP', 'h·ft²·°F/Btu', 'm²·K/W'],
    ['W/(m2 K)', 'Btu/(h·ft²·°F)', 'W/(m²·K)'],
    ['degC', '°F', '°C'],
    ['degF', '°F', '°C'],
    ['K', 'Δ°F', 'K'],
    ['$/ft2', '$/ft²', '$/m²'],
    // Used in both systems.
    ['Pa', 'Pa', 'Pa'],
    ['1/h', '1/h', '1/h'],
    ['%', '%', '%'],
    ['h', 'h', 'h'],
    ['$', '$', '$'],
  ])('%s is %s or %s', (text, us, si) => {
    expect([shown(text, 'us'), shown(text, 'si')]).toEqual([us, si]);
  });

  test.each([
    ['kg/m3', 'us', 'lb/ft³'],
    ['m/(s2 K)', 'us', 'ft/(s²·°F)'],
    ['1/m', 'us', '1/ft'],
    ['kg m', 'us', 'lb·ft'],
    ['ft^0.65', 'si', 'm^0.65'],
  ] as const)(
    'what is typed for %s on a %s screen takes on a unit as people write it: %s',
    (text, system, as) => {
      const own = unit(text);
      const other = displayUnit(own, own.dimension, false, system);
      expect(other.text).toBe(as);
      expect(other.dimension).toBe(own.dimension);
    },
  );

  test('without a unit of its own a value takes the everyday one of its dimension', () => {
    for (const [d, us, si] of [
      [unit('m3/h').dimension, 'cfm', 'm³/h'],
      [unit('m3').dimension, 'ft³', 'm³'],
      [unit('kPa').dimension, 'Pa', 'Pa'],
    ] as const)
      expect(SYSTEMS.map((system) => displayUnit(undefined, d, false, system).symbol)).toEqual([us, si]);
    expect(SYSTEMS.map((s) => displayUnit(undefined, dimension({ temperature: 1 }), true, s).symbol)).toEqual(
      ['°F', '°C'],
    );
    expect(
      SYSTEMS.map((s) => displayUnit(undefined, dimension({ temperature: 1 }), false, s).symbol),
    ).toEqual(['Δ°F', 'K']);
  });

  test('a unit of another dimension, as of a cell whose formula changed, is not forced on the value', () => {
    const shownAs = displayUnit(unit('ft2'), unit('Pa').dimension, false, 'us');
    expect(shownAs.symbol).toBe('Pa');
  });

  test('a dimension that nobody has a unit for is shown in base units of the system', () => {
    const odd = power(dimension({ length: 3, mass: 1, temperature: -1 }), 0.5);
    for (const system of SYSTEMS) expect(displayUnit(undefined, odd, false, system).dimension).toBe(odd);
    expect(displayUnit(undefined, odd, false, 'us').symbol).toMatch(/ft.*lb|lb.*ft/u);
  });
});

describe('the toggle is display only', () => {
  test('dimension and kind stay, whichever unit of the tables is shown', () => {
    for (const own of EVERY)
      for (const system of SYSTEMS) {
        const to = displayUnit(own, own.dimension, own.reading, system);
        expect([to.dimension, to.reading], `${own.symbol} in ${system}`).toEqual([
          own.dimension,
          own.reading,
        ]);
        // Shown once more, it is what it was.
        expect(displayUnit(to, to.dimension, to.reading, system).symbol, own.symbol).toBe(to.symbol);
      }
  });

  test('there and back any number of times: the value typed is the value shown', () => {
    const any = fc.double({ min: -1e9, max: 1e9, noNaN: true });
    fc.assert(
      fc.property(any, fc.constantFrom(...EVERY), (typed, own) => {
        const si = toSI(typed, own);
        for (const system of ['si', 'us', 'si', 'us'] as const) {
          const to = displayUnit(own, own.dimension, own.reading, system);
          const again = toSI(fromSI(si, to), to);
          // A reading near 0 °F lies at 255 K, so its last digit is that of 255.
          const size = Math.max(Math.abs(si), own.reading ? 460 : 0);
          expect(Math.abs(again - si)).toBeLessThanOrEqual(4e-16 * size + 1e-300);
        }
        expect(Math.abs(fromSI(si, own) - typed)).toBeLessThanOrEqual(
          4e-16 * Math.max(Math.abs(typed), own.reading ? 1000 : 0) + 1e-300,
        );
      }),
      { numRuns: 2000 },
    );
  });
});

test('units offered: everyday ones first, each once, all of the dimension', () => {
  const flow = unit('cfm').dimension;
  expect(
    unitsOf(flow, false)
      .slice(0, 3)
      .map((u) => u.symbol),
  ).toEqual(['cfm', 'm³/h', 'L/s']);
  expect(unitsOf(unit('K').dimension, true).map((u) => u.symbol)).toEqual(['°F', '°C']);
  for (const { dimension: d, reading } of EVERY) {
    const offered = unitsOf(d, reading);
    expect(offered.length).toBeGreaterThan(0);
    expect(new Set(offered.map((u) => u.symbol)).size).toBe(offered.length);
    for (const u of offered) expect([u.dimension, u.reading]).toEqual([d, reading]);
  }
});

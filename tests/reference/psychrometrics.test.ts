/**
 * Moist air against published tables and against the psychrolib package (1.1.1), whose formulas are those of
 * ASHRAE Handbook Fundamentals 2017, chapter 1.
 */
import fc from 'fast-check';
import psychrolib from 'psychrolib';
import { describe, expect, it } from 'vitest';
import {
  atmosphericPressure,
  dewPoint,
  humidityRatio,
  humidityRatioAtWetBulb,
  interstitialDewPoint,
  interstitialSaturation,
  moistAirEnthalpy,
  moistAirVolume,
  relativeHumidity,
  saturationPressure,
  wetBulb,
} from '../../src/trade/index.ts';
import { expectRelative, sound } from '../trade/closeness.ts';

const K = 273.15;
const SEA = 101325;
const fahrenheit = (f: number): number => K + (f - 32) / 1.8;

describe('ASHRAE Handbook Fundamentals 2017, chapter 1', () => {
  it.each([
    [-20, 103.24],
    [-5, 401.74],
    [5, 872.6],
    [25, 3169.7],
    [50, 12351.3],
    [100, 101418],
  ])('table 3: saturation pressure at %d °C', (t, pws) => {
    expectRelative(saturationPressure(t + K), pws, 3e-4);
  });

  it.each([
    [-4, 0.014974],
    [23, 0.058268],
    [41, 0.12656],
    [77, 0.45973],
    [122, 1.7914],
  ])('table 3, inch-pound: saturation pressure at %d °F, psi', (t, pws) => {
    expectRelative(sound(saturationPressure(fahrenheit(t))) / 6894.757293168, pws, 3e-4);
  });

  it.each([
    [-20, 0.0006373, 0.01],
    [-5, 0.0024863, 0.005],
    [5, 0.005425, 0.005],
    [25, 0.020173, 0.005],
    [50, 0.086863, 0.01],
  ])('table 2: humidity ratio of saturated air at %d °C', (t, w, tolerance) => {
    expectRelative(humidityRatio(t + K, 1, SEA), w, tolerance);
  });

  it('table 1: standard atmosphere', () => {
    expect(Math.round(sound(atmosphericPressure(0)))).toBe(101325);
    expect(Math.round(sound(atmosphericPressure(500)))).toBe(95461);
    expect(Math.round(sound(atmosphericPressure(1000)))).toBeGreaterThanOrEqual(89874);
    expect(Math.round(sound(atmosphericPressure(1000)))).toBeLessThanOrEqual(89875);
  });

  it('example 1: 40 °C dry bulb, 20 °C wet bulb', () => {
    const w = sound(humidityRatioAtWetBulb(40 + K, 20 + K, SEA));
    expect(Math.abs(w - 0.0065)).toBeLessThan(1e-4);
    const rh = sound(relativeHumidity(40 + K, w, SEA));
    expect(Math.abs(rh - 0.14)).toBeLessThan(0.01);
    expect(Math.abs(sound(dewPoint(40 + K, rh)) - K - 7)).toBeLessThan(0.5);
    expectRelative(moistAirEnthalpy(40 + K, w), 56700, 0.01);
    expectRelative(moistAirVolume(40 + K, w, SEA), 0.896, 0.01);
  });

  it('example 1, inch-pound: 100 °F dry bulb, 65 °F wet bulb', () => {
    const w = sound(humidityRatioAtWetBulb(fahrenheit(100), fahrenheit(65), SEA));
    expect(Math.abs(w - 0.00523)).toBeLessThan(1e-4);
    const rh = sound(relativeHumidity(fahrenheit(100), w, SEA));
    expect(Math.abs(rh - 0.13)).toBeLessThan(0.01);
    expectRelative(sound(moistAirVolume(fahrenheit(100), w, SEA)) / 0.0624279606, 14.22, 0.01);
  });

  it('further values of the same tables', () => {
    expectRelative(moistAirEnthalpy(30 + K, 0.02), 81316, 1e-12);
    expectRelative(moistAirVolume(30 + K, 0.02, 95461), 0.940855374352943, 1e-12);
  });
});

it.each([
  [-10, 259.9, 1.6062e-3, -6072],
  [5, 872.5, 5.424e-3, 18639],
  [20, 2338.8, 1.4758e-2, 57555],
])('saturated air at %d °C, handbook tables as a second open library tests them', (t, pws, w, h) => {
  expectRelative(saturationPressure(t + K), pws, 3e-4);
  expectRelative(humidityRatio(t + K, 1, SEA), w, 0.005);
  expect(Math.abs(sound(moistAirEnthalpy(t + K, sound(humidityRatio(t + K, 1, SEA)))) - h)).toBeLessThan(170);
});

describe('psychrolib', () => {
  psychrolib.SetUnitSystem(psychrolib.SI);
  const state = fc.record({
    t: fc.double({ min: -40, max: 55, noNaN: true }),
    rh: fc.double({ min: 0.02, max: 1, noNaN: true }),
    p: fc.double({ min: 60_000, max: 108_000, noNaN: true }),
  });

  it('agrees on 2,000 random states of the air', () => {
    fc.assert(
      fc.property(state, ({ t, rh, p }) => {
        const w = sound(humidityRatio(t + K, rh, p));
        expectRelative(saturationPressure(t + K), psychrolib.GetSatVapPres(t), 1e-10, 'saturation');
        expectRelative(w, psychrolib.GetHumRatioFromRelHum(t, rh, p), 1e-10, 'humidity ratio');
        expectRelative(relativeHumidity(t + K, w, p), rh, 1e-10, 'there and back');
        expectRelative(moistAirEnthalpy(t + K, w), psychrolib.GetMoistAirEnthalpy(t, w), 1e-9, 'enthalpy');
        expectRelative(moistAirVolume(t + K, w, p), psychrolib.GetMoistAirVolume(t, w, p), 1e-10, 'volume');
        // The library stops at 0.001 K.
        const dew = psychrolib.GetTDewPointFromRelHum(t, rh);
        expect(Math.abs(sound(dewPoint(t + K, rh)) - K - dew)).toBeLessThan(1.1e-3);
        const wet = psychrolib.GetTWetBulbFromRelHum(t, rh, p);
        expect(Math.abs(sound(wetBulb(t + K, rh, p)) - K - wet)).toBeLessThan(2.1e-3);
      }),
      { numRuns: 2000 },
    );
  });

  it('agrees on the pressure of the atmosphere', () => {
    for (const z of [-400, 0, 350, 1524, 3000, 9000])
      expectRelative(atmosphericPressure(z), psychrolib.GetStandardAtmPressure(z), 1e-12);
  });
});

describe('dew point', () => {
  it.each([
    [25, 33],
    [30, 37],
    [35, 41],
    [45, 48],
  ])('of 70 °F at %d %%, as a city’s plan record prints it (Aspen, record 2164958)', (rh, dew) => {
    expect(Math.round((sound(dewPoint(fahrenheit(70), rh / 100)) - K) * 1.8 + 32)).toBe(dew);
  });

  it('saturates its own air again, over ice and over water', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -60, max: 60, noNaN: true }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        (t, rh) => {
          const at = sound(dewPoint(t + K, rh));
          expectRelative(saturationPressure(at), rh * sound(saturationPressure(t + K)), 1e-9);
        },
      ),
    );
  });

  it('below freezing is taken over ice: over water −10 °C would be a tenth too high', () => {
    const water = Math.exp(
      -5.8002206e3 / 263.15 +
        1.3914993 -
        4.8640239e-2 * 263.15 +
        4.1764768e-5 * 263.15 ** 2 -
        1.4452093e-8 * 263.15 ** 3 +
        6.5459673 * Math.log(263.15),
    );
    expectRelative(water, 286.5, 1e-3);
    expectRelative(saturationPressure(263.15), 259.903, 1e-5);
  });
});

describe('the interstitial formula (from memory, confirmed by the printed pressures)', () => {
  it('gives the pressures of the winter climate of DIN 4108-3', () => {
    expect(Math.round(0.5 * interstitialSaturation(20 + K))).toBe(1168);
    expect(Math.round(0.8 * interstitialSaturation(-5 + K))).toBe(321);
  });

  it('is turned round exactly, and lies near the handbook’s from −20 to 40 °C', () => {
    for (let t = -20; t <= 40; t += 0.5) {
      expect(Math.abs(interstitialDewPoint(interstitialSaturation(t + K)) - K - t)).toBeLessThan(1e-9);
      expectRelative(interstitialSaturation(t + K), sound(saturationPressure(t + K)), 6e-3);
    }
  });
});

it('refuses what is no air: a slip of unit, a humidity above 100 %, a wet bulb above the dry one', () => {
  expect(saturationPressure(20)).toHaveProperty('fault');
  expect(dewPoint(293.15, 35)).toMatchObject({ fault: 'Relative humidity must lie between 0 and 100 %.' });
  expect(humidityRatio(293.15, 0.5, 14.7)).toHaveProperty('fault');
  expect(humidityRatio(380, 1, SEA)).toHaveProperty('fault');
  expect(humidityRatioAtWetBulb(290, 295, SEA)).toHaveProperty('fault');
  expect(humidityRatioAtWetBulb(313, 275, SEA)).toHaveProperty('fault');
  expect(dewPoint(293.15, 0)).toHaveProperty('fault');
  expect(atmosphericPressure(40_000)).toHaveProperty('fault');
  expect(moistAirEnthalpy(293.15, -1)).toHaveProperty('fault');
});

import { describe, expect, it } from 'vitest';
import psychrolib from 'psychrolib';
import { airDensity, airViscosity, envelopeFlowFactor, moistAirDensity } from '../../src/trade/index.ts';
import { expectRelative, sound } from '../trade/closeness.ts';

const kelvin = (celsius: number) => celsius + 273.15;
const temperatures = [-20, -10, 0, 10, 20, 30];

/** Elevation in metres, then kg/m³ at those temperatures. */
const densities: readonly (readonly [number, ...number[]])[] = [
  [0, 1.394472, 1.34145, 1.292312, 1.246648, 1.2041, 1.164361],
  [300, 1.346385, 1.295191, 1.247749, 1.203658, 1.162578, 1.124209],
  [500, 1.31508, 1.265077, 1.218737, 1.175672, 1.135547, 1.09807],
  [1000, 1.239388, 1.192263, 1.14859, 1.108004, 1.070188, 1.034869],
  [1609.344, 1.151953, 1.108152, 1.067561, 1.029838, 0.99469, 0.961862],
  [2000, 1.098575, 1.056804, 1.018094, 0.982119, 0.948599, 0.917292],
];

describe('air density', () => {
  it('is the table computed independently from the form remembered for ASTM E779 (from memory, not read there)', () => {
    for (const [elevation, ...row] of densities) {
      row.forEach((expected, i) => {
        const computed = sound(airDensity(kelvin(temperatures[i] ?? NaN), elevation));
        expect(Math.abs(computed - expected), `${elevation} m, ${temperatures[i]} °C`).toBeLessThan(6e-7);
      });
    }
  });

  it('is the density of a dry ideal gas at sea level (101325 Pa, 287.055 J/(kg K)) within 0.005 %', () => {
    for (const t of [-10, 0, 10, 20, 30]) {
      expectRelative(airDensity(kelvin(t), 0), 101325 / (287.055 * kelvin(t)), 1e-4, `${t} °C`);
    }
    expectRelative(airDensity(kelvin(20), 0), 1.204097, 5e-6);
  });

  it('is the U.S. Standard Atmosphere, 1976, within 0.3 % up to 1,000 m (its values from memory)', () => {
    expectRelative(airDensity(288.15, 0), 1.225, 3e-3);
    expectRelative(airDensity(281.65, 1000), 1.1117, 3e-3);
  });
});

describe('density of moist air', () => {
  it('is the table computed independently from the form remembered for ISO 9972 (from memory, not read there)', () => {
    for (const [humidity, ...row] of [
      [0, 1.341369, 1.292261, 1.246622, 1.204097, 1.164378],
      [0.5, 1.34065, 1.290786, 1.243764, 1.198843, 1.155162],
    ] as const)
      row.forEach((expected, i) => {
        const computed = sound(moistAirDensity(kelvin(-10 + 10 * i), humidity, 101_325));
        expect(Math.abs(computed - expected), `${humidity}, ${-10 + 10 * i} °C`).toBeLessThan(6e-7);
      });
  });

  it('is that of the psychrolib package (ASHRAE Handbook Fundamentals 2017, chapter 1) within 0.02 %', () => {
    psychrolib.SetUnitSystem(psychrolib.SI);
    for (const t of [2, 12, 20, 28])
      for (const humidity of [0.1, 0.4, 0.7, 1])
        for (const pressure of [101_325, 84_000]) {
          const ratio = psychrolib.GetHumRatioFromRelHum(t, humidity, pressure);
          const density = (1 + ratio) / psychrolib.GetMoistAirVolume(t, ratio, pressure);
          expectRelative(moistAirDensity(kelvin(t), humidity, pressure), density, 2e-4, `${t}, ${humidity}`);
        }
  });

  it.each([
    [293.15, 45, 101_325, /between 0 and 100 %/],
    [293.15, -0.1, 101_325, /between 0 and 100 %/],
    [293.15, 0.45, 50, /between 20,000 and 110,000 Pa/],
    [20, 0.45, 101_325, /no temperature of the air/],
  ])('says what is wrong with %d K, %d, %d Pa', (temperature, humidity, pressure, message) => {
    expect(moistAirDensity(temperature, humidity, pressure)).toHaveProperty(
      'fault',
      expect.stringMatching(message),
    );
  });
});

describe('air viscosity', () => {
  it('is the table computed independently from the form remembered for ASTM E779 (from memory, not read there)', () => {
    const expected = [1.614557e-5, 1.665393e-5, 1.715337e-5, 1.764423e-5, 1.812688e-5, 1.860163e-5];
    expected.forEach((viscosity, i) => {
      const computed = sound(airViscosity(kelvin(temperatures[i] ?? NaN)));
      expect(Math.abs(computed - viscosity), `${temperatures[i]} °C`).toBeLessThan(6e-12);
    });
    expectRelative(airViscosity(kelvin(4)), 1.7350722391e-5, 1e-10);
  });

  it('is the U.S. Standard Atmosphere, 1976, at sea level within 0.05 % (its value from memory)', () => {
    expectRelative(airViscosity(288.15), 1.7894e-5, 5e-4);
  });
});

describe('fan flow to envelope flow, by conservation of mass (elementary; cases computed independently)', () => {
  it.each([
    ['depressurise', 20, -5, 0, 0.91467577],
    ['pressurise', 20, -5, 0, 1.09328358],
    ['depressurise', 20, -5, 1609.344, 0.91467577],
    ['depressurise', 21, 30, 300, 1.03061224],
  ] as const)(
    '%s, %d °C inside, %d °C outside, %d m: %d',
    (direction, inside, outside, elevation, factor) => {
      const [rhoIn, rhoOut] = [inside, outside].map((t) => sound(airDensity(kelvin(t), elevation)));
      expectRelative(envelopeFlowFactor(direction, rhoIn ?? NaN, rhoOut ?? NaN), factor, 6e-9);
    },
  );

  it('is 1 with the same air on both sides', () => {
    expect(envelopeFlowFactor('depressurise', 1.2, 1.2)).toBe(1);
    expect(envelopeFlowFactor('pressurise', 1.2, 1.2)).toBe(1);
  });

  it('keeps the mass: out through the fan as in through the leaks', () => {
    const fan = 0.2;
    expectRelative(sound(envelopeFlowFactor('depressurise', 1.2, 1.3)) * fan * 1.3, fan * 1.2, 1e-14);
    expectRelative(sound(envelopeFlowFactor('pressurise', 1.2, 1.3)) * fan * 1.2, fan * 1.3, 1e-14);
  });

  it('has the ratios of viscosity and density of the same cases, to 20 °C at sea level', () => {
    const mu0 = sound(airViscosity(kelvin(20)));
    const rho0 = sound(airDensity(kelvin(20), 0));
    expectRelative(sound(airViscosity(kelvin(-5))) / mu0, 0.93257877, 6e-9);
    expectRelative(sound(airViscosity(kelvin(30))) / mu0, 1.02619037, 6e-9);
    expectRelative(sound(airDensity(kelvin(-5), 0)) / rho0, 1.09328358, 6e-9);
    expectRelative(sound(airDensity(kelvin(-5), 1609.344)) / rho0, 0.90314585, 6e-9);
    expectRelative(sound(airDensity(kelvin(30), 300)) / rho0, 0.93365093, 6e-9);
  });
});

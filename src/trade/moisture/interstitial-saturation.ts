/**
 * The saturation formula of the interstitial-condensation method, and its inverse. It differs from Hyland and Wexler by
 * up to 0.5 % between −20 and 40 °C, so a dew point and the pressures it is compared with must come from the same one.
 */
import { defineFunction, fault, type Fault } from '../../engine/index.ts';
import { airStateFault } from './air-state-fault.ts';

const ZERO_CELSIUS = 273.15;
const AT_ZERO = 610.5;

/** Saturation pressure, Pa, at a temperature in kelvin, without a check of its range. */
export function interstitialSaturation(kelvin: number): number {
  const t = kelvin - ZERO_CELSIUS;
  return t >= 0
    ? AT_ZERO * Math.exp((17.269 * t) / (237.3 + t))
    : AT_ZERO * Math.exp((21.875 * t) / (265.5 + t));
}

/** Temperature, K, at which vapour of this pressure (Pa, above zero) saturates. */
export function interstitialDewPoint(vapourPressure: number): number {
  const L = Math.log(vapourPressure / AT_ZERO);
  return ZERO_CELSIUS + (L >= 0 ? (237.3 * L) / (17.269 - L) : (265.5 * L) / (21.875 - L));
}

function slope(kelvin: number): number {
  const t = kelvin - ZERO_CELSIUS;
  const p = interstitialSaturation(kelvin);
  return t >= 0 ? (p * 17.269 * 237.3) / (237.3 + t) ** 2 : (p * 21.875 * 265.5) / (265.5 + t) ** 2;
}

/** The formula reaches no further. */
const LIMITS = '−100 to 80 °C.';
const WARMEST = ZERO_CELSIUS + 80;

function stateFault(temperature: number, relativeHumidity: number): Fault | undefined {
  if (temperature > WARMEST)
    return fault('The temperature must lie between −100 and 80 °C.', 'Check the unit: 68 degF is 20 degC.');
  return airStateFault({ temperature, relativeHumidity });
}

const SOURCE =
  'The two-branch formula of the interstitial-condensation method (remembered for ISO 13788 annex E, from memory), confirmed by the pressures printed for the winter climate of DIN 4108-3: 1168 Pa at 20 °C and 50 %, 321 Pa at −5 °C and 80 %.';
const temperature = {
  name: 'temperature',
  type: { kind: 'quantity', unit: 'degC' },
  summary: 'Of the air or surface',
} as const;
const humidity = {
  name: 'relative_humidity',
  type: { kind: 'quantity', unit: '' },
  summary: '100 % for saturation',
} as const;

export const vapourPressureFunction = defineFunction({
  name: 'vapour_pressure',
  summary: 'Pressure of the water vapour in air of this temperature and relative humidity.',
  source: SOURCE,
  limits: LIMITS,
  parameters: [temperature, humidity],
  result: { kind: 'quantity', unit: 'Pa' },
  example: { formula: 'vapour_pressure(20 degC, 50 %)', arguments: [293.15, 0.5], result: 1168.475571901171 },
  compute: (kelvin: number, relativeHumidity: number) =>
    stateFault(kelvin, relativeHumidity) ?? relativeHumidity * interstitialSaturation(kelvin),
  partials: (kelvin: number, relativeHumidity: number) => ({
    result: [relativeHumidity * slope(kelvin), interstitialSaturation(kelvin)],
  }),
});

export const dewPointInWallFunction = defineFunction({
  name: 'dew_point_in_wall',
  summary: 'Dew point of air, by the formula that the pressures inside an assembly are worked out with.',
  source: SOURCE,
  limits: `${LIMITS} Within 0.05 K of dew_point near room conditions.`,
  parameters: [temperature, humidity],
  result: { kind: 'quantity', unit: 'degC' },
  example: {
    formula: 'dew_point_in_wall(20 degC, 50 %)',
    arguments: [293.15, 0.5],
    result: 282.4190331857408,
  },
  compute: (kelvin: number, relativeHumidity: number) => {
    const wrong = stateFault(kelvin, relativeHumidity);
    if (wrong) return wrong;
    const pressure = relativeHumidity * interstitialSaturation(kelvin);
    return pressure > 1e-6
      ? interstitialDewPoint(pressure)
      : fault('Air this dry has no dew point.', 'Check the relative humidity.');
  },
  partials: (kelvin: number, relativeHumidity: number) => {
    const pressure = relativeHumidity * interstitialSaturation(kelvin);
    const at = slope(interstitialDewPoint(pressure));
    return { result: [(relativeHumidity * slope(kelvin)) / at, interstitialSaturation(kelvin) / at] };
  },
});

import { defineFunction, type Fault } from '../../engine/index.ts';
import { airStateFault } from './air-state-fault.ts';

/** Triple point of water, K. The two branches meet here, not at 0 °C. */
const TRIPLE_POINT = 273.16;

/** ln of the saturation pressure in Pa, over ice up to the triple point, over water above. T in kelvin. */
export function lnSaturationPressure(T: number): number {
  return T <= TRIPLE_POINT
    ? -5.6745359e3 / T +
        6.3925247 -
        9.677843e-3 * T +
        6.2215701e-7 * T ** 2 +
        2.0747825e-9 * T ** 3 -
        9.484024e-13 * T ** 4 +
        4.1635019 * Math.log(T)
    : -5.8002206e3 / T +
        1.3914993 -
        4.8640239e-2 * T +
        4.1764768e-5 * T ** 2 -
        1.4452093e-8 * T ** 3 +
        6.5459673 * Math.log(T);
}

/** Its derivative by the temperature, 1/K. */
export function lnSaturationPressureSlope(T: number): number {
  return T <= TRIPLE_POINT
    ? 5.6745359e3 / T ** 2 -
        9.677843e-3 +
        2 * 6.2215701e-7 * T +
        3 * 2.0747825e-9 * T ** 2 -
        4 * 9.484024e-13 * T ** 3 +
        4.1635019 / T
    : 5.8002206e3 / T ** 2 - 4.8640239e-2 + 2 * 4.1764768e-5 * T - 3 * 1.4452093e-8 * T ** 2 + 6.5459673 / T;
}

/** Pressure of saturated water vapour, Pa, over ice below 0.01 °C and over water above; temperature in kelvin. */
export function saturationPressure(temperature: number): number | Fault {
  return airStateFault({ temperature }) ?? Math.exp(lnSaturationPressure(temperature));
}

export const saturationPressureFunction = defineFunction({
  name: 'saturation_pressure',
  summary: 'Pressure of saturated water vapour: over ice below 0.01 °C, over water above.',
  source:
    'Hyland and Wexler (1983) as in ASHRAE Handbook Fundamentals 2017, chapter 1, equations 5 and 6. Checked against table 3 of that chapter and the psychrolib package.',
  limits: '−100 to 200 °C, pure water; moist air saturates at a pressure up to 0.5 % higher.',
  parameters: [
    { name: 'temperature', type: { kind: 'quantity', unit: 'degC' }, summary: 'Of the air or surface' },
  ],
  result: { kind: 'quantity', unit: 'Pa' },
  example: { formula: 'saturation_pressure(20 degC)', arguments: [293.15], result: 2338.8037000739814 },
  compute: saturationPressure,
  partials: (temperature: number) => ({
    result: [Math.exp(lnSaturationPressure(temperature)) * lnSaturationPressureSlope(temperature)],
  }),
});

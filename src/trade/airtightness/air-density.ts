import { defineFunction, fault, type Fault } from '../../engine/index.ts';
import { airTemperatureFault } from './air-temperature.ts';

/** The layer of the atmosphere in which it cools evenly with height ends here. */
const HIGHEST_ELEVATION = 11_000;
const LOWEST_ELEVATION = -500;

/**
 * Density of dry air, kg/m³, at a temperature in kelvin and an elevation in metres:
 * 1.2041 (1 − 0.0065 E/293)^5.2553 × 293/(T + 273), T in °C.
 */
export function airDensity(temperature: number, elevation: number): number | Fault {
  const wrong = airTemperatureFault(temperature);
  if (wrong) return wrong;
  if (!(elevation >= LOWEST_ELEVATION && elevation <= HIGHEST_ELEVATION)) {
    return fault(
      'The elevation must lie between −500 m and 11,000 m (36,089 ft).',
      'Give the height of the site above sea level.',
    );
  }
  const atSea = 1.2041 * (293 / (temperature - 273.15 + 273));
  return atSea * Math.pow(1 - (0.0065 * elevation) / 293, 5.2553);
}

export const airDensityFunction = defineFunction({
  name: 'air_density',
  summary: 'Density of dry air at a temperature and a height above sea level.',
  source:
    'From memory: the form remembered for ASTM E779, not read there. Checked against the law of ideal gases, which gives 1.204097 kg/m³ at 20 °C and 101325 Pa.',
  limits:
    'Dry air at the usual pressure of that height. −90 to 60 °C and −500 to 11,000 m; the temperatures are our own bounds, to catch a slip of unit.',
  parameters: [
    { name: 'temperature', type: { kind: 'quantity', unit: 'degC' }, summary: 'Of the air' },
    { name: 'elevation', type: { kind: 'quantity', unit: 'm' }, summary: 'Of the site above sea level' },
  ],
  result: { kind: 'quantity', unit: 'kg/m3' },
  example: { formula: 'air_density(20 degC, 0 m)', arguments: [293.15, 0], result: 1.2041 },
  compute: airDensity,
  partials: (temperature: number, elevation: number) => {
    const density = airDensity(temperature, elevation);
    if (typeof density !== 'number') return {};
    const slope = (-density * 5.2553 * 0.0065) / 293 / (1 - (0.0065 * elevation) / 293);
    return { result: [-density / (temperature - 273.15 + 273), slope] };
  },
});

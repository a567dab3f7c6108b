import { defineFunction, fault, type Fault } from '../../engine/index.ts';
import { airTemperatureFault } from './air-temperature.ts';

/** Gas constant of dry air, J/(kg K). */
const GAS_CONSTANT = 287.055;
/** One less the ratio of the molar masses of water and of dry air. */
const LIGHTER = 0.37802;

/** Pressure of saturated vapour over water, Pa, at a temperature in kelvin. */
function saturation(kelvin: number): number {
  return Math.exp(59.484085 - 6790.4985 / kelvin - 5.02802 * Math.log(kelvin));
}

/**
 * Density of moist air, kg/m³, at a temperature in kelvin, a relative humidity as a part of 1 and a pressure in Pa:
 * (p − 0.37802 φ p_sat)/(287.055 T).
 */
export function moistAirDensity(
  temperature: number,
  relativeHumidity: number,
  pressure: number,
): number | Fault {
  const wrong = airTemperatureFault(temperature);
  if (wrong) return wrong;
  if (!(relativeHumidity >= 0 && relativeHumidity <= 1))
    return fault('The relative humidity must lie between 0 and 100 %.', 'Type it with its unit: 45 %.');
  if (!(pressure >= 20_000 && pressure <= 110_000))
    return fault(
      'The air pressure must lie between 20,000 and 110,000 Pa.',
      'Type the pressure on site, not the one reduced to sea level; a test pressure is something else.',
    );
  return (pressure - LIGHTER * relativeHumidity * saturation(temperature)) / (GAS_CONSTANT * temperature);
}

export const moistAirDensityFunction = defineFunction({
  name: 'moist_air_density',
  summary: 'Density of moist air at a temperature, a relative humidity and an air pressure.',
  source:
    'From memory: the form remembered for ISO 9972, not read there. Checked against the psychrolib package and, dry, against the law of ideal gases.',
  limits:
    '−90 to 60 °C, 0 to 100 % and 20,000 to 110,000 Pa: our own bounds, to catch a slip of unit. Humidity is over water, also below 0 °C.',
  parameters: [
    { name: 'temperature', type: { kind: 'quantity', unit: 'degC' }, summary: 'Of the air' },
    { name: 'relative_humidity', type: { kind: 'quantity', unit: '' }, summary: 'Of the air' },
    { name: 'pressure', type: { kind: 'quantity', unit: 'Pa' }, summary: 'Of the atmosphere on site' },
  ],
  result: { kind: 'quantity', unit: 'kg/m3' },
  example: {
    formula: 'moist_air_density(20 degC, 50 %, 101325 Pa)',
    arguments: [293.15, 0.5, 101_325],
    result: 1.1988431434098346,
  },
  compute: moistAirDensity,
  partials: (temperature: number, relativeHumidity: number, pressure: number) => {
    const density = moistAirDensity(temperature, relativeHumidity, pressure);
    if (typeof density !== 'number') return {};
    const saturated = saturation(temperature);
    const perPascal = 1 / (GAS_CONSTANT * temperature);
    const steeper = saturated * (6790.4985 / temperature ** 2 - 5.02802 / temperature);
    return {
      result: [
        -density / temperature - LIGHTER * relativeHumidity * steeper * perPascal,
        -LIGHTER * saturated * perPascal,
        perPascal,
      ],
    };
  },
});

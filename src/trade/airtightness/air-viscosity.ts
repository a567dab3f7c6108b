import { defineFunction, type Fault } from '../../engine/index.ts';
import { airTemperatureFault } from './air-temperature.ts';

/** Sutherland's constants for air: kg/(m s K^½) and K. */
const COEFFICIENT = 1.458e-6;
const SUTHERLAND_TEMPERATURE = 110.4;

/** Dynamic viscosity of air, Pa s, at a temperature in kelvin: b √(T + 273)/(1 + s/(T + 273)), T in °C. */
export function airViscosity(temperature: number): number | Fault {
  const wrong = airTemperatureFault(temperature);
  if (wrong) return wrong;
  const absolute = temperature - 273.15 + 273;
  return (COEFFICIENT * Math.sqrt(absolute)) / (1 + SUTHERLAND_TEMPERATURE / absolute);
}

export const airViscosityFunction = defineFunction({
  name: 'air_viscosity',
  summary: 'Dynamic viscosity of air at a temperature.',
  source:
    'From memory: Sutherland’s formula as remembered for ASTM E779, not read there. Checked: 1.81e-5 Pa s at 20 °C.',
  limits: '−90 to 60 °C; our own bounds, to catch a slip of unit. The effect of pressure is left out.',
  parameters: [{ name: 'temperature', type: { kind: 'quantity', unit: 'degC' }, summary: 'Of the air' }],
  result: { kind: 'quantity', unit: 'Pa s' },
  example: { formula: 'air_viscosity(20 degC)', arguments: [293.15], result: 1.81268800379262e-5 },
  compute: airViscosity,
  partials: (temperature: number) => {
    const absolute = temperature - 273.15 + 273;
    const viscosity = (COEFFICIENT * Math.sqrt(absolute)) / (1 + SUTHERLAND_TEMPERATURE / absolute);
    return {
      result: [
        viscosity *
          (0.5 / absolute + SUTHERLAND_TEMPERATURE / (absolute * (absolute + SUTHERLAND_TEMPERATURE))),
      ],
    };
  },
});

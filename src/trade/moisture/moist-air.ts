import { defineFunction, type Fault } from '../../engine/index.ts';
import { airStateFault } from './air-state-fault.ts';

const ZERO_CELSIUS = 273.15;
/** Gas constant of dry air, J/(kg K). */
const GAS_CONSTANT = 287.042;

/** J for each kg of dry air, counted from dry air and liquid water at 0 °C; temperature in kelvin. */
export function moistAirEnthalpy(temperature: number, humidityRatio: number): number | Fault {
  const wrong = airStateFault({ temperature, humidityRatio });
  if (wrong) return wrong;
  const t = temperature - ZERO_CELSIUS;
  return 1000 * (1.006 * t + humidityRatio * (2501 + 1.86 * t));
}

/** m³ of moist air for each kg of dry air in it; temperature in kelvin, pressure in Pa. */
export function moistAirVolume(temperature: number, humidityRatio: number, pressure: number): number | Fault {
  const wrong = airStateFault({ temperature, humidityRatio, pressure });
  if (wrong) return wrong;
  return (GAS_CONSTANT * temperature * (1 + 1.607858 * humidityRatio)) / pressure;
}

const temperature = {
  name: 'temperature',
  type: { kind: 'quantity', unit: 'degC' },
  summary: 'Of the air',
} as const;
const ratio = {
  name: 'humidity_ratio',
  type: { kind: 'quantity', unit: '' },
  summary: 'Mass of vapour for each mass of dry air',
} as const;

export const moistAirEnthalpyFunction = defineFunction({
  name: 'moist_air_enthalpy',
  summary: 'Heat content of moist air for each mass of dry air, counted from 0 °C.',
  source:
    'ASHRAE Handbook Fundamentals 2017, chapter 1, equation 30. Checked against the psychrolib package. The inch-pound form of the handbook counts from 0 °F: only differences agree.',
  limits: '−100 to 200 °C.',
  parameters: [temperature, ratio],
  result: { kind: 'quantity', unit: 'J/kg' },
  example: { formula: 'moist_air_enthalpy(30 degC, 0.02)', arguments: [303.15, 0.02], result: 81316 },
  compute: moistAirEnthalpy,
  partials: (kelvin: number, humidityRatio: number) => ({
    result: [1000 * (1.006 + 1.86 * humidityRatio), 1000 * (2501 + 1.86 * (kelvin - ZERO_CELSIUS))],
  }),
});

export const moistAirVolumeFunction = defineFunction({
  name: 'moist_air_volume',
  summary: 'Volume of moist air for each mass of dry air.',
  source:
    'ASHRAE Handbook Fundamentals 2017, chapter 1, equation 26. Checked against the psychrolib package.',
  limits: '−100 to 200 °C.',
  parameters: [
    temperature,
    ratio,
    { name: 'pressure', type: { kind: 'quantity', unit: 'Pa' }, summary: 'Of the atmosphere' },
  ],
  result: { kind: 'quantity', unit: 'm3/kg' },
  example: {
    formula: 'moist_air_volume(30 degC, 0.02, 95461 Pa)',
    arguments: [303.15, 0.02, 95461],
    result: 0.9408553743529426,
  },
  compute: moistAirVolume,
  partials: (kelvin: number, humidityRatio: number, pressure: number) => {
    const v = (GAS_CONSTANT * kelvin * (1 + 1.607858 * humidityRatio)) / pressure;
    return { result: [v / kelvin, (GAS_CONSTANT * kelvin * 1.607858) / pressure, -v / pressure] };
  },
});

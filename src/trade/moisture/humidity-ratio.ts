import { defineFunction, fault, type Fault } from '../../engine/index.ts';
import { airStateFault } from './air-state-fault.ts';
import { lnSaturationPressure } from './saturation-pressure.ts';

/** Ratio of the molar masses of water and dry air. */
const MASS_RATIO = 0.621945;

/** kg of vapour for each kg of dry air, from the vapour's pressure and the whole pressure, Pa. */
export function humidityRatioOfPressure(vapourPressure: number, pressure: number): number {
  return (MASS_RATIO * vapourPressure) / (pressure - vapourPressure);
}

/** kg/kg of air at a temperature (K), relative humidity (fraction) and pressure (Pa). */
export function humidityRatio(
  temperature: number,
  relativeHumidity: number,
  pressure: number,
): number | Fault {
  const wrong = airStateFault({ temperature, relativeHumidity, pressure });
  if (wrong) return wrong;
  const vapour = relativeHumidity * Math.exp(lnSaturationPressure(temperature));
  if (vapour > 0.9 * pressure)
    return fault('At this temperature and pressure the water boils.', 'Check the temperature and its unit.');
  return humidityRatioOfPressure(vapour, pressure);
}

/** Relative humidity (fraction) of air at a temperature (K) with this humidity ratio (kg/kg) and pressure (Pa). */
export function relativeHumidity(
  temperature: number,
  humidityRatio: number,
  pressure: number,
): number | Fault {
  const wrong = airStateFault({ temperature, humidityRatio, pressure });
  if (wrong) return wrong;
  const vapour = (pressure * humidityRatio) / (MASS_RATIO + humidityRatio);
  return vapour / Math.exp(lnSaturationPressure(temperature));
}

const SOURCE =
  'ASHRAE Handbook Fundamentals 2017, chapter 1, equations 20 and 22. Checked against table 2 of that chapter and the psychrolib package.';
const LIMITS =
  'No enhancement factor: up to 0.5 % below the handbook’s tables. Refused where the water would boil.';
const temperature = {
  name: 'temperature',
  type: { kind: 'quantity', unit: 'degC' },
  summary: 'Of the air',
} as const;
const pressure = {
  name: 'pressure',
  type: { kind: 'quantity', unit: 'Pa' },
  summary: 'Of the atmosphere',
} as const;

export const humidityRatioFunction = defineFunction({
  name: 'humidity_ratio',
  summary: 'Mass of water vapour for each mass of dry air.',
  source: SOURCE,
  limits: LIMITS,
  parameters: [
    temperature,
    { name: 'relative_humidity', type: { kind: 'quantity', unit: '' }, summary: 'Of the air' },
    pressure,
  ],
  result: { kind: 'quantity', unit: '' },
  example: {
    formula: 'humidity_ratio(21 degC, 40 %, 101325 Pa)',
    arguments: [294.15, 0.4, 101325],
    result: 0.006168416837479713,
  },
  compute: humidityRatio,
});

export const relativeHumidityFunction = defineFunction({
  name: 'relative_humidity',
  summary: 'Relative humidity of air that holds this much vapour; above 100 % it condenses.',
  source: SOURCE,
  limits: 'No enhancement factor. A result above 100 % says that the air cannot hold so much.',
  parameters: [
    temperature,
    { name: 'humidity_ratio', type: { kind: 'quantity', unit: '' }, summary: 'Mass of vapour, of dry air' },
    pressure,
  ],
  result: { kind: 'quantity', unit: '' },
  example: {
    formula: 'relative_humidity(15 degC, 0.005, 101325 Pa)',
    arguments: [288.15, 0.005, 101325],
    result: 0.47382584290812246,
  },
  compute: relativeHumidity,
});

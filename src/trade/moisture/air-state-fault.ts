import { fault, written, type Fault } from '../../engine/index.ts';

/** Ends of the range of the saturation formulas, K: −100 to 200 °C. */
export const COLDEST = 173.15;
export const HOTTEST = 473.15;

/** Why these numbers cannot be a state of moist air, if so. Kelvin, a fraction, kg/kg, pascals. */
export function airStateFault(state: {
  readonly temperature?: number;
  readonly relativeHumidity?: number;
  readonly humidityRatio?: number;
  readonly pressure?: number;
}): Fault | undefined {
  const { temperature, relativeHumidity, humidityRatio, pressure } = state;
  if (temperature !== undefined && !(temperature >= COLDEST && temperature <= HOTTEST))
    return fault('The temperature must lie between −100 and 200 °C.', 'Check the unit: 68 degF is 20 degC.');
  if (relativeHumidity !== undefined && !(relativeHumidity >= 0 && relativeHumidity <= 1))
    return fault('Relative humidity must lie between 0 and 100 %.', 'Write it with its unit: 35 %.');
  if (humidityRatio !== undefined && !(humidityRatio >= 0 && humidityRatio < 10))
    return fault(
      'The humidity ratio must not be below zero.',
      `It is the mass of vapour for each mass of dry air: about ${written('0.006')}.`,
    );
  if (pressure !== undefined && !(pressure >= 1000 && pressure <= 1e7))
    return fault(
      'This is no pressure of the atmosphere.',
      `At sea level it is 101325 Pa (${written('29.92')} inHg).`,
    );
  return undefined;
}

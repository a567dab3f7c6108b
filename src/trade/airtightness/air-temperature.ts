import { fault, quantityInWords, type Fault } from '../../engine/index.ts';

/** Our own bounds, a little beyond what weather reaches: a number outside them is a slip of unit. Kelvin. */
const COLDEST = 273.15 - 90;
const HOTTEST = 273.15 + 60;

/** Why a reading in kelvin cannot be the temperature of the air at a test, if so. */
export function airTemperatureFault(kelvin: number): Fault | undefined {
  if (kelvin >= COLDEST && kelvin <= HOTTEST) return undefined;
  if (Number.isNaN(kelvin)) return fault('The air temperature is missing.');
  return fault(
    `${quantityInWords(kelvin, 'degF')} is no temperature of the air at a test.`,
    'Check the unit: 68 degF is 20 degC.',
  );
}

import { defineFunction, fault, type Fault } from '../../engine/index.ts';
import { pressureText } from './pressure-text.ts';

/** A limit converted from another unit may differ from the reading in its last digit. */
const ROUNDING = 1e-9;

/** Empty when the fan pressure is inside the limits of its range, else a warning; NaN for a limit is no limit. */
export function fanReadingStatus(fanPressure: number, lowest: number, highest: number): string | Fault {
  if (lowest > highest) {
    return fault(
      `This range’s lowest fan pressure, ${pressureText(lowest)}, is above its highest, ${pressureText(highest)}.`,
      'Check both limits against the calibration certificate.',
    );
  }
  const rounding = ROUNDING * Math.abs(fanPressure);
  if (fanPressure < lowest - rounding) {
    return `${pressureText(fanPressure)} is under this range’s ${pressureText(lowest)}`;
  }
  if (fanPressure > highest + rounding) {
    return `${pressureText(fanPressure)} is over this range’s ${pressureText(highest)}`;
  }
  return '';
}

export const fanReadingStatusFunction = defineFunction({
  name: 'fan_reading_status',
  summary:
    'Says when a fan pressure lies outside the limits of its range; empty when it is inside. A warning only.',
  source: 'The limits on the calibration certificate of the fan.',
  limits: 'Both limits belong to the range; a reading equal to one is inside.',
  parameters: [
    { name: 'fan_pressure', type: { kind: 'quantity', unit: 'Pa' }, summary: 'As read at the fan' },
    {
      name: 'lowest',
      type: { kind: 'quantity', unit: 'Pa' },
      summary: 'Lowest valid fan pressure of the range',
    },
    {
      name: 'highest',
      type: { kind: 'quantity', unit: 'Pa' },
      summary: 'Highest valid fan pressure of the range',
    },
  ],
  result: { kind: 'text' },
  example: {
    formula: 'fan_reading_status(22.4 Pa, 25 Pa, 300 Pa)',
    arguments: [22.4, 25, 300],
    result: '22.4 Pa is under this range’s 25 Pa',
  },
  compute: fanReadingStatus,
});

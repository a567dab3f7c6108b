import { localNumber } from '../locale.ts';

/** A number of a figure as text: four digits, a true minus, no more zeros than it has. */
export function asDigits(value: number, digits = 4): string {
  return localNumber(String(Number(value.toPrecision(digits)))).replace('-', '−');
}

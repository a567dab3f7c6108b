import { asDigits } from './digits.ts';

/** Half width of the 95 % interval of a normal distribution, in standard uncertainties. */
export const NORMAL_95 = 1.96;

/** What stands behind a value: its standard uncertainty, or that there is one that cannot be told. */
export function spreadWords(spread: number | undefined, untold = false): string {
  if (untold) return ', ± not told';
  return spread === undefined ? '' : ` ± ${asDigits(spread)}`;
}

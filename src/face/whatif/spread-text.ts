/** A ± by itself: two significant digits, in the unit of the value it belongs to. */
import { formatNumber, type Unit } from '../../engine/index.ts';
import { localNumber } from '../locale.ts';

export function spreadText(si: number, unit: Unit | undefined): string {
  const value = si / (unit?.factor ?? 1);
  // As beside a value of its own size: a very small one with a power of ten.
  const text = value > 0 ? (formatNumber(value, { plusMinus: value }).plusMinus ?? '0') : '0';
  return [localNumber(text), unit?.symbol ?? ''].filter((part) => part !== '').join(' ');
}

/** A ± by itself: two significant digits, in the unit of the value it belongs to. */
import { formatNumber, type Unit } from '../../engine/index.ts';

export function spreadText(si: number, unit: Unit | undefined): string {
  const value = si / (unit?.factor ?? 1);
  const size = value > 0 ? Math.floor(Math.log10(value)) : 0;
  const text = value > 0 ? formatNumber(value, { places: Math.max(0, 1 - size) }).value : '0';
  return [text, unit?.symbol ?? ''].filter((part) => part !== '').join(' ');
}

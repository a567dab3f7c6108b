/** A difference with its sign and ±, in the unit of its cell; of temperature readings it has no offset. */
import { formatNumber, type UnitSystem } from '../../engine/index.ts';
import type { Difference } from '../../workbook/index.ts';
import { shownUnit, type DisplayRule } from '../display.ts';
import type { CellState } from '../view.ts';

export function differenceText(
  difference: Pick<Difference, 'value' | 'uncertainty'>,
  like: CellState,
  rule: DisplayRule,
  system: UnitSystem,
): string {
  const unit = shownUnit(rule, like.state === 'value' ? like.type : undefined, system);
  const factor = unit?.factor ?? 1;
  const text = formatNumber(difference.value / factor, {
    ...(difference.uncertainty > 0 ? { plusMinus: difference.uncertainty / factor } : {}),
    ...(difference.uncertainty > 0 || rule.places === undefined ? {} : { places: rule.places + 1 }),
  });
  const sign = difference.value > 0 ? '+' : '';
  return [
    `${sign}${text.value}`,
    text.plusMinus === undefined ? '' : `± ${text.plusMinus}`,
    unit?.symbol ?? '',
  ]
    .filter((part) => part !== '')
    .join(' ');
}

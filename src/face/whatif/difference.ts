/** A difference with its sign and ±, in the unit of its cell; of temperature readings it has no offset. */
import { formatNumber, type UnitSystem } from '../../engine/index.ts';
import type { Difference } from '../../workbook/index.ts';
import { shownUnit, type DisplayRule } from '../display.ts';
import { localNumber } from '../locale.ts';
import type { CellState } from '../view.ts';

export interface ShownDifference {
  readonly text: string;
  /** It is nought, or what is left of it at the places shown is, without a ±. */
  readonly none: boolean;
}

export function showDifference(
  { value: si, uncertainty }: Pick<Difference, 'value' | 'uncertainty'>,
  like: CellState,
  rule: DisplayRule,
  system: UnitSystem,
): ShownDifference {
  const unit = shownUnit(rule, like.state === 'value' ? like.type : undefined, system);
  const factor = unit?.factor ?? 1;
  const uncertain = uncertainty > 0;
  const { value, plusMinus } = formatNumber(si / factor, {
    ...(uncertain ? { plusMinus: uncertainty / factor } : {}),
    ...(uncertain || rule.places === undefined ? {} : { places: placesOf(si / factor, rule.places) }),
  });
  const zero = !/[1-9]/u.test(value);
  const text = [
    `${si > 0 && !zero ? '+' : ''}${localNumber(value)}`,
    plusMinus === undefined ? '' : `± ${localNumber(plusMinus)}`,
    unit?.symbol ?? '',
  ];
  return { text: text.filter((part) => part !== '').join(' '), none: si === 0 || (zero && !uncertain) };
}

/** One more than the value has, but where that one is a nought: 32 bags more, not 32.0. */
function placesOf(value: number, places: number): number {
  const last = value * 10 ** places;
  return Math.abs(last - Math.round(last)) < 1e-9 * Math.max(1, Math.abs(last)) && last !== 0
    ? places
    : places + 1;
}

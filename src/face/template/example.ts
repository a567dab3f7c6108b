/** What a template has in a cell, as the hint of a new job says it: in the unit on the screen. */
import { readEntry, type UnitSystem } from '../../engine/index.ts';
import type { Cell } from '../../workbook/index.ts';
import { asText, ownUnit, show, shownUnit } from '../display.ts';
import { isBareNumber, isInOtherUnit, textToEdit } from '../entry.ts';
import { localText } from '../locale.ts';

/** `keep it` writes the text itself, so what is on the screen in its own unit is shown as it was typed. */
export function exampleText(text: string, cell: Cell, system: UnitSystem): string {
  if (cell.type !== 'number') return text;
  const own = ownUnit(cell.unit);
  const unit = shownUnit(cell, undefined, system);
  const there = unit && { own: cell.unit, shown: unit.text };
  const read = readEntry(text, own);
  if (own && there && 'literal' in read && isInOtherUnit(textToEdit(text, there), there)) {
    const { si, plusMinus } = read.literal;
    const type = { kind: 'quantity', dimension: own.dimension, reading: own.reading } as const;
    const state = { state: 'value', type, value: si, typed: true, ...(plusMinus && { plusMinus }) } as const;
    return asText(show(state, { ...cell, text }, system));
  }
  const symbol = isBareNumber(text) ? (own?.symbol ?? '') : '';
  return `${localText(text)} ${symbol}`.trimEnd();
}

/** What a cell of a grid says, in one piece: thousands are made anew at an edit, and few of them differ. */
import type { UnitSystem } from '../../engine/index.ts';
import type { Column } from '../../workbook/index.ts';
import { asText, doubtText, doubtWord, show, type Shown } from '../display.ts';
import { standingOfText, type Standing } from '../verdict.ts';
import type { CellState } from '../view.ts';

export interface Look {
  readonly kind: Shown['kind'];
  /** In one line. */
  readonly text: string;
  /** Of a number: without its ±. */
  readonly value: string;
  /** With its sign; empty where there is none. */
  readonly plusMinus: string;
  readonly standing: Standing;
  readonly doubt: string;
  readonly doubtReason: string;
}

export const EMPTY: Look = {
  kind: 'blank',
  text: '',
  value: '',
  plusMinus: '',
  standing: '',
  doubt: '',
  doubtReason: '',
};

/** `typed`: what stands in the cell as it was typed, if anything. */
export function lookOf(
  state: CellState,
  column: Column,
  typed: string | undefined,
  system: UnitSystem,
): Look {
  const shown = show(state, typed === undefined ? column : { ...column, text: typed }, system);
  const said = { ...EMPTY, kind: shown.kind, doubt: doubtWord(state), doubtReason: doubtText(state) };
  if (shown.kind === 'text')
    return { ...said, text: shown.text, standing: standingOfText(column, shown.text) };
  if (shown.kind !== 'value') return { ...said, text: asText(shown) };
  const { value } = shown;
  const plusMinus = shown.plusMinus === undefined ? '' : `± ${shown.plusMinus}`;
  return { ...said, value, plusMinus, text: [value, plusMinus].filter(Boolean).join(' ') };
}

/** Rows in another order. Only rows that are shown change places; those that are not stay where they are. */
import type { Row } from '../../workbook/index.ts';
import type { CellState } from '../view.ts';

export type Direction = 'up' | 'down';

/** `shown`: indices of the rows on the screen; `order`: the same indices as they are to follow each other. */
export function placed(rows: readonly Row[], shown: readonly number[], order: readonly number[]): Row[] {
  const next = [...rows];
  for (const [place, index] of shown.entries()) {
    const row = rows[order[place] ?? index];
    if (row) next[index] = row;
  }
  return next;
}

/** `shown` with the block from `top` to `bottom` one place further up or down; undefined at the end. */
export function shifted(
  shown: readonly number[],
  top: number,
  bottom: number,
  direction: Direction,
): number[] | undefined {
  const at = direction === 'up' ? top - 1 : bottom + 1;
  const passed = shown[at];
  if (passed === undefined) return undefined;
  const block = shown.slice(top, bottom + 1);
  return direction === 'up'
    ? [...shown.slice(0, at), ...block, passed, ...shown.slice(bottom + 1)]
    : [...shown.slice(0, top), passed, ...block, ...shown.slice(at + 1)];
}

/**
 * `shown` by what their states say: numbers by size, words by the alphabet, numbers before words. Blank and faulty
 * rows stand last in either direction; equal rows keep their order.
 */
export function sorted(
  shown: readonly number[],
  stateOf: (row: number) => CellState,
  direction: Direction,
): number[] {
  const words = new Intl.Collator(undefined, { numeric: true, sensitivity: 'base' });
  const keys = new Map(shown.map((row) => [row, keyOf(stateOf(row))]));
  const sign = direction === 'up' ? 1 : -1;
  return [...shown].sort((a, b) => {
    const [first, second] = [keys.get(a), keys.get(b)];
    if (first === undefined || second === undefined)
      return Number(first === undefined) - Number(second === undefined);
    if (typeof first === 'number' && typeof second === 'number') return sign * (first - second);
    if (typeof first !== typeof second) return sign * (typeof first === 'number' ? -1 : 1);
    return sign * words.compare(String(first), String(second));
  });
}

function keyOf(state: CellState): number | string | undefined {
  if (state.state !== 'value') return undefined;
  return typeof state.value === 'boolean' ? Number(state.value) : state.value;
}

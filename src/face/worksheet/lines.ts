/**
 * What each line of a grid shows, in one object that is the same until something in it changes: a line's cells hang
 * on it alone and on the values of their columns, so that a key wakes the lines it touches and no others.
 */
import type { Column, Row } from '../../workbook/index.ts';
import type { TableShape } from '../shown-rows.ts';
import { kept } from '../steady.ts';
import type { Position, Range } from './grid-surface.ts';
import type { Stretch } from './window.ts';

/** What all lines have in common. */
export interface LineFrame {
  readonly table: TableShape;
  readonly columns: readonly Column[];
  /** Those of which some row may be faulty. */
  readonly faulty: readonly Column[];
  /** Place of the last column where that holds words: what there is to say of a row stands there; −1 without one. */
  readonly wordsAt: number;
  readonly long: boolean;
  /** What is said of the row stands under it. */
  readonly below: boolean;
  /** There is a place beside the row for words. */
  readonly beside: boolean;
}

export interface RowLine {
  readonly kind: 'row';
  /** Among the rows shown. */
  readonly position: number;
  /** Index of the row in the table, and the row; undefined for the empty line at the end. */
  readonly index: number | undefined;
  readonly row: Row | undefined;
  /** Column of the active cell, or −1. */
  readonly active: number;
  /** Columns that are selected, from and to. */
  readonly from: number;
  readonly to: number;
  readonly frame: LineFrame;
}

export type Line = Extract<Stretch, { kind: 'gap' }> | RowLine;

export interface LineParts {
  readonly stretches: readonly Stretch[];
  readonly indices: readonly number[];
  readonly rows: readonly Row[];
  readonly active: Position;
  /** What is selected, where it is more than the active cell. */
  readonly range: Range | undefined;
  readonly frame: LineFrame;
}

export function linesOf({ stretches, indices, rows, active, range, frame }: LineParts, last: Line[]): Line[] {
  const old = new Map(last.map((line) => [keyOf(line), line]));
  const lines = stretches.map((stretch): Line => {
    if (stretch.kind === 'gap') return kept(old.get(keyOf(stretch)), stretch);
    const { position } = stretch;
    const index = indices[position];
    const selected = range !== undefined && position >= range.top && position <= range.bottom;
    return kept<Line>(old.get(position), {
      kind: 'row',
      position,
      index,
      row: index === undefined ? undefined : rows[index],
      active: active.row === position ? active.column : -1,
      from: selected ? range.left : 0,
      to: selected ? range.right : -1,
      frame,
    });
  });
  return kept(last, lines);
}

export function keyOf(line: Line | Stretch): string | number {
  return line.kind === 'gap' ? line.key : line.position;
}

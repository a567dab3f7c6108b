import { defineFunction, fault, isFault, numeral, type Fault } from '../../engine/index.ts';
import { surfaceOf } from './board-layout.ts';
import { cutSheets, type Cut } from './sheet-cutting.ts';
import { layoutSheets } from './sheet-layout.ts';

/** Pieces that are cut from one pile: a large house in one size of sheet. */
const MOST_PIECES = 4000;

/**
 * Sheets of one size for several surfaces hung one after the other, offcuts carried from wall to wall: every surface is
 * laid out as by itself, and then all pieces are cut from one pile. Never more than the surfaces take by themselves.
 */
export function sheetsTogether(
  lengths: readonly number[],
  heights: readonly number[],
  directions: readonly string[],
  framings: readonly number[],
  repeats: readonly number[],
  sheetLength: number,
  sheetWidth: number,
  stagger: number,
): number | Fault {
  const cuts: Cut[] = [];
  let alone = 0;
  for (const [i, length] of lengths.entries()) {
    const direction = directions[i] ?? 'along';
    const times = repeats[i] ?? 1;
    if (!Number.isInteger(times) || times < 0)
      return fault(`A surface stands ${numeral(times)} times.`, 'Type a whole number, 0 to leave it out.');
    if (times === 0) continue;
    const surface = surfaceOf(
      length,
      heights[i] ?? NaN,
      sheetLength,
      sheetWidth,
      direction,
      framings[i] ?? NaN,
      stagger,
    );
    const layout = layoutSheets(surface);
    if (isFault(layout)) return layout;
    alone += layout.sheets * times;
    if (cuts.length + layout.pieces.length * times > MOST_PIECES)
      return fault(
        `More than ${numeral(MOST_PIECES)} pieces of one sheet.`,
        'Give each storey a size of sheet of its own, and order by storey.',
      );
    const up = surface.direction === 'up';
    for (let n = 0; n < times; n++)
      for (const { width, height } of layout.pieces)
        cuts.push(up ? { length: height, width } : { length: width, width: height });
  }
  const { sheets } = cutSheets(cuts, { length: sheetLength, width: sheetWidth });
  return Math.min(sheets, alone);
}

const length = { kind: 'quantity', unit: 'm' } as const;
const number = { kind: 'quantity', unit: '' } as const;
const column = true;

export const boardTogetherFunction = defineFunction({
  name: 'board_sheets_together',
  summary: 'Sheets of one size for several surfaces, with offcuts carried from one surface to the next.',
  source:
    'Geometry: the layouts of board_layout, their pieces cut from one pile, longest first, tightest offcut first.',
  limits:
    'A good plan, not proved the best; it takes offcuts as sound and at hand. At most 4,000 pieces. Openings are hung over, as in board_layout.',
  parameters: [
    { name: 'length', type: length, column, summary: 'Of each surface' },
    { name: 'height', type: length, column, summary: 'Of each surface' },
    { name: 'direction', type: { kind: 'text' }, column, summary: 'along or up' },
    { name: 'framing', type: length, column, summary: 'Spacing under each surface' },
    { name: 'repeats', type: number, column, summary: 'How many of each' },
    { name: 'sheet_length', type: length, summary: 'Of the sheets' },
    { name: 'sheet_width', type: length, summary: 'Of the sheets' },
    { name: 'stagger', type: length, summary: 'Least distance of end joints in neighbouring courses' },
  ],
  result: number,
  example: {
    arguments: [
      [4.8768, 3.048],
      [2.7432, 2.7432],
      ['along', 'along'],
      [0.4064, 0.4064],
      [2, 2],
      3.6576,
      1.3716,
      0.4064,
    ],
    result: 10,
  },
  compute: sheetsTogether,
});

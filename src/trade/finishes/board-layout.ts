import { defineFunction, isFault } from '../../engine/index.ts';
import { boardScrews } from './board-screws.ts';
import { layoutSheets, type SheetLayout, type Surface } from './sheet-layout.ts';

const length = { kind: 'quantity', unit: 'm' } as const;
const number = { kind: 'quantity', unit: '' } as const;

/** What describes a surface and its sheets; `board_piece` takes the same. */
export const surfaceParameters = [
  { name: 'length', type: length, summary: 'Of the surface, along the wall' },
  { name: 'height', type: length, summary: 'Of the wall, or the other side of a ceiling' },
  { name: 'sheet_length', type: length, summary: 'Of the sheets' },
  { name: 'sheet_width', type: length, summary: 'Of the sheets, at most their length' },
  {
    name: 'direction',
    type: { kind: 'text' },
    summary: 'along: long edges run with the length, across the framing; up: with the height, on the framing',
  },
  { name: 'framing', type: length, summary: 'Spacing of studs, joists or strapping, centre to centre' },
  { name: 'stagger', type: length, summary: 'Least distance of end joints in neighbouring courses' },
] as const;

export const EXAMPLE = [4.8768, 2.7432, 3.6576, 1.3716, 'along', 0.4064, 0.4064] as const;

export function surfaceOf(
  surfaceLength: number,
  height: number,
  sheetLength: number,
  sheetWidth: number,
  direction: string,
  framing: number,
  stagger: number,
): Surface {
  return {
    length: surfaceLength,
    height,
    sheetLength,
    sheetWidth,
    direction: direction.trim(),
    framing,
    stagger,
  };
}

/** Screws of all pieces, framing upright (lying on a ceiling: along its height). */
function screwsOf(layout: SheetLayout, framing: number, spacing: number): number {
  let screws = 0;
  for (const { width, height } of layout.pieces) {
    const count = boardScrews(width, height, framing, spacing);
    if (typeof count === 'number') screws += count;
  }
  return screws;
}

export const boardLayoutFunction = defineFunction({
  name: 'board_layout',
  summary:
    'Lays sheets over a rectangle in courses, end joints on framing and staggered, offcuts used before a new sheet; counts sheets, joints and screws.',
  source:
    'Geometry. End joints on framing, and those of neighbouring courses apart: common practice, no source. Screws at both ends of each line of framing and at the spacing between: geometry.',
  limits:
    'One rectangle up to 196 ft a side; openings are hung over and cut out, and not deducted. Framing at 6 to 48 in from the left end. Sheets are scored and snapped (no kerf). The plan tries every pair of joint patterns for odd and even courses; it is a good plan, not proved the best.',
  parameters: [
    ...surfaceParameters,
    { name: 'screw_spacing', type: length, summary: 'Along each stud, joist or strip' },
  ],
  result: {
    kind: 'record',
    fields: {
      sheets: { type: number, summary: 'Sheets taken from the pile' },
      whole_sheets: { type: number, summary: 'Sheets if each course used only its own offcuts' },
      courses: { type: number, summary: 'Rows of sheets' },
      pieces: { type: number, summary: 'Pieces on the surface' },
      edge_joint: { type: length, summary: 'Joints along the long edges' },
      end_joint: { type: length, summary: 'Joints across, where ends meet' },
      unstaggered: { type: number, summary: 'End joints nearer to one of the next course than asked for' },
      screws: { type: number, summary: 'Screws' },
    },
  },
  example: {
    formula: 'board_layout(16 ft, 9 ft, 12 ft, 4.5 ft, "along", 16 in, 16 in, 12 in).sheets',
    arguments: [...EXAMPLE, 0.3048],
    result: {
      sheets: 3,
      whole_sheets: 4,
      courses: 2,
      pieces: 4,
      edge_joint: 4.8768,
      end_joint: 2.7432,
      unstaggered: 0,
      screws: 168,
    },
  },
  compute: (
    surfaceLength: number,
    height: number,
    sheetLength: number,
    sheetWidth: number,
    direction: string,
    framing: number,
    stagger: number,
    spacing: number,
  ) => {
    const surface = surfaceOf(surfaceLength, height, sheetLength, sheetWidth, direction, framing, stagger);
    const layout = layoutSheets(surface);
    if (isFault(layout)) return layout;
    const one = boardScrews(sheetLength, sheetWidth, framing, spacing);
    if (isFault(one)) return one;
    return {
      sheets: layout.sheets,
      whole_sheets: layout.wholeSheets,
      courses: layout.courses,
      pieces: layout.pieces.length,
      edge_joint: layout.edgeJoint,
      end_joint: layout.endJoint,
      unstaggered: layout.unstaggered,
      screws: screwsOf(layout, framing, spacing),
    };
  },
});

import { defineFunction, fault, isFault, numeral, type Fault } from '../../engine/index.ts';
import { EXAMPLE, surfaceOf, surfaceParameters } from './board-layout.ts';
import { layoutSheets } from './sheet-layout.ts';

const length = { kind: 'quantity', unit: 'm' } as const;

/** A record without values: there are fewer pieces than this number. */
const NONE = { x: NaN, y: NaN, width: NaN, height: NaN, sheet: NaN };

function boardPiece(
  number: number,
  ...surface: Parameters<typeof surfaceOf>
): Fault | { x: number; y: number; width: number; height: number; sheet: number } {
  if (!(Number.isInteger(number) && number >= 1))
    return fault(`${numeral(number)} is not the number of a piece.`, 'Number the pieces 1, 2, 3 …');
  const layout = layoutSheets(surfaceOf(...surface));
  if (isFault(layout)) return layout;
  return { ...(layout.pieces[number - 1] ?? NONE) };
}

export const boardPieceFunction = defineFunction({
  name: 'board_piece',
  summary: 'Where one piece of board_layout lies, its size, and the sheet it is cut from.',
  source: 'Geometry: the layout of board_layout.',
  limits: 'As board_layout. A number above the pieces there are gives blanks.',
  parameters: [
    { name: 'number', type: { kind: 'quantity', unit: '' }, summary: 'Of the piece, from 1' },
    ...surfaceParameters,
  ],
  result: {
    kind: 'record',
    fields: {
      x: { type: length, summary: 'Left edge, from the left end of the surface' },
      y: { type: length, summary: 'Lower edge, from the bottom of the surface' },
      width: { type: length, summary: 'Along the surface' },
      height: { type: length, summary: 'Up the surface' },
      sheet: { type: { kind: 'quantity', unit: '' }, summary: 'Number of its sheet, from 1' },
    },
  },
  example: {
    formula: 'board_piece(2, 16 ft, 9 ft, 12 ft, 4.5 ft, "along", 16 in, 16 in).width',
    arguments: [2, ...EXAMPLE],
    result: { x: 3.6576, y: 1.3716, width: 1.2192, height: 1.3716, sheet: 3 },
  },
  compute: boardPiece,
});

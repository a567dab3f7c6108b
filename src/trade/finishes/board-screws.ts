import { defineFunction, fault, written, type Fault } from '../../engine/index.ts';

/** A length that is a whole number of spacings but for the last digits. */
const ROUNDING = 1e-6;

/** Screws of one piece whose length (m) crosses framing at `framing` (m), at `spacing` (m) along each line of it. */
export function boardScrews(length: number, width: number, framing: number, spacing: number): number | Fault {
  if (!(length > 0) || !(width > 0))
    return fault('A piece of board needs a length and a width above zero.', 'Type its size.');
  if (!(framing > 0) || !(spacing > 0))
    return fault(
      'The spacing of framing and of screws must be above zero.',
      `Type them centre to centre, for instance ${written('16 in')} and ${written('12 in')}.`,
    );
  const lines = Math.ceil(length / framing - ROUNDING) + 1;
  return lines * (Math.ceil(width / spacing - ROUNDING) + 1);
}

export const boardScrewsFunction = defineFunction({
  name: 'board_screws',
  summary: 'Screws of one sheet: a line on each stud or joist, both ends on framing.',
  source: 'Geometry: (length / framing + 1) × (width / spacing + 1), both rounded up.',
  limits:
    'The sheet runs across the framing with both ends on it. Says nothing about the spacing your code allows: screws at 16 in on walls only where framing is at 16 in or less.',
  parameters: [
    { name: 'length', type: { kind: 'quantity', unit: 'm' }, summary: 'Across the framing' },
    { name: 'width', type: { kind: 'quantity', unit: 'm' }, summary: 'Along the framing' },
    { name: 'framing', type: { kind: 'quantity', unit: 'm' }, summary: 'Framing, centre to centre' },
    { name: 'spacing', type: { kind: 'quantity', unit: 'm' }, summary: 'Screws, centre to centre' },
  ],
  result: { kind: 'quantity', unit: '' },
  example: {
    formula: 'board_screws(8 ft, 4 ft, 16 in, 12 in)',
    arguments: [2.4384, 1.2192, 0.4064, 0.3048],
    result: 35,
  },
  compute: boardScrews,
});

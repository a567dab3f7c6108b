import { defineFunction, fault, lengthInWords, numeral, type Fault } from '../../engine/index.ts';

const ROUNDING = 1e-6;

/**
 * Base stands between the openings of a wall: from the finished corner to the casing of the first door, from casing to
 * casing, and from the last casing to the other corner. Which of these runs is asked for by its number, from the left
 * as one faces the wall. Lengths in m.
 */
export function clearRun(
  wall: number,
  finish: number,
  casing: number,
  number: number,
  offsets: readonly number[],
  widths: readonly number[],
): number | Fault {
  if (!(wall > 0)) return fault('The wall has no length.', 'Type the size of the room.');
  if (finish < 0 || casing < 0)
    return fault('Finish and casing cannot be negative.', 'Type their size, or 0.');
  const openings = offsets
    .map((offset, i) => ({ from: offset, to: offset + (widths[i] ?? 0) }))
    .sort((a, b) => a.from - b.from);
  const ends = [finish];
  for (const { from, to } of openings) {
    if (from < -ROUNDING || to > wall + ROUNDING)
      return fault(
        `An opening from ${lengthInWords(from)} to ${lengthInWords(to)} is outside this wall of ${lengthInWords(wall)}.`,
        'Check its offset, its wall and its room.',
      );
    ends.push(from - casing, to + casing);
  }
  ends.push(wall - finish);
  const runs = openings.length + 1;
  if (!Number.isInteger(number) || number < 1 || number > runs)
    return fault(
      `This wall has ${runs === 1 ? 'one run' : `${String(runs)} runs`} of base, and none with the number ${numeral(number)}.`,
      `Type a number from 1 to ${String(runs)}, counted from the left.`,
    );
  const length = (ends[2 * number - 1] ?? NaN) - (ends[2 * number - 2] ?? NaN);
  if (length > ROUNDING) return length;
  return fault(
    number === 1 || number === runs
      ? 'The casing reaches the corner: no base stands there.'
      : 'Two openings meet or overlap here: no base stands between their casings.',
    'Take this piece out, or check the offsets of the openings.',
  );
}

const length = { kind: 'quantity', unit: 'm' } as const;

export const clearRunFunction = defineFunction({
  name: 'clear_run',
  summary: 'The length of base between the openings of a wall, by its number from the left.',
  source: 'Geometry: offsets from the framing corner, casing as width and reveal together.',
  limits: 'Openings that are cased to the floor; windows above the base are left out by the caller.',
  parameters: [
    { name: 'wall_length', type: length, summary: 'Between framing corners' },
    { name: 'finish', type: length, summary: 'Board and plaster at each end' },
    { name: 'casing', type: length, summary: 'Width of the casing with its reveal' },
    {
      name: 'run_number',
      type: { kind: 'quantity', unit: '' },
      summary: '1 for the run at the left corner',
    },
    {
      name: 'offsets',
      type: length,
      column: true,
      summary: 'From the left framing corner to each opening',
    },
    { name: 'widths', type: length, column: true, summary: 'Of each finished opening' },
  ],
  result: length,
  example: {
    formula: 'clear_run(160.5 in, 19/32 in, 3.6875 in, 2, openings.offset, openings.width)',
    arguments: [4.0767, 0.01508125, 0.0936625, 2, [1.016], [1.524]],
    result: 1.42795625,
  },
  compute: clearRun,
});

import { defineFunction, fault, lengthInWords, numeral, type Fault } from '../../engine/index.ts';

/** Length (m) to which a beam is cut between two ends, all in m. */
export function beamCutLength(
  span: number,
  roomRun: number,
  roomTolerance: number,
  finish: number,
  finishedEnds: number,
  gap: number,
): number | Fault {
  if (gap < 0)
    return fault(
      `The gap at the beam’s end is ${lengthInWords(gap)}: a gap cannot be negative.`,
      'Type the gap as a positive length, for instance 1/8", or 0.',
    );
  if (finish < 0)
    return fault('The finish on the wall is negative.', 'Type board and plaster as positive thicknesses.');
  if (![0, 1, 2].includes(finishedEnds))
    return fault(
      `A beam has two ends; ${numeral(finishedEnds)} of them cannot be finished.`,
      'Type 2 where board and plaster come behind both ends, else 1 or 0.',
    );
  if (!(span > 0))
    return fault('The measured span must be above zero.', 'Measure between the framing faces.');
  if (span > roomRun + roomTolerance)
    return fault(
      `The beam spans ${lengthInWords(span)}, but the room is ${lengthInWords(roomRun)} that way.`,
      'Measure again between framing faces; check the direction of the beams, or the room’s size in the schedule.',
    );
  const length = span - finishedEnds * finish - 2 * gap;
  return length > 0
    ? length
    : fault('Finish and gaps leave no length for the beam.', 'Check the span, the finish and the gap.');
}

const length = { kind: 'quantity', unit: 'm' } as const;

export const beamCutLengthFunction = defineFunction({
  name: 'beam_cut_length',
  summary:
    'Length to cut a beam: measured span less board and plaster at each finished end, less a gap at both.',
  source: 'Geometry: span less finish and gaps.',
  limits:
    'Refuses a span longer than its room by more than the tolerance, negative gaps, and a beam with more than two ends.',
  parameters: [
    { name: 'span', type: length, summary: 'Measured between framing faces, at the beam’s place' },
    { name: 'room_run', type: length, summary: 'The room along the beam, from the schedule' },
    { name: 'room_tolerance', type: length, summary: 'By which framing may exceed the schedule' },
    { name: 'finish', type: length, summary: 'Board and plaster on one face' },
    {
      name: 'finished_ends',
      type: { kind: 'quantity', unit: '' },
      summary: 'Ends that meet a finished face: 0, 1 or 2',
    },
    { name: 'gap', type: length, summary: 'At each end' },
  ],
  result: { kind: 'quantity', unit: 'm' },
  example: {
    formula: 'beam_cut_length(187.25 in, 187.25 in, 0 in, 19/32 in, 2, 1/8 in)',
    arguments: [4.75615, 4.75615, 0, 0.01508125, 2, 0.003175],
    result: 4.7196375,
  },
  compute: beamCutLength,
});

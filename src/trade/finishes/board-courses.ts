import { defineFunction, fault, lengthInWords, type Fault } from '../../engine/index.ts';

/** A run that is a whole number of faces but for the last digits has no sliver. */
const ROUNDING = 1e-6;

export interface BoardCourses {
  /** Run less the gaps at both walls, m. */
  readonly net: number;
  readonly courses: number;
  /** Last course where the first is a full one, m. */
  readonly last: number;
  readonly mustBalance: boolean;
  /** First and last course as laid, m. */
  readonly first: number;
  readonly end: number;
}

/** Courses of boards with the exposed face `face` over `across`, less `gap` at both sides. All in m. */
export function boardCourses(
  across: number,
  gap: number,
  face: number,
  minimumRip: number,
): BoardCourses | Fault {
  if (gap < 0)
    return fault(
      `The gap at the wall is ${lengthInWords(gap)}: a gap cannot be negative.`,
      'Type the gap as a positive length, for instance 3/8", or 0.',
    );
  if (!(face > 0))
    return fault(
      'The exposed face must be above zero.',
      'Measure it on the boards delivered: tongue not counted.',
    );
  if (minimumRip < 0) return fault('The narrowest strip is negative.', 'Type a positive width, or 0.');
  const net = across - 2 * gap;
  if (!(net > 0))
    return fault(
      `Nothing is left of ${lengthInWords(across)} between two gaps of ${lengthInWords(gap)}.`,
      'Check the run across the boards and the gap.',
    );
  const courses = Math.ceil(net / face - ROUNDING);
  const last = net - (courses - 1) * face;
  const mustBalance = last < minimumRip - ROUNDING * face && courses > 1;
  const balanced = (face + last) / 2;
  return {
    net,
    courses,
    last,
    mustBalance,
    first: mustBalance ? balanced : Math.min(face, net),
    end: mustBalance ? balanced : last,
  };
}

const length = { kind: 'quantity', unit: 'm' } as const;

export const boardCoursesFunction = defineFunction({
  name: 'board_courses',
  summary:
    'Courses of ceiling or wall boards; where the last would be a sliver, first and last are ripped to one width.',
  source:
    'Geometry: n = run / face rounded up; balanced first = last = (face + last) / 2, the number unchanged.',
  limits:
    'The same face for every board. Balanced strips are at least half a face; a strip still takes a whole board.',
  parameters: [
    { name: 'across', type: length, summary: 'Run across the boards, wall to wall' },
    { name: 'gap', type: length, summary: 'At each wall, under the trim' },
    { name: 'face', type: length, summary: 'Exposed face of a board, measured on the batch' },
    { name: 'minimum_rip', type: length, summary: 'Narrowest strip that may be laid' },
  ],
  result: {
    kind: 'record',
    fields: {
      net: { type: length, summary: 'Run less both gaps' },
      courses: { type: { kind: 'quantity', unit: '' }, summary: 'Courses' },
      last: { type: length, summary: 'Last course when the first is a full board' },
      must_balance: { type: { kind: 'logical' }, summary: 'Whether that last course is too narrow' },
      first: { type: length, summary: 'First course as laid' },
      end: { type: length, summary: 'Last course as laid' },
    },
  },
  example: {
    formula: 'board_courses(180 in, 0 in, 5.125 in, 1.5 in).courses',
    arguments: [4.572, 0, 0.130175, 0.0381],
    result: { net: 4.572, courses: 36, last: 0.015875, must_balance: true, first: 0.073025, end: 0.073025 },
  },
  compute: (across: number, gap: number, face: number, minimumRip: number) => {
    const found = boardCourses(across, gap, face, minimumRip);
    if ('fault' in found) return found;
    const { net, courses, last, mustBalance, first, end } = found;
    return { net, courses, last, must_balance: mustBalance, first, end };
  },
});

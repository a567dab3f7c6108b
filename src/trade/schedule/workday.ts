import { defineFunction, fault, isFault, type Fault } from '../../engine/index.ts';
import { readDate, weekday, writeDate } from './calendar-date.ts';

const FURTHEST = 100_000;

/**
 * The working day that lies `after` working days behind the first one on or after `start`: 0 is that first one
 * itself. A week's working days are its first `daysAWeek` from Monday on.
 */
export function workday(start: string, after: number, daysAWeek: number): string | Fault {
  const from = readDate(start);
  if (isFault(from)) return from;
  if (!Number.isInteger(daysAWeek) || daysAWeek < 1 || daysAWeek > 7)
    return fault('A week has 1 to 7 working days.', 'Write 5 for Monday to Friday, 6 with Saturday.');
  if (!Number.isInteger(after) || after < 0 || after > FURTHEST)
    return fault(
      'Working days are counted in whole days from 0.',
      'Round them up first: ceil(quantity / rate).',
    );
  const day = weekday(from);
  // Where work rests on the start, the next Monday takes its place.
  const monday = day < daysAWeek ? from - day : from - day + 7;
  const place = (day < daysAWeek ? day : 0) + after;
  return writeDate(monday + Math.floor(place / daysAWeek) * 7 + (place % daysAWeek));
}

export const workdayFunction = defineFunction({
  name: 'workday',
  summary:
    'The date so many working days after a start: workday("2026-03-06", 1, 5) is the Monday behind that Friday.',
  source: 'Definition; weeks begin on Monday (ISO 8601), in the Gregorian calendar.',
  limits: 'Whole days from 0; the working days are the first of each week, and no holiday is known.',
  parameters: [
    {
      name: 'start',
      type: { kind: 'text' },
      summary: '2026-03-06 or 3/6/2026; a day of rest stands for the next Monday',
    },
    {
      name: 'after',
      type: { kind: 'quantity', unit: '' },
      summary: 'Working days after the first; 0 is the first itself',
    },
    { name: 'days_a_week', type: { kind: 'quantity', unit: '' }, summary: '5 for Monday to Friday' },
  ],
  result: { kind: 'text' },
  example: { formula: 'workday("2026-03-06", 1, 5)', arguments: ['2026-03-06', 1, 5], result: '2026-03-09' },
  compute: workday,
});

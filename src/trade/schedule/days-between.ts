import { defineFunction, isFault, type Fault } from '../../engine/index.ts';
import { readDate } from './calendar-date.ts';

/** Calendar days from one date to another; below zero where the second is earlier. */
export function daysBetween(from: string, to: string): number | Fault {
  const [first, second] = [readDate(from), readDate(to)];
  if (isFault(first)) return first;
  return isFault(second) ? second : second - first;
}

export const daysBetweenFunction = defineFunction({
  name: 'days_between',
  summary: 'Calendar days from one date to another: days_between("2028-02-28", "2028-03-01") is 2.',
  source: 'Definition, in the Gregorian calendar: a leap day every fourth year, but in 2100.',
  limits: 'Dates from 1900 to 2199, written 2026-03-06 or 3/6/2026.',
  parameters: [
    { name: 'from', type: { kind: 'text' }, summary: 'The earlier date' },
    { name: 'to', type: { kind: 'text' }, summary: 'The later date' },
  ],
  result: { kind: 'quantity', unit: '' },
  example: {
    formula: 'days_between("2028-02-28", "2028-03-01")',
    arguments: ['2028-02-28', '2028-03-01'],
    result: 2,
  },
  compute: daysBetween,
});

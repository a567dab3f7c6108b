import { fault, type Fault } from '../../engine/index.ts';

const DAY = 86_400_000;
const HOW = 'Write year-month-day (2026-03-09), or month/day/year (3/9/2026).';

/** A date as days since 1970-01-01, in the proleptic Gregorian calendar without any clock or zone. */
export function readDate(text: string): number | Fault {
  const trimmed = text.trim();
  const iso = /^(\d{4})-(\d{1,2})-(\d{1,2})$/u.exec(trimmed);
  const us = /^(\d{1,2})\/(\d{1,2})\/(\d{4})$/u.exec(trimmed);
  const [year, month, day] = (iso ? [iso[1], iso[2], iso[3]] : us ? [us[3], us[1], us[2]] : []).map(Number);
  if (year === undefined || month === undefined || day === undefined)
    return fault(trimmed === '' ? 'The date is missing.' : `“${trimmed.slice(0, 40)}” is not a date.`, HOW);
  if (year < 1900 || year > 2199) return fault(`The year ${year} is not one of a job.`, HOW);
  const date = new Date(Date.UTC(year, month - 1, day));
  // A month or a day too many runs over into the next.
  if (date.getUTCMonth() !== month - 1 || date.getUTCDate() !== day)
    return fault(`There is no day ${day} in month ${month} of ${year}.`, HOW);
  return date.getTime() / DAY;
}

export function writeDate(days: number): string {
  return new Date(days * DAY).toISOString().slice(0, 10);
}

/** 0 is Monday (ISO 8601): 1970-01-01 was a Thursday. */
export function weekday(days: number): number {
  return (((days + 3) % 7) + 7) % 7;
}

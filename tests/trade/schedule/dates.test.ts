import { describe, expect, test } from 'vitest';
import { daysBetween } from '../../../src/trade/schedule/days-between.ts';
import { workday } from '../../../src/trade/schedule/workday.ts';

describe('working days', () => {
  // Days of the week from the perpetual calendar: 2026-03-06 was a Friday, 2028-02-29 a Tuesday.
  test.each([
    ['2026-03-06', 0, 5, '2026-03-06'],
    ['2026-03-06', 1, 5, '2026-03-09'],
    ['2026-03-06', 1, 6, '2026-03-07'],
    ['2026-03-06', 1, 7, '2026-03-07'],
    ['2026-03-06', 5, 5, '2026-03-13'],
    ['2026-03-07', 0, 5, '2026-03-09'],
    ['2026-03-08', 0, 6, '2026-03-09'],
    ['2026-03-06', 1, 4, '2026-03-10'],
    ['2028-02-28', 1, 5, '2028-02-29'],
    ['2027-02-26', 1, 5, '2027-03-01'],
    ['2100-02-26', 1, 5, '2100-03-01'],
    ['2026-12-31', 1, 5, '2027-01-01'],
    ['3/6/2026', 1, 5, '2026-03-09'],
    ['2026-3-6', 0, 1, '2026-03-09'],
  ])('%s and %d of %d a week is %s', (start, after, week, expected) => {
    expect(workday(start, after, week)).toBe(expected);
  });

  test('counted one by one they never fall on a day of rest, and none is left out', () => {
    for (const week of [1, 2, 3, 4, 5, 6, 7]) {
      let calendar = Date.UTC(2027, 11, 20);
      for (let after = 0; after < 120; after++) {
        const found = workday('2027-12-20', after, week);
        while ((new Date(calendar).getUTCDay() + 6) % 7 >= week) calendar += 86_400_000;
        expect(found).toBe(new Date(calendar).toISOString().slice(0, 10));
        calendar += 86_400_000;
      }
    }
  });

  test.each([
    ['2027-02-29', 0, 5, /no day 29 in month 2 of 2027/],
    ['2026-13-01', 0, 5, /no day 1 in month 13/],
    ['day 112', 0, 5, /“day 112” is not a date/],
    ['28/11/2026', 0, 5, /no day 11 in month 28/],
    ['', 0, 5, /missing/],
    ['1026-03-06', 0, 5, /year 1026/],
    ['2026-03-06', 1.5, 5, /whole days/],
    ['2026-03-06', -1, 5, /whole days/],
    ['2026-03-06', 1, 0, /1 to 7/],
    ['2026-03-06', 1, 5.5, /1 to 7/],
  ])('%s, %d, %d is told: %s', (start, after, week, message) => {
    const found = workday(start, after, week);
    expect(found).toMatchObject({ fault: expect.stringMatching(message) as string });
    expect((found as { suggestion?: string }).suggestion).toBeTruthy();
  });
});

describe('days between', () => {
  test.each([
    ['2028-02-28', '2028-03-01', 2],
    ['2027-02-28', '2027-03-01', 1],
    ['2100-02-28', '2100-03-01', 1],
    ['2000-02-28', '2000-03-01', 2],
    ['2026-01-01', '2027-01-01', 365],
    ['2026-03-06', '2026-03-06', 0],
    ['2026-03-06', '2026-03-01', -5],
    // Over the change to summer time of any zone.
    ['3/1/2026', '4/1/2026', 31],
  ])('%s to %s is %d', (from, to, expected) => {
    expect(daysBetween(from, to)).toBe(expected);
  });
});

import { describe, expect, test } from 'vitest';
import { dateText, shortDate } from '../../src/face/figure/date-text.ts';
import { headed } from '../../src/face/heading.ts';

describe('a heading of a text', () => {
  test.each([
    ['Never cut\n\nThe membrane.', 'Never cut', 'The membrane.'],
    ['Never cut\nThe membrane.', '', 'Never cut\nThe membrane.'],
    ['One line', '', 'One line'],
    [`${'long '.repeat(20)}\n\nBody`, '', `${'long '.repeat(20)}\n\nBody`],
    ['Head\n \n\nBody', 'Head', '\nBody'],
  ])('%j', (text, heading, body) => {
    expect(headed(text)).toEqual({ heading, body });
  });
});

describe('dates', () => {
  // 20,881 days after 1970-01-01 is 2027-03-04: 57 years of 365, 14 leap days, 62 days.
  const day = 57 * 365 + 14 + 62;
  test('are written month first in the United States, and by ISO 8601 elsewhere', () => {
    expect(dateText(day, true)).toBe('3/4/2027');
    expect(dateText(day, false)).toBe('2027-03-04');
    expect(shortDate(day, true)).toBe('3/4');
    expect(shortDate(day, false)).toBe('03-04');
  });
});

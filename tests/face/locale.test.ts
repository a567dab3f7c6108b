import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  localLimits,
  localNumber,
  localPlain,
  localSaid,
  localText,
  signsOf,
  storedText,
} from '../../src/face/locale.ts';

const german = signsOf('de-DE');
const swiss = signsOf('de-CH');
const english = signsOf('en-US');

// Separators as in the Unicode Common Locale Data Repository (CLDR), which browsers carry.
test('the languages that are known without asking are as the system has them', () => {
  for (const language of ['en', 'en-US', 'en-GB', 'en-CA', 'en-AU', 'en-NZ', 'en-IE']) {
    const parts = new Intl.NumberFormat(language).formatToParts(1_234_567.5);
    const of = (type: string) => parts.find((part) => part.type === type)?.value;
    expect(signsOf(language), language).toEqual({ decimal: of('decimal'), group: of('group') });
  }
});

test('the signs are those of the language; a name that is none reads like English', () => {
  expect(german).toEqual({ decimal: ',', group: '.' });
  expect(english).toEqual({ decimal: '.', group: ',' });
  expect(swiss.decimal).toBe('.');
  expect(signsOf('en-US@posix')).toEqual(english);
});

test('numbers are shown with the signs of the language', () => {
  expect(localNumber('−1,234.5', german)).toBe('−1.234,5');
  expect(localNumber('24,610', german)).toBe('24.610');
  expect(localNumber('−1,234.5', english)).toBe('−1,234.5');
  expect(localPlain('441.25', german)).toBe('441,25');
});

describe('where commas are decimal signs', () => {
  test.each([
    ['12,5', '12.5'],
    ['-12,5 Pa', '-12.5 Pa'],
    ['20,0 ± 0,5 Pa', '20.0 ± 0.5 Pa'],
    ['1.234,5', '1234.5'],
    ['1.234.567', '1234567'],
    ['12.5', '12.5'],
    ['0,125', '0.125'],
    ['12\' 4,5"', '12\' 4.5"'],
    // A formula is written with points, and its commas are commas.
    ['max(1,5)', 'max(1,5)'],
    ['q50 / 1.5', 'q50 / 1.5'],
  ])('%s is stored as %s', (typed, stored) => {
    expect(storedText(typed, german)).toBe(stored);
  });

  test.each(['1,234', '1.234', '20 ± 1,234'])('%s can be two numbers and is asked', (typed) => {
    expect(storedText(typed, german)).toMatchObject({
      decimal: typed.replace(/1[.,]234/, '1.234'),
      thousands: typed.replace(/1[.,]234/, '1234'),
    });
  });

  test.each([
    ['~2,5', '~2.5'],
    ['2,5 cf', '2.5 cf'],
    ['2,5-3,5 Pa', '2.5-3.5 Pa'],
    ['<1.234,5', '<1234.5'],
    ['2,5 (guess)', '2.5 (guess)'],
    ['２，５ Pa', '2.5 Pa'],
  ])('%s, which is no plain value, is told with points', (typed, stored) => {
    expect(storedText(typed, german)).toBe(stored);
  });

  test.each([
    '25,000.5.1',
    '12.34.56',
    '12.34,5',
    '1.2.3,4',
    'max(1,5)',
    'x + 1,5',
    '2,5 * x',
    '=1,5',
    '1,5 - x',
  ])('%s is not rewritten: its groups are none, or it is a formula', (typed) => {
    expect(storedText(typed, german)).toBe(typed);
  });

  test('what is opened for editing and left alone is what was stored', () => {
    const number = fc
      .tuple(fc.integer({ min: 0, max: 9_999_999 }), fc.nat(99))
      .map(([whole, part]) => `${whole}.${part}`);
    fc.assert(
      fc.property(number, (stored) => {
        const back = storedText(localText(stored, german), german);
        expect(typeof back === 'string' ? back : back.decimal).toBe(stored);
      }),
    );
  });
});

test('wide signs of other keyboards are stored as the plain ones', () => {
  expect(storedText('２５．５ Pa', english)).toBe('25.5 Pa');
  expect(storedText('a ＋ b', english)).toBe('a ＋ b');
});

test('where points are decimal signs nothing is rewritten', () => {
  for (const text of ['1,234', '12.5', 'max(1,5)', '12,5']) expect(storedText(text, english)).toBe(text);
});

test('what is said of a typed value has its numbers as they were typed, and no clause of a code is one', () => {
  const said = "'5.3 cfm' is a volume flow: type 25.5 ± 0.6, see R402.4 and 2.3.1, or 12,345.6";
  expect(localSaid(said, german)).toBe(
    "'5,3 cfm' is a volume flow: type 25,5 ± 0,6, see R402.4 and 2.3.1, or 12,345.6",
  );
  expect(localSaid(said, english)).toBe(said);
});

test('a limit is told with the signs of the language, and what is quoted as it was', () => {
  const said = "50,001 rows; expected at most 50,000. Row 3: '1,234' is two numbers, 1,5 m";
  expect(localLimits(said, german)).toBe(
    "50.001 rows; expected at most 50.000. Row 3: '1,234' is two numbers, 1,5 m",
  );
  expect(localLimits(said, english)).toBe(said);
});

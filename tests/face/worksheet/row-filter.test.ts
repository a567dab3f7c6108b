import { describe, expect, test } from 'vitest';
import { DIMENSIONLESS, displayUnit } from '../../../src/engine/index.ts';
import { ownUnit } from '../../../src/face/display.ts';
import {
  crossed,
  limitProblem,
  limitsOf,
  limitToKeep,
  within,
} from '../../../src/face/worksheet/number-limits.ts';
import {
  filterText,
  isOpen,
  letThrough,
  NO_FILTER,
  passes,
  type Asked,
  type Filter,
} from '../../../src/face/worksheet/row-filter.ts';

const NONE = { least: undefined, most: undefined };
const units = (own: string, shown = own) => ({
  own,
  shown: ownUnit(shown) ?? displayUnit(undefined, DIMENSIONLESS, false, 'us'),
});
/** What is kept of what was typed, and the number it stands for. */
const limit = (typed: string, own: string, shown = own) => {
  const kept = limitToKeep(typed, units(own, shown));
  return { kept, si: limitsOf({ least: kept, most: '' }, units(own, shown)).least };
};

test('text is found anywhere, capitals or not; values are met exactly', () => {
  expect(passes({ text: 'OAK', values: undefined }, 'white oak')).toBe(true);
  expect(passes({ text: ' ', values: undefined }, 'pine')).toBe(true);
  expect(passes({ text: '', values: new Set(['mid']) }, 'mid')).toBe(true);
  expect(passes({ text: '', values: new Set(['mid']) }, 'middle')).toBe(false);
  expect(passes({ text: 'o', values: new Set(['']) }, '')).toBe(false);
});

test('what is let through is said in words', () => {
  const words = (filter: Partial<Filter>, limits = NONE as Asked['limits']) =>
    filterText({ ...NO_FILTER, ...filter }, limits);
  expect(isOpen(NO_FILTER)).toBe(true);
  expect(isOpen({ ...NO_FILTER, most: '8 ft' })).toBe(false);
  expect(words({ text: 'oak' })).toBe('holds “oak”');
  expect(words({ values: new Set(['low', '']) })).toBe('is low or blank');
  expect(words({ text: 'a', values: new Set() })).toBe('holds “a” and is nothing');
  expect(words({ least: '8 ft' }, { least: 2.4384, most: undefined })).toBe('is at least 8 ft');
  expect(words({ most: '8 ft' }, { least: undefined, most: 2.4384 })).toBe('is at most 8 ft');
  expect(words({ least: '5 ft', most: '8 ft', text: '7' }, { least: 1.524, most: 2.4384 })).toBe(
    'is between 5 ft and 8 ft and holds “7”',
  );
  // What cannot be read leaves no row out, and is not said to.
  expect(words({ least: '8 kg' })).toBe('');
});

describe('a limit is read as an entry of the column would be', () => {
  // 1 ft = 0.3048 m and 1 in = 0.0254 m exactly: NIST SP 811, appendix B.8.
  test.each([
    ['8', 'ft', 'ft', '8 ft', 2.4384],
    ['8 ft', 'm', 'm', '8 ft', 2.4384],
    ['2 1/2"', 'ft', 'ft', '2 1/2"', 0.0635],
    ['2 1/2', 'in', 'in', '2 1/2 in', 0.0635],
    [`5' 3 5/8"`, 'in', 'in', `5' 3 5/8"`, 63.625 * 0.0254],
    // A bare number means the unit on the screen, also where the column has another for itself.
    ['2', 'ft', 'm', '2 m', 2],
    ['−50', 'Pa', 'Pa', '−50 Pa', -50],
    ['35', '%', '%', '35 %', 0.35],
    ['12', '', '', '12', 12],
    ['12', '', 'm', '12 m', 12],
    ['20', 'degC', 'degC', '20 °C', 293.15],
  ])('%s in a column of %s shown in %s', (typed, own, shown, kept, si) => {
    const found = limit(typed, own, shown);
    expect(found.kept).toBe(kept);
    expect(found.si).toBeCloseTo(si, 12);
    // Read again it is the same: that is how it is kept.
    expect(limitToKeep(kept, units(own, shown))).toBe(kept);
  });

  test('another unit or no number leaves nothing out and says what to type', () => {
    for (const [typed, own] of [
      ['8 kg', 'ft'],
      ['tall', 'ft'],
      ['12 ft', ''],
      ['20 ± 1', 'Pa'],
    ] as const)
      expect(limit(typed, own).si, typed).toBeUndefined();
    expect(limitProblem('8 kg', units('ft'))).toBe(
      `'8 kg' is a mass; this entry is a length; type for instance 12 ft or 12' 4"`,
    );
    expect(limitProblem('tall', units('Pa'))).toBe(`'tall' is not a number; type for instance 20 Pa`);
    expect(limitProblem('20 ± 1 Pa', units('Pa'))).toBe('a limit has no ±; type the value alone');
    expect(limitProblem('', units('Pa'))).toBe('');
  });
});

test('the limits themselves are within, also where their units leave dust', () => {
  expect(within({ least: 2.5 * 0.0254, most: undefined }, (2.5 / 12) * 0.3048)).toBe(true);
  expect(within({ least: undefined, most: 0.3 }, 0.1 + 0.2)).toBe(true);
  expect(within({ least: 1, most: 2 }, 2.000001)).toBe(false);
  expect(within({ least: -50, most: undefined }, -50.1)).toBe(false);
  expect(within(NONE, -1e9)).toBe(true);
  expect(crossed({ least: 9, most: 5 })).toBe(true);
  expect(crossed({ least: 5, most: 5 })).toBe(false);
});

describe('rows let through', () => {
  const numbers = [1, undefined, 5, 9, undefined];
  const names = ['a', 'a', 'b', 'a', 'b'];
  const asked = (filter: Partial<Filter>, limits = NONE as Asked['limits']): Asked => ({
    filter: { ...NO_FILTER, ...filter },
    limits,
    text: (row) => names[row] ?? '',
    number: (row) => numbers[row],
  });
  const rows = [0, 1, 2, 3, 4];
  const never = () => false;

  test('without a number none is within; how many fell out for that alone is counted', () => {
    const between = asked({ least: '2', most: '9' }, { least: 2, most: 9 });
    expect(letThrough(rows, [between], never)).toEqual({ rows: [2, 3], blank: 2 });
    expect(letThrough(rows, [between, asked({ text: 'a' })], never)).toEqual({ rows: [3], blank: 1 });
  });

  test('what cannot be read leaves no row out', () => {
    expect(letThrough(rows, [asked({ least: 'tall' })], never)).toEqual({ rows, blank: 0 });
  });

  test('a row that was just typed in stays, and is not counted', () => {
    expect(
      letThrough(rows, [asked({ least: '2' }, { least: 2, most: undefined })], (row) => row < 2),
    ).toEqual({ rows: [0, 1, 2, 3], blank: 1 });
  });
});

import { describe, expect, test } from 'vitest';
import {
  isBareNumber,
  isInOtherUnit,
  isValue,
  textToEdit,
  textToOpen,
  textToStore,
} from '../../src/face/entry.ts';

const metric = { own: 'ft3', shown: 'm3' };
const same = { own: 'Pa', shown: 'Pa' };

test.each(['14', '-14', '−14.5', '1,234', '1e-3', '14 ± 0.5', '14 +/- 0.5', '20.0(5)', ' 7 '])(
  '“%s” is a number without a unit',
  (text) => {
    expect(isBareNumber(text)).toBe(true);
  },
);

test.each(['14 m3', 'q50', '14 * 2', '12\' 4"', '5-3-5/8', '', '± 2', '14 ± 2 %'])(
  '“%s” is more than a bare number, or none',
  (text) => {
    expect(isBareNumber(text)).toBe(false);
  },
);

test('a value may have its ± and a unit; a formula is none', () => {
  for (const text of ['14', '0 ± 1 %', '24,610 ft3', '5\' 3 5/8"']) expect(isValue(text), text).toBe(true);
  for (const text of ['q50', '14 * 2', 'max(1, 2)', '']) expect(isValue(text), text).toBe(false);
});

test.each([
  ['0.3125 in', 'mm', true],
  ['5/16"', 'mm', true],
  ['5\' 3"', 'm', true],
  ['24610 ft3', 'm3', true],
  ['68 °F', 'degC', true],
  ['0.3125 in', 'in', false],
  ['5\' 3"', 'in', false],
  ['63"', 'ft', false],
  ['7.9', 'mm', false],
  ['7.9 mm', 'mm', false],
  ['gap * 2', 'mm', false],
  ['', 'mm', false],
])('“%s” where the screen shows %s: of another unit is %s', (opened, shown, expected) => {
  expect(isInOtherUnit(opened, { own: 'in', shown })).toBe(expected);
});

describe('a cell stored in cubic feet and shown in cubic metres', () => {
  test('opens with its own unit named, because the screen shows another', () => {
    expect(textToEdit('24610', metric)).toBe('24610 ft3');
    expect(textToEdit('24,610 ft3', metric)).toBe('24,610 ft3');
    expect(textToEdit('slab_area * 9 ft', metric)).toBe('slab_area * 9 ft');
  });

  test('takes a bare number for the unit on the screen', () => {
    expect(textToStore('700', '24610 ft3', metric)).toBe('700 m3');
    expect(textToStore('700 ± 5', '24610 ft3', metric)).toBe('700 ± 5 m3');
    expect(textToStore('25000 ft3', '24610 ft3', metric)).toBe('25000 ft3');
  });

  test('stays as it was when nothing was changed', () => {
    expect(textToStore('24610 ft3', '24610 ft3', metric)).toBeUndefined();
  });
});

test('degrees of no scale are those on the screen', () => {
  const shownInF = { own: 'degC', shown: 'degF' };
  for (const typed of ['72°', '72 deg', '72']) expect(textToStore(typed, '', shownInF)).toBe('72 degF');
  expect(textToStore('72 degC', '', shownInF)).toBe('72 degC');
  expect(textToStore('72°', '', { own: 'degF', shown: 'degF' })).toBe('72°');
});

test('where the units agree the text is stored as typed', () => {
  expect(textToEdit('-62.7', same)).toBe('-62.7');
  expect(textToStore(' -60 ', '-62.7', same)).toBe('-60');
});

test('words stay as they were typed: only numbers have decimal commas', () => {
  expect(textToStore(' Gap of 2,5 cm ', '', undefined)).toBe('Gap of 2,5 cm');
  expect(textToStore('1,234', '', undefined)).toBe('1,234');
  expect(textToStore('same', 'same', undefined)).toBeUndefined();
  expect(textToOpen('1.5 in', undefined)).toBe('1.5 in');
});

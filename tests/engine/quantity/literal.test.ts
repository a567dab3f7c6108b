import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { scanLiteral } from '../../../src/engine/quantity/index.ts';
import type { LiteralOptions } from '../../../src/engine/quantity/index.ts';
import { literal } from './read.ts';

/** What the scan says of a literal that is none, as one line. */
function problem(text: string, options?: LiteralOptions): string {
  const found = scanLiteral(text, 0, options);
  if (found === undefined || !('problem' in found)) throw new Error(`${text} was read`);
  return found.suggestion === undefined ? found.problem : `${found.problem}; ${found.suggestion}`;
}

/** How much of the text is one literal. */
function taken(text: string, options?: LiteralOptions): string {
  const found = scanLiteral(text, 0, options);
  return found === undefined ? '' : text.slice(0, found.end);
}

describe('a measured value is one literal', () => {
  test.each([
    '20.0 ± 0.5 Pa',
    '20.0±0.5Pa',
    '20.0 +- 0.5 Pa',
    '20.0 +/- 0.5 Pa',
    '20.0 +/−0.5 Pa',
    '20.0 Pa ± 0.5 Pa',
    '20.0 Pa ± 0.5',
    '20.0(5) Pa',
    '2.00(5)e1 Pa',
    '20.0 Pa ± 2.5 %',
    '20.0 Pa ± 2.5 percent',
    '20.0 Pa ± 0.0005 kPa',
    '0.0200 kPa ± 0.5 Pa',
  ])('%s is 20 ± 0.5 Pa', (text) => {
    const read = literal(text);
    expect(read.si).toBeCloseTo(20, 12);
    expect(read.plusMinus).toBeCloseTo(0.5, 12);
    expect(read.form).toBe('number');
  });

  test('± binds tighter than the unit, and the unit is that of the literal', () => {
    const read = literal('12.0 ± 0.3 ft2');
    expect(read.unit?.symbol).toBe('ft²');
    expect(read.value).toBe(12);
    expect(read.si).toBeCloseTo(12 * 0.3048 ** 2, 14);
    expect(read.plusMinus).toBeCloseTo(0.3 * 0.3048 ** 2, 14);
  });

  test('digits in parentheses count in the last written place', () => {
    for (const [text, half] of [
      ['20.0(5)', 0.5],
      ['20.00(5)', 0.05],
      ['20.00(15)', 0.15],
      ['20(3)', 3],
      ['1.250(12)e3', 12],
      ['1.25(1)e-3', 1e-5],
    ] as const)
      expect(literal(text).plusMinus, text).toBeCloseTo(half, 12);
  });

  test('a percentage is of the size of the value, whatever its sign; a value of zero has none', () => {
    expect(literal('20 Pa ± 2 %', { negative: true })).toMatchObject({ si: -20, plusMinus: 0.4 });
    expect(literal('0 Pa ± 2 %').plusMinus).toBe(0);
    expect(literal('63 5/8" ± 2 %', { entry: true }).plusMinus).toBeCloseTo(63.625 * 0.0254 * 0.02, 14);
  });

  test('beside a percentage the ± is in points, not a part of it', () => {
    for (const text of ['45 ± 2 %', '45 % ± 2 %'])
      expect(literal(text, text.startsWith('45 %') ? {} : { unit: literal('1 %').unit })).toMatchObject({
        si: 0.45,
        plusMinus: 0.02,
      });
  });

  test('the ± of a temperature reading is a difference', () => {
    expect(literal('68 ± 1.8 degF').plusMinus).toBeCloseTo(1, 12);
    expect(literal('68 degF ± 1 degC').plusMinus).toBeCloseTo(1, 12);
    expect(literal('20 ± 0.5 degC')).toMatchObject({ si: 293.15, plusMinus: 0.5 });
  });

  test('a ± of zero is kept: it says that the value is exact', () => {
    expect(literal('20 ± 0 Pa').plusMinus).toBe(0);
    expect(literal('20 Pa').plusMinus).toBeUndefined();
  });

  test.each([
    [`12' 4 1/2" ± 1/16"`, 148.5, 1 / 16],
    [`12' 4 1/2" ± 1/16`, 148.5, 1 / 16],
    [`63 5/8" ± 1/8"`, 63.625, 1 / 8],
    [`5' ± 1"`, 60, 1],
    [`5' ± 1/4"`, 60, 1 / 4],
    [`5' ± 2`, 60, 24],
    [`5' 3" ± 1/2`, 63, 1 / 2],
    [`5' 3" ± 3 mm`, 63, 3 / 25.4],
  ])('%s: the ± after feet and inches may be a fraction', (text, inches, half) => {
    const read = literal(text);
    expect(read.form).toBe('feet-inches');
    expect(read.si / 0.0254).toBeCloseTo(inches, 11);
    expect((read.plusMinus ?? NaN) / 0.0254).toBeCloseTo(half, 11);
  });
});

describe('refusals', () => {
  test.each([
    [
      '20 Pa ± 1 ft',
      'the value is in Pa (pressure, mass/(length·time²)), its ± in ft (length); give the ± in Pa, or in %',
    ],
    ['20 ±', 'after ± a positive number has to follow; for instance 20.0 ± 0.5 Pa, or 20.0 Pa ± 2 %'],
    ['20 ± -1 Pa', 'after ± a positive number has to follow; for instance 20.0 ± 0.5 Pa, or 20.0 Pa ± 2 %'],
    ['20(5) ± 1', 'this value has two ±; keep one of them: 20.0(5) already means 20.0 ± 0.5'],
    ['20 ± 1(2)', 'a ± cannot have a ± of its own'],
    ['20 ± 2 % Pa', "in '± 2 % Pa' the percent and the unit cannot both belong to the ±; write 20 Pa ± 2 %"],
    [
      '68 degF ± 2 %',
      'a percentage of a temperature reading depends on the scale and means nothing; ' +
        'write the ± in degrees: 68 ± 0.5 °F',
    ],
    ['1e999 Pa', 'this number is too large to calculate with'],
    ['1 ± 1e999 Pa', 'this number is too large to calculate with'],
    [
      '5 W/m2 K',
      'this unit can be read in two ways after the division; ' +
        'put what is divided by in parentheses, for instance W/(m2 K)',
    ],
  ])('%s', (text, message) => {
    expect(problem(text)).toBe(message);
  });
});

describe('where a literal ends in a formula', () => {
  test.each([
    ['20.0 ± 0.5 Pa * 2', '20.0 ± 0.5 Pa'],
    ['20 Pa + 3 Pa', '20 Pa'],
    ['20 - 3', '20'],
    [`5' - 3"`, `5'`],
    [`5'-3" - 2`, `5'-3"`],
    ['5-3-5/8', '5'],
    ['5 3 5/8', '5'],
    ['3/4 * x', '3'],
    ['24 ft3 / building_volume', '24 ft3'],
    ['24 h / 2', '24 h'],
    ['2 x', '2'],
    ['2(x)', '2'],
    ['1.5e', '1.5'],
    ['1,234', '1'],
  ])('%s', (text, expected) => {
    expect(taken(text)).toBe(expected);
  });

  test('no literal starts at a letter, a sign or a space', () => {
    for (const text of ['x', '-1', '+1', ' 1', '', '±1', ')']) expect(scanLiteral(text, 0)).toBeUndefined();
  });
});

const pieces = fc.array(
  fc.oneof(
    fc.constantFrom(
      ...['±', '+-', '+/-', '%', "'", '"', '′', '″', '5/8', '½', '⁄', '-', ' ', '(', ')', 'e', 'E', '.', ','],
      ...['ft', 'in', 'Pa', 'degF', '°C', 'm3/h', '$', '×10⁻³', '^', '*', '/', '0', '12', '999999', '1e308'],
    ),
    fc.string({ unit: 'binary', maxLength: 3 }),
  ),
  { maxLength: 12 },
);

test('whatever stands there: no exception, an end within the text, and finite numbers', () => {
  let read = 0;
  fc.assert(
    fc.property(pieces, fc.boolean(), fc.boolean(), fc.boolean(), (parts, feetInches, negative, entry) => {
      const text = `${feetInches ? '7' : ''}${parts.join('')}`;
      const found = scanLiteral(text, 0, { feetInches, negative, entry });
      if (found === undefined) return;
      expect(found.end).toBeGreaterThanOrEqual(0);
      expect(found.end).toBeLessThanOrEqual(text.length);
      if (!('literal' in found)) return;
      read++;
      expect(found.end).toBeGreaterThan(0);
      expect(Number.isFinite(found.literal.si)).toBe(true);
      expect(found.literal.plusMinus ?? 0).toBeGreaterThanOrEqual(0);
      expect(Number.isFinite(found.literal.plusMinus ?? 0)).toBe(true);
    }),
    { numRuns: 2000 },
  );
  expect(read).toBeGreaterThan(400);
  // fast-check takes seconds to build its map of all characters on a busy machine; the reading itself does not.
}, 60_000);

test('a number with its ± is read back to the last bit, in every way of writing ±', () => {
  const size = fc.double({ min: 0, max: 1e9, noNaN: true, noDefaultInfinity: true });
  fc.assert(
    fc.property(size, size, fc.constantFrom(' ± ', '±', ' +- ', ' +/- ', ' +−'), (value, half, sign) => {
      const read = literal(`${String(value)}${sign}${String(half)} Pa`);
      expect(read.value).toBe(value);
      expect(read.plusMinus).toBe(half);
    }),
    { numRuns: 500 },
  );
});

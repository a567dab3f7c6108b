import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatFeetInches, readEntry } from '../../../src/engine/quantity/index.ts';
import { entry, refusal, unit } from './read.ts';

const INCH = 0.0254;

describe('feet, inches and fractions', () => {
  test.each([
    [`5' 3 5/8"`, 63.625],
    ['5-3-5/8', 63.625],
    ['5ft 3-5/8in', 63.625],
    ['5 ft 3 5/8 in', 63.625],
    ['5 feet 3 5/8 inches', 63.625],
    ['5 ft 3 5/8', 63.625],
    ['5ft 3', 63],
    ['63 5/8"', 63.625],
    ['63-5/8"', 63.625],
    ['5 3 5/8', 63.625],
    [`5' 3 5/8`, 63.625],
    [`5'3 5/8''`, 63.625],
    [`5'-3 5/8"`, 63.625],
    [`5' - 3 5/8"`, 63.625],
    ['5′ 3⅝″', 63.625],
    ['5’ 3 ⅝”', 63.625],
    [`5' 3 5⁄8"`, 63.625],
    [`5' 3 ⁵⁄₈"`, 63.625],
    [`5'`, 60],
    [`5'3"`, 63],
    ['5 3', 63],
    [`1.5'`, 18],
    ['½"', 0.5],
    [`0' 0"`, 0],
    ['5 ft', 60],
    ['5.25', 63],
  ])('%s in a cell in feet', (text, inches) => {
    expect(entry(text, 'ft').si).toBeCloseTo(inches * INCH, 14);
  });

  test.each([
    [`-2' 6"`, -30],
    [`−2' 6"`, -30],
    [`- 2' 6"`, -30],
    ['-2-6-0', -30],
    [`-0' 6"`, -6],
    ['-63 5/8"', -63.625],
    ['−½"', -0.5],
  ])('the minus of %s belongs to the whole length', (text, inches) => {
    expect(entry(text, 'ft').si).toBeCloseTo(inches * INCH, 14);
  });

  test('a cell in inches takes a bare mixed number as inches', () => {
    expect(entry('63 5/8', 'in').si).toBe(63.625 * INCH);
    expect(entry('63 ⅝', 'in').si).toBe(63.625 * INCH);
    expect(entry('63.625', 'in').si).toBe(63.625 * INCH);
  });

  test('every 1/64" from 0 to 100 ft comes back, in four ways of writing it', () => {
    const wrong: string[] = [];
    for (let n = 0; n <= 100 * 12 * 64; n++) {
      const metres = n / 64 / (1 / INCH);
      const marks = formatFeetInches(metres, 64);
      const [, feet = '0', rest = '0'] = /^(?:(\d+)' )?(.*)"$/.exec(marks) ?? [];
      const [whole = '0', fraction] =
        rest.includes('/') && !rest.includes(' ') ? ['0', rest] : rest.split(' ');
      const forms = [
        marks,
        `${feet}-${whole}-${fraction ?? '0'}`,
        `${feet}ft ${whole}${fraction === undefined ? '' : `-${fraction}`}in`,
        `${feet}′ ${whole}${fraction === undefined ? '' : ` ${fraction.replace('/', '⁄')}`}″`,
      ];
      // A quarter of the forms each time keeps this short; all forms meet every fraction of an inch.
      for (const text of [marks, forms[1 + (n % 3)] ?? marks]) {
        const read = readEntry(text, unit('ft'));
        const inches = 'literal' in read ? read.literal.si / INCH : NaN;
        if (!(Math.abs(inches * 64 - n) < 1e-9)) wrong.push(`${text} gave ${String(inches * 64)}, not ${n}`);
        else if ('literal' in read && formatFeetInches(read.literal.si, 64) !== marks) wrong.push(text);
      }
    }
    expect(wrong).toEqual([]);
  });

  test('forms that could mean two things are asked about, never guessed', () => {
    expect(refusal('5-3', 'ft')).toBe(
      `'5-3' may be feet and inches, a range or a difference; type 5' 3" or 5-3-0`,
    );
    expect(refusal('5 3/8', 'ft')).toBe(`'5 3/8' may be inches or feet; type 5 3/8" or 5 3/8 ft`);
    expect(refusal('1/2', 'ft')).toBe(`'1/2' may be inches or feet; type 1/2" or 1/2 ft`);
    expect(refusal(`5' 1/0"`, 'ft')).toContain('cannot read');
    // Where no length is expected, hyphens and spaces join nothing.
    expect(refusal('5-3-5/8')).toContain(`after 5 I cannot read '-3-5/8'`);
    expect(refusal('5 3 5/8')).toContain('after 5 stands another number, 3 5/8');
  });
});

describe('whole entries', () => {
  test('a bare number takes the unit of the place, another unit of its dimension is converted', () => {
    expect(entry('50', 'Pa').si).toBe(50);
    expect(entry('0.2 inH2O', 'Pa').si).toBeCloseTo(0.2 * 249.08891, 4);
    expect(entry('2.5 m', 'ft')).toMatchObject({ si: 2.5, unit: { symbol: 'm' } });
    expect(entry('20 degC', 'degF').si).toBe(293.15);
    expect(entry('-40', 'degF').si).toBeCloseTo(entry('-40', 'degC').si, 12);
    expect(entry('60 %', '').si).toBeCloseTo(0.6, 15);
    expect(entry('$4.50/ft2', '$/m2').si).toBeCloseTo(4.5 / 0.3048 ** 2, 12);
  });

  test('signs: − and – are minus, + is nothing, and 0 has none', () => {
    for (const minus of ['-', '−', '–', '- ']) expect(entry(`${minus}30.1`, 'Pa').si).toBe(-30.1);
    expect(entry('+30.1', 'Pa').si).toBe(30.1);
    expect(Object.is(entry('-0', 'Pa').si, 0)).toBe(true);
    expect(entry('−20.0 ± 0.5', 'Pa')).toMatchObject({ si: -20, plusMinus: 0.5 });
  });

  test('numbers as they are written', () => {
    for (const [text, value] of [
      ['1e-3', 0.001],
      ['1.5E3', 1500],
      ['1.5×10⁻³', 0.0015],
      ['1.5·10^3', 1500],
      ['.5', 0.5],
      ['5.', 5],
      ['½', 0.5],
      ['1½', 1.5],
      ['1 1/2', 1.5],
      ['1\u00a0½', 1.5],
    ] as const)
      expect(entry(text, 'Pa').si, text).toBe(value);
  });

  test('nothing typed is blank', () => {
    for (const text of ['', ' ', '\t', '\u00a0'])
      expect(readEntry(text, unit('Pa'))).toEqual({ blank: true });
  });
});

describe('commas and spaces in numbers', () => {
  test.each([
    ['1,234', 1234],
    ['12,345.6', 12345.6],
    ['1,234,567', 1234567],
    ['-1,234', -1234],
    ['24,610 ft3', 24610],
    ['12\u202f345', 12345],
    ['12\u2009345.6', 12345.6],
  ])('%s separates thousands', (text, value) => {
    expect(entry(text, 'ft3').value).toBe(value);
  });

  test.each([
    ['1,5', 'type 1.5, with a point before the decimals'],
    ['0,5', 'type 0.5, with a point before the decimals'],
    ['0,123', 'type 0.123, with a point before the decimals'],
    ['1234,5', 'type 1234.5, with a point before the decimals'],
    ['1.234,5', 'type 1234.5, with a point before the decimals'],
    ['1.234.567,8', 'type 1234567.8, with a point before the decimals'],
    ['1,234,56', 'leave the commas out, or set them between thousands as in 12,345.6'],
    ['1,,234', 'leave the commas out, or set them between thousands as in 12,345.6'],
  ])('%s is not guessed at', (text, way) => {
    expect(refusal(text, 'ft3')).toBe(`'${text}' has a comma that does not separate thousands; ${way}`);
  });

  test('spaces between thousands: what to type', () => {
    expect(refusal('1 234', 'ft3')).toBe(
      'after 1 stands another number, 234; for thousands type 1234 or 1,234',
    );
    expect(refusal('1 234 567', 'ft3')).toBe(
      'after 1 stands another number, 234 567; for thousands type 1234567 or 1,234,567',
    );
    expect(refusal('1 234 567.8 ft3', 'ft3')).toBe(
      'after 1 stands another number, 234 567.8 ft3; for thousands type 1234567.8 ft3 or 1,234,567.8 ft3',
    );
  });
});

describe('what is said of a wrong entry', () => {
  test.each([
    ['5 kg', 'Pa', `'5 kg' is a mass; this entry is a pressure; type for instance 20 Pa`],
    ['5 ft2', 'ft', `'5 ft2' is an area; this entry is a length; type for instance 12 ft or 12' 4"`],
    [`5' 3"`, 'ft2', `'5' 3"' is a length; this entry is an area; type for instance 20 ft²`],
    ['5 ft', '', `'5 ft' is a length; this entry is a plain number; type for instance 0.65`],
    [
      '20 K',
      'degC',
      `'20 K' is a temperature difference; this entry is a temperature reading; type for instance 20 °C`,
    ],
    [
      '20 degC',
      'K',
      `'20 degC' is a temperature reading; this entry is a temperature difference; type for instance 20 K`,
    ],
    ['5 m/s2', 'Pa', `'5 m/s2' is an acceleration; this entry is a pressure; type for instance 20 Pa`],
    ['$5', 'ft', `'$5' is an amount of money; this entry is a length; type for instance 12 ft or 12' 4"`],
    ['5 foo', 'ft', `unknown unit 'foo'; did you mean foot?`],
    ['abc', 'Pa', `'abc' is not a number; type for instance 20 Pa`],
    ['± 2', 'Pa', 'a ± needs a value before it; type for instance 20 Pa'],
    ['--5', 'Pa', `'--5' is not a number; type for instance 20 Pa`],
    ['5 Pa 6', 'Pa', 'after 5 Pa stands another number, 6; type for instance 20 Pa'],
    ['20 ± 1 ± 2', 'Pa', `after 20 ± 1 I cannot read '± 2'; type for instance 20 Pa`],
  ])('%s in %s', (text, place, message) => {
    expect(refusal(text, place)).toBe(message);
  });

  test('words that JavaScript takes for numbers are none', () => {
    for (const text of ['NaN', 'Infinity', '0x10', '1_000', '1n', '1e', 'null', 'true'])
      expect(refusal(text, 'Pa'), text).not.toBe('');
    expect(refusal('9'.repeat(400), 'Pa')).toBe(
      'this entry is too long for a value; type for instance 20 Pa',
    );
  });
});

test('whatever is typed: no exception, and a value, a blank or a reason', () => {
  const typed = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 20 }),
    fc
      .array(
        fc.oneof(
          fc.constantFrom(
            ...[
              '±',
              '+-',
              '%',
              "'",
              '"',
              '′',
              '″',
              '5/8',
              '½',
              '⁄',
              '-',
              '−',
              ' ',
              '(5)',
              'e9',
              '.',
              ',',
              '$',
            ],
            ...['ft', 'in', 'Pa', 'degF', '°C', 'm3/h', '/', '^', '0', '12', '345', '×10⁻³', '\u202f', '²'],
          ),
        ),
        { maxLength: 10 },
      )
      .map((parts) => parts.join('')),
  );
  const begun = fc.tuple(fc.constantFrom('', '12', '-3.5 ', "5' "), typed).map((parts) => parts.join(''));
  const places = fc.constantFrom(undefined, '', 'ft', 'in', 'm', 'Pa', 'degF', 'K', '%', 'ft2', '$', '1/h');
  let read = 0;
  let refused = 0;
  fc.assert(
    fc.property(begun, places, (text, place) => {
      const found = readEntry(text, place === undefined ? undefined : unit(place));
      if ('blank' in found) expect(text.trim()).toBe('');
      else if ('problem' in found) {
        refused++;
        expect(found.problem).not.toBe('');
      } else {
        read++;
        expect(Number.isFinite(found.literal.si)).toBe(true);
        expect(Object.is(found.literal.si, -0)).toBe(false);
      }
    }),
    { numRuns: 2000 },
  );
  expect(read).toBeGreaterThan(100);
  expect(refused).toBeGreaterThan(100);
  // fast-check takes seconds to build its map of all characters on a busy machine; the reading itself does not.
}, 60_000);

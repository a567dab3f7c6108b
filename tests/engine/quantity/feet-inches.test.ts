import { describe, expect, test } from 'vitest';
import { formatFeetInches, scanLiteral } from '../../../src/engine/quantity/index.ts';
import { entry, literal } from './read.ts';

/** Correctly rounded, which `inches * 0.0254` is not. */
function metres(inches: number): number {
  return (inches * 254) / 10_000;
}

describe('feet, inches and fractions in formulas', () => {
  test.each([
    [`5' 3 5/8"`, 63.625],
    [`63 5/8"`, 63.625],
    [`5ft 3-5/8in`, 63.625],
    [`8 ft 3 in`, 99],
    [`5'-3"`, 63],
    [`3/4"`, 0.75],
    [`5/8 in`, 0.625],
    [`5'`, 60],
    [`5½"`, 5.5],
  ])('%s is one literal', (text, inches) => {
    expect(literal(text)).toMatchObject({ form: 'feet-inches', si: metres(inches) });
  });

  test.each([
    [`5' * 6"`, 2],
    [`5' - 3"`, 2],
    [`8' -3"`, 2],
    [`5 ft - 3 in`, 4],
    [`5 ft-3 in`, 4],
    [`2 - 3/4"`, 1],
    [`5 / 8 in`, 1],
    [`5 ft 3`, 4],
    [`3/4 in2`, 1],
    [`5 in^2`, 6],
  ])('%s: the first literal ends at %d', (text, end) => {
    expect(scanLiteral(text, 0)?.end).toBe(end);
  });

  test('in a place for a length the forms of drawings are read too', () => {
    for (const text of ['5-3-5/8', '5 3 5/8']) {
      expect(literal(text, { feetInches: true }).si).toBe(metres(63.625));
    }
  });

  test('equal lengths are equal to the last digit, however they are typed', () => {
    for (const text of [`12"`, `1'`, `1' 0"`, '12 in', '1 ft', '304.8 mm', '30.48 cm', '1/3 yd']) {
      expect(entry(text, 'm').si).toBe(0.3048);
    }
  });
});

describe('lengths written as on a tape', () => {
  test('every 1/64 inch from 0 to 100 ft comes back as the very same number, with and without minus', () => {
    const wrong: string[] = [];
    for (let i = 0; i <= 100 * 12 * 64; i++) {
      const length = metres(i / 64);
      const text = formatFeetInches(length, 64);
      const found = scanLiteral(text, 0);
      if (found === undefined || 'problem' in found || found.end !== text.length) wrong.push(text);
      else if (found.literal.si !== length) wrong.push(text);
      const below = i === 0 ? text : `−${text}`;
      if (formatFeetInches(-length, 64) !== below) wrong.push(below);
    }
    expect(wrong).toEqual([]);
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  parseUnit,
  readEntry,
  scanLiteral,
  scanUnit,
  UNIT_ROWS,
} from '../../../src/engine/quantity/index.ts';
import { expectTenfold } from '../../growth.ts';
import { unit } from './read.ts';

const pieces = [
  ...UNIT_ROWS.map((row) => row.symbols[0]),
  ...`0 1 12 3.5 5/8 ½ ' " ′ ″ ± +- +/- - − ( ) ^ / * · % ² ⁻¹ , . e e5 ×10⁻³ sq cu per board ft in degF x _ $ ° Δ`.split(
    ' ',
  ),
  ' ',
  '  ',
  '\u00a0',
  '𝟛',
  '🙂',
  '__proto__',
];
const anyText = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 40 }),
  fc.array(fc.constantFrom(...pieces), { maxLength: 12 }).map((list) => list.join('')),
);
const places = [undefined, ...['ft', 'in', 'Pa', 'degF', '%', '', '$/ft2'].map(unit)];

describe('any text at all', () => {
  test('is read or refused, never a crash, and a value is a finite number inside the text', () => {
    fc.assert(
      fc.property(anyText, fc.constantFrom(...places), fc.nat(40), (text, place, at) => {
        const entry = readEntry(text, place);
        if ('literal' in entry) {
          expect(Number.isFinite(entry.literal.si)).toBe(true);
          expect(entry.literal.plusMinus ?? 0).toBeGreaterThanOrEqual(0);
          if (place !== undefined) expect(entry.literal.unit?.dimension).toBe(place.dimension);
        } else if ('problem' in entry) {
          expect(entry.problem).not.toMatch(/undefined|NaN|\[object/u);
        }
        for (const feetInches of [false, true]) {
          const found = scanLiteral(text, at, { feetInches });
          if (found !== undefined) {
            expect(found.end).toBeGreaterThan(at);
            expect(found.end).toBeLessThanOrEqual(text.length);
          }
        }
        const scanned = scanUnit(text, at);
        if (scanned !== undefined) {
          expect(scanned.end).toBeLessThanOrEqual(text.length);
          // What was scanned is a unit by itself.
          expect(unit(scanned.unit.text).symbol).toBe(scanned.unit.symbol);
        }
        const parsed = parseUnit(text);
        if (!('problem' in parsed)) expect(unit(parsed.symbol).dimension).toBe(parsed.dimension);
      }),
      { numRuns: 4000 },
    );
    // fast-check takes seconds to build its map of all characters on a busy machine; the reading itself does not.
  }, 60_000);

  test.each([
    "5' ",
    '5 ',
    '5/',
    '5-',
    '(',
    'm*',
    'm/(',
    '1'.repeat(50),
    '½',
    ' ',
    "'",
    '5 ft ',
    '± ',
    '^(',
    '9.',
  ])('a long text of %j takes no long time', (piece) => {
    expectTenfold((characters) => {
      const text = `5${piece.repeat(Math.ceil(characters / piece.length))}`;
      scanLiteral(text, 0);
      scanLiteral(text, 0, { feetInches: true, entry: true });
      scanUnit(text, 1);
      parseUnit(text);
      readEntry(text, undefined);
    }, 1_000);
  });
});

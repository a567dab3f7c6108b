import { describe, expect, test } from 'vitest';
import { checkName, freeName, isName, nameFrom, normalName } from '../../src/workbook/name.ts';

const none = new Set<string>();
const reserved = (word: string) => (word === 'h' ? '“h” is a unit, the hour' : undefined);

describe('names', () => {
  test.each(['q50', 'house_pressure', 'A', 'Länge', 'ñ_1', 'ρ_air', 'Δp', 'μ', 'x'.repeat(60)])(
    '%s is a name',
    (name) => {
      expect(checkName(name, none, reserved)).toBeUndefined();
      expect(isName(name)).toBe(true);
    },
  );

  test('an accent typed as a character of its own is joined to its letter', () => {
    expect(normalName(' La\u0308nge ')).toBe('L\u00e4nge');
    expect(checkName('La\u0308nge', none)).toBeUndefined();
    expect(isName('La\u0308nge')).toBe(false);
  });

  test.each([
    ['', 'A name is missing.', 'Type a word, such as house_pressure.'],
    [
      'house pressure',
      'A name holds letters, digits and _ only, and “house pressure” holds a space.',
      'Type house_pressure.',
    ],
    ['flow-rate', 'A name holds letters, digits and _ only, and “flow-rate” holds “-”.', 'Type flow_rate.'],
    ['a.b', 'A name holds letters, digits and _ only, and “a.b” holds “.”.', 'Type a_b.'],
    ['😀', 'A name holds letters, digits and _ only, and “😀” holds “😀”.', 'Type value_1.'],
    ['2nd_test', 'A name begins with a letter, and “2nd_test” does not.', 'Type nd_test_2.'],
    ['50', 'A name begins with a letter, and “50” does not.', 'Type value_50.'],
    ['__proto__', 'A name begins with a letter, and “__proto__” does not.', 'Type proto.'],
    ['constructor', '“constructor” is a word the program keeps for itself.', 'Type constructor_1.'],
    ['toString', '“toString” is a word the program keeps for itself.', 'Type toString_1.'],
    ['hasOwnProperty', '“hasOwnProperty” is a word the program keeps for itself.', 'Type hasOwnProperty_1.'],
    ['h', '“h” is a unit, the hour.', 'Type h_value.'],
    ['\u0430ch', 'The “\u0430” in “\u0430ch” looks like a but is another letter (U+0430).', 'Type ach.'],
    ['\u0391rea', 'The “\u0391” in “\u0391rea” looks like A but is another letter (U+0391).', 'Type Area.'],
    ['fl\u03bfw', 'The “\u03bf” in “fl\u03bfw” looks like o but is another letter (U+03BF).', 'Type flow.'],
    ['\u00b5', 'The “\u00b5” in “\u00b5” looks like μ but is another letter (U+00B5).', 'Type μ.'],
    ['a\u200bb', 'The name holds an invisible character (U+200B) at place 2.', 'Type ab.'],
    ['a\u202eb', 'The name holds an invisible character (U+202E) at place 2.', 'Type ab.'],
    [
      'x'.repeat(61),
      'The name has 61 characters; 60 is the most.',
      'Shorten it; the label has room for more words.',
    ],
  ])('%j is refused, with what to type', (typed, problem, suggestion) => {
    expect(checkName(typed, none, reserved)).toEqual({ problem, suggestion });
    expect(isName(typed) && reserved(typed) === undefined).toBe(false);
  });

  test('a name in use is refused, and a free one proposed', () => {
    expect(checkName('flow', new Set(['flow', 'flow_2']))).toEqual({
      problem: 'The name “flow” is already taken.',
      suggestion: 'Type flow_3.',
    });
  });

  test('a free name never passes the longest length', () => {
    const long = 'x'.repeat(60);
    expect(freeName(long, new Set([long]))).toBe(`${'x'.repeat(58)}_2`);
  });

  test.each([
    ['House pressure, Pa', 'House_pressure_Pa'],
    ['  2 x 4  ', 'x_4_2'],
    ['\u202e', 'value_1'],
    ['constructor', 'value_1'],
  ])('words %j make the name %s', (words, name) => {
    expect(nameFrom(words)).toBe(name);
    expect(isName(nameFrom(words))).toBe(true);
  });

  test('every word that each object answers to is refused', () => {
    for (const word of Object.getOwnPropertyNames(Object.prototype)) expect(isName(word)).toBe(false);
  });
});

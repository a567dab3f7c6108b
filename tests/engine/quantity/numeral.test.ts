import { describe, expect, it } from 'vitest';
import {
  lengthInWords,
  numeral,
  plainWords,
  quantityInWords,
  written,
} from '../../../src/engine/quantity/index.ts';

const stretches = (words: string) => {
  const { text, numerals } = plainWords(words);
  return { text, numbers: numerals?.map(({ start, end }) => text.slice(start, end)) };
};

describe('numbers in words', () => {
  it('are told apart from whatever else has digits and points in the words', () => {
    expect(stretches(`R402.4.1: wing 2.5 lacks ${quantityInWords(0.002454, 'cfm', 1)}`)).toEqual({
      text: 'R402.4.1: wing 2.5 lacks 5.2 cfm',
      numbers: ['5.2 cfm'],
    });
  });

  it('are found wherever they stand, and words without any are as they were', () => {
    expect(stretches(`${numeral(-1.26, 1)}, ${numeral(12345)} and ${lengthInWords(3.7338)}`)).toEqual({
      text: `−1.3, 12,345 and 12' 3"`,
      numbers: ['−1.3', '12,345', `12' 3"`],
    });
    expect(plainWords('room 2.5')).toEqual({ text: 'room 2.5' });
    expect(plainWords('')).toEqual({ text: '' });
  });

  it('have six digits at most where no places are given, and no idle noughts', () => {
    expect(stretches(numeral(22.400000000001)).text).toBe('22.4');
    expect(stretches(numeral(123456.789)).text).toBe('123,457');
    expect(stretches(numeral(-0)).text).toBe('0');
    expect(stretches(numeral(-62.73)).text).toBe('−62.73');
  });

  it('leave no mark behind, even where one came in with other words', () => {
    expect(plainWords(`${written('1.5')}\uFDD1 and \uFDD0odd`).text).toBe('1.5 and odd');
  });
});

import { expect, test } from 'vitest';
import { choiceTyped } from '../../../src/face/worksheet/typed-choice.ts';

const KINDS = ['window', 'exterior door', 'cased opening', 'interior door'];
const ROOMS = ['bed 10', 'bed 1', 'bath', 'Hall'];

test('all letters typed count, not the last one alone', () => {
  for (const kind of KINDS)
    for (let typed = 1; typed <= kind.length; typed++)
      expect(choiceTyped(KINDS, kind.slice(0, typed)), kind.slice(0, typed)).toBe(kind);
  expect(choiceTyped(ROOMS, 'ba')).toBe('bath');
  expect(choiceTyped(ROOMS, 'hall')).toBe('Hall');
});

test('a choice written out goes before one that is longer', () => {
  expect(choiceTyped(ROOMS, 'bed ')).toBe('bed 10');
  expect(choiceTyped(ROOMS, 'bed 1')).toBe('bed 1');
});

test('one letter again and again goes from choice to choice', () => {
  expect(['b', 'bb', 'bbb', 'bbbb'].map((typed) => choiceTyped(ROOMS, typed))).toEqual([
    'bed 10',
    'bed 1',
    'bath',
    'bed 10',
  ]);
});

test('words that no choice begins with are none', () => {
  expect(choiceTyped(ROOMS, 'attic')).toBeUndefined();
  expect(choiceTyped(ROOMS, 'bx')).toBeUndefined();
  expect(choiceTyped(ROOMS, 'zz')).toBeUndefined();
  expect(choiceTyped([], 'a')).toBeUndefined();
});

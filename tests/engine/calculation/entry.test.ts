import { expect, it } from 'vitest';
import { isTyped } from '../../../src/engine/calculation/entry.ts';

it.each([
  ['$5', true],
  ['-$1,200.50', true],
  ['$ 5 ± 1', true],
  ['$A$1', false],
  ['$2 * height', false],
])('an amount of money is a value also with its sign before it: %s', (text, typed) => {
  expect(isTyped(text, '$')).toBe(typed);
});

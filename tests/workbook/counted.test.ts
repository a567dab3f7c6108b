import { expect, test } from 'vitest';
import { counted } from '../../src/workbook/index.ts';

test('one has no s, none and many have, and a word may have a plural of its own', () => {
  expect([0, 1, 2].map((many) => counted(many, 'row'))).toEqual(['0 rows', '1 row', '2 rows']);
  expect(counted(3, 'entry', 'entries')).toBe('3 entries');
  expect(counted(1, 'entry', 'entries')).toBe('1 entry');
});

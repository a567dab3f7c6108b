import { expect, test } from 'vitest';
import { filterText, isOpen, NO_FILTER, passes } from '../../../src/face/worksheet/row-filter.ts';

test('text is found anywhere, capitals or not; values are met exactly', () => {
  expect(passes({ text: 'OAK', values: undefined }, 'white oak')).toBe(true);
  expect(passes({ text: ' ', values: undefined }, 'pine')).toBe(true);
  expect(passes({ text: '', values: new Set(['mid']) }, 'mid')).toBe(true);
  expect(passes({ text: '', values: new Set(['mid']) }, 'middle')).toBe(false);
  expect(passes({ text: 'o', values: new Set(['']) }, '')).toBe(false);
});

test('what is let through is said in words', () => {
  expect(isOpen(NO_FILTER)).toBe(true);
  expect(filterText({ text: 'oak', values: undefined })).toBe('holds “oak”');
  expect(filterText({ text: '', values: new Set(['low', '']) })).toBe('is low or blank');
  expect(filterText({ text: 'a', values: new Set() })).toBe('holds “a” and is nothing');
});

import { expect, test } from 'vitest';
import { standingOfText } from '../../src/face/verdict.ts';

const verdict = { settled: ['met', 'not asked'] };

test('words that the workbook calls settled ask for nothing', () => {
  expect(standingOfText(verdict, 'met')).toBe('settled');
  expect(standingOfText(verdict, 'not asked: no appliance')).toBe('settled');
});

test('any other word of a verdict asks for something', () => {
  expect(standingOfText(verdict, 'too close to call')).toBe('asking');
  expect(standingOfText(verdict, 'met but for one room')).toBe('asking');
  expect(standingOfText({ settled: [] }, 'open')).toBe('asking');
});

test('without a verdict nothing is said', () => {
  expect(standingOfText(verdict, '')).toBe('');
  expect(standingOfText({}, 'not met')).toBe('');
});

import { expect, test } from 'vitest';
import { isSettled, isTold, saysNothing } from '../../src/face/verdict-words.ts';

test('what is well stays quiet, what asks for something does not', () => {
  for (const words of ['', 'pass', 'met', 'dry enough', 'closed', 'release', 'within 1/16 in a board'])
    expect(isSettled(words), words).toBe(true);
  for (const words of ['fail', 'not met', 'too close to call', 'mould can grow', 'open', 'type a height'])
    expect(isSettled(words), words).toBe(false);
});

test('words that a formula only fetches are told, words that it decides are a verdict', () => {
  expect(isTold('lookup(beams.species, beams.beam, beam)')).toBe(true);
  expect(isTold('plan.status')).toBe(true);
  expect(isTold('reading > limit ? "fail" : "pass"')).toBe(false);
  expect(isTold('point_remark(a, b)')).toBe(false);
});

test('a label that says nothing is left out before the words', () => {
  expect(saysNothing('Verdict')).toBe(true);
  expect(saysNothing('Cut from stick')).toBe(false);
});

import { expect, test } from 'vitest';
import { DIMENSIONLESS } from '../../../src/engine/index.ts';
import { showDifference } from '../../../src/face/whatif/difference.ts';
import type { CellState } from '../../../src/face/view.ts';

const like: CellState = {
  state: 'value',
  value: 1,
  type: { kind: 'quantity', dimension: DIMENSIONLESS, reading: false },
} as CellState;
const share = { unit: '%', places: 1 };
const count = { unit: '', places: 0 };
const told = (value: number, uncertainty: number, rule: { unit: string; places: number }) =>
  showDifference({ value, uncertainty }, like, rule, 'us');

test('a difference has a sign and one place more than its value, but no idle nought', () => {
  expect(told(-0.11304, 0, share)).toEqual({ text: '−11.30 %', none: false });
  expect(told(0.0213, 0, share)).toEqual({ text: '+2.13 %', none: false });
  expect(told(0.02, 0, share)).toEqual({ text: '+2.0 %', none: false });
  expect(told(32, 0, count)).toEqual({ text: '+32', none: false });
  expect(told(0.4, 0, count)).toEqual({ text: '+0.4', none: false });
});

test('with a ± it is rounded as that is', () => {
  expect(told(0.0179, 0.0058, share)).toEqual({ text: '+1.79 ± 0.58 %', none: false });
});

test('what is nothing at the places shown has no sign, and where it has no ± is no difference', () => {
  for (const value of [0, 1e-9, -1e-9, 4e-5, -4e-5])
    expect(told(value, 0, share), String(value)).toEqual({ text: '0.00 %', none: true });
  expect(told(1e-5, 0.01, share)).toEqual({ text: '0.0 ± 1.0 %', none: false });
  expect(told(-1e-5, 0.01, share)).toEqual({ text: '0.0 ± 1.0 %', none: false });
  // The same value with another ± is no difference.
  expect(told(0, 0.01, share).none).toBe(true);
});

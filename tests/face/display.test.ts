import { expect, test } from 'vitest';
import { parseUnit, toSI, type Unit } from '../../src/engine/index.ts';
import { asText, doubtText, doubtWord, show, type DisplayRule } from '../../src/face/display.ts';
import type { CellState } from '../../src/face/view.ts';

function unit(text: string): Unit {
  const read = parseUnit(text);
  if ('problem' in read) throw new Error(read.problem);
  return read;
}

function quantity(value: number, text: string, plusMinus?: number, typed = false): CellState {
  const { dimension, reading, factor } = unit(text);
  return {
    state: 'value',
    type: { kind: 'quantity', dimension, reading },
    value: toSI(value, unit(text)),
    typed,
    ...(plusMinus === undefined ? {} : { plusMinus: plusMinus * factor }),
  };
}

const us = (state: CellState, rule: DisplayRule) => asText(show(state, rule, 'us'));
const si = (state: CellState, rule: DisplayRule) => asText(show(state, rule, 'si'));

test('a value stands in its own unit, or in its counterpart under the other system', () => {
  const flow = quantity(431, 'cfm');
  expect(us(flow, { unit: 'cfm', places: 0 })).toBe('431 cfm');
  expect(si(flow, { unit: 'cfm', places: 0 })).toBe('732 m³/h');
  expect(si(flow, { unit: 'cfm', places: 0, pinned: true })).toBe('431 cfm');
});

test('declared places belong to the own unit: a much larger one shows as many digits, not fewer', () => {
  expect(si(quantity(24_610, 'ft3'), { unit: 'ft3', places: 0 })).toBe('696.88 m³');
});

test('a ± decides the digits of its value and is never hidden', () => {
  expect(us(quantity(1.0287, '1/h', 0.033), { unit: '1/h', places: 5 })).toBe('1.029 ± 0.033 1/h');
});

test('a ± that cannot be told is said wherever the value is, and is no “± 0”', () => {
  const flat = { ...quantity(0, 'm2', 0), doubt: 'flat' } as CellState;
  expect(si(flat, { unit: 'm2', places: 3 })).toBe('0.000 m², ± not told');
  expect(si(quantity(0, 'm2', 0), { unit: 'm2', places: 3 })).toBe('0.000 m²');
});

test('the ± of a temperature reading takes no offset', () => {
  expect(si(quantity(68, 'degF', 1.8), { unit: 'degF' })).toBe('20.0 ± 1.0 °C');
});

test('feet and inches are shown as they were typed, and converted where metres are shown', () => {
  const length = quantity(12.375, 'ft', undefined, true);
  const rule = { unit: 'ft', text: `12' 4 1/2"`, places: 2 };
  expect(us(length, rule)).toBe(`12' 4 1/2"`);
  // A phone makes quotes of them.
  expect(us(length, { ...rule, text: '12’ 4 ½”' })).toBe('12’ 4 ½”');
  expect(si(length, rule)).toMatch(/^3\.77\d? m$/);
});

test('what is no value says so, and never shows a number', () => {
  expect(us({ state: 'waiting', for: 'q50' }, { unit: 'cfm' })).toBe('waits for q50');
  expect(us({ state: 'fault', fault: 'there is no root of a negative number' }, { unit: '' })).toBe(
    'there is no root of a negative number',
  );
  expect(us({ state: 'blank', type: undefined, reason: 'two points give no interval' }, { unit: '' })).toBe(
    'two points give no interval',
  );
});

test('what the engine doubts of a result is said in a word and in a sentence', () => {
  const flow = quantity(431, 'cfm', 10);
  expect(doubtWord(flow)).toBe('');
  if (flow.state !== 'value') throw new Error('no value');
  const undecided: CellState = { ...flow, doubt: 'undecided' };
  expect(doubtWord(undecided)).toBe('undecided');
  expect(doubtText(undecided)).toContain('could go the other way');
  const corner: CellState = { ...flow, doubt: 'not-smooth' };
  expect(doubtWord(corner)).toBe('at a corner');
  expect(doubtText(corner)).toContain('min, max, abs');
  // A verdict has no ± that a corner could bend.
  expect(doubtWord({ ...corner, value: 'balanced' })).toBe('');
  expect(doubtText({ ...corner, value: 'balanced' })).toBe('');
});

test('inches on a mark of the rule are shown as on a tape, others as decimals', () => {
  const rule = { unit: 'in', places: 4 };
  expect(us(quantity(158.9375, 'in'), rule)).toBe('158 15/16 in');
  expect(us(quantity(-0.0625, 'in'), rule)).toBe('−1/16 in');
  expect(us(quantity(145, 'in'), rule)).toBe('145 in');
  expect(us(quantity(1617.3125, 'in'), { unit: 'in', places: 1 })).toBe('1,617 5/16 in');
  expect(us(quantity(119.65625, 'in'), rule)).toBe('119 21/32 in');
  expect(us(quantity(0.19, 'in'), rule)).toBe('0.1900 in');
  expect(us(quantity(0.5, 'in', 0.01), rule)).toBe('0.500 ± 0.010 in');
  expect(us(quantity(7.5, 'in'), { unit: 'in', places: 0 })).toBe('8 in');
  expect(si(quantity(158.9375, 'in'), { unit: 'in', places: 1 })).not.toContain('/');
  // 158 15/16 in is 4037.0125 mm; nobody cuts to a micrometre. What lies on no mark keeps its digits.
  expect(si(quantity(158.9375, 'in'), rule)).toBe('4,037.0 mm');
  expect(si(quantity(0.19, 'in'), rule)).toBe('4.826 mm');
});

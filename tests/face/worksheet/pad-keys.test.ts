import { expect, test } from 'vitest';
import {
  erase,
  fraction,
  mark,
  turnSign,
  withUnit,
  type Typed,
} from '../../../src/face/worksheet/pad-keys.ts';

const end = (change: (text: string, from: number, to: number) => Typed) => (text: string) =>
  change(text, text.length, text.length).text;

test('one key for feet and inches', () => {
  expect(end(mark)('5')).toBe("5' ");
  expect(end(mark)("5' 3")).toBe('5\' 3"');
  // A gap of fifteen inches for one of an inch and a bit would be believed.
  expect(end(mark)('1 5/16')).toBe('1 5/16"');
  expect(end(mark)('3/16')).toBe('3/16"');
});

test('a fraction goes behind whole inches', () => {
  const half = end((text, from, to) => fraction(text, from, to, '1/2'));
  expect(half('3')).toBe('3 1/2');
  expect(half("5' ")).toBe("5' 1/2");
  expect(half('')).toBe('1/2');
});

test('the minus comes and goes at the front', () => {
  expect(turnSign('27.2', 4)).toEqual({ text: '-27.2', caret: 5 });
  expect(turnSign('−27.2', 5)).toEqual({ text: '27.2', caret: 4 });
});

test('in a formula the minus takes away where it is typed', () => {
  expect(turnSign('envelope_volume', 15)).toEqual({ text: 'envelope_volume - ', caret: 18 });
  expect(turnSign('2 * (', 5)).toEqual({ text: '2 * (-', caret: 6 });
  expect(turnSign('area * 20', 7, 9)).toEqual({ text: 'area * -', caret: 8 });
  // A quantity with its unit is none.
  expect(turnSign('20 ± 0.5 m3/(h m2)', 4).text).toBe('-20 ± 0.5 m3/(h m2)');
  expect(turnSign('5\' 3 1/2"', 2).text).toBe('-5\' 3 1/2"');
});

test('delete takes what is marked, else the sign before the caret', () => {
  expect(erase('123', 3, 3)).toEqual({ text: '12', caret: 2 });
  expect(erase('123', 0, 3)).toEqual({ text: '', caret: 0 });
  expect(erase('123', 0, 0)).toEqual({ text: '123', caret: 0 });
});

test('a unit takes the place of another', () => {
  expect(withUnit('12', 'm').text).toBe('12 m');
  expect(withUnit('12 ft', 'm').text).toBe('12 m');
  expect(withUnit('20 ± 0.5 Pa', 'inH₂O').text).toBe('20 ± 0.5 inH₂O');
});

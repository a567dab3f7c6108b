import { describe, expect, test } from 'vitest';
import {
  defineFunction,
  DIMENSIONLESS,
  FunctionLibrary,
  parseUnit,
  type Type,
} from '../../src/engine/index.ts';
import { wantedAt, wantedBy, type Wanted } from '../../src/workbook/wanted.ts';

function dimensionOf(text: string): number {
  const unit = parseUnit(text);
  if ('problem' in unit) throw new Error(unit.problem);
  return unit.dimension;
}

const KINDS: Readonly<Record<string, string>> = {
  height: 'ft',
  area: 'ft2',
  volume: 'ft3',
  'area * height': 'ft3',
  '(height + height)': 'ft',
  'f(area, "a, (b")': 'ft2',
};
const f = defineFunction({
  name: 'f',
  summary: 'An example.',
  source: 'none: an invented example',
  limits: 'none',
  parameters: [
    { name: 'a', type: { kind: 'quantity', unit: 'ft2' }, summary: 'an area' },
    { name: 'b', type: { kind: 'text' }, summary: 'a word' },
    { name: 'c', type: { kind: 'generic', letter: 'd' }, summary: 'anything' },
  ],
  result: { kind: 'quantity', unit: 'ft2' },
  example: { formula: 'f(1 ft2, "b", 1)', result: 0.09290304 },
  compute: (a: number) => a,
});
const kinds = {
  library: new FunctionLibrary([f]),
  typeOf: (text: string): Type | undefined => {
    const unit = KINDS[text.trim()];
    return unit === undefined
      ? undefined
      : { kind: 'quantity', dimension: dimensionOf(unit), reading: false };
  },
};
const VOLUME = dimensionOf('ft3');

describe('what fits at the end of a formula that is to be a volume', () => {
  test.each([
    // At the beginning, and wherever a branch begins: the whole.
    ['', 'ft3'],
    ['= ', 'ft3'],
    ['-', 'ft3'],
    ['area > 2 ft2 ? ', 'ft3'],
    ['area > 2 ft2 ? volume : ', 'ft3'],
    // A sum and a comparison: what stands on the other side.
    ['volume + ', 'ft3'],
    ['volume - -', 'ft3'],
    ['unknown + ', 'ft3'],
    ['height < ', 'ft'],
    ['height >= height + ', 'ft'],
    ['height > height and area < ', 'ft2'],
    // A product: what is missing in it.
    ['area * ', 'ft'],
    ['volume + area * ', 'ft'],
    ['(height + height) * ', 'ft2'],
    ['(', 'ft3'],
    ['(volume + ', 'ft3'],
    ['area * (', 'ft'],
    ['area * (height + ', 'ft'],
    ['area * height / ', ''],
    // A call: what its definition says.
    ['f(', 'ft2'],
    ['2 * f(area + ', 'ft2'],
    ['f(height * ', 'ft'],
    ['f(area, "a, (b") * ', 'ft'],
    ['height ^ ', ''],
  ])('%s', (before, unit) => {
    expect(wantedAt(before, VOLUME, kinds)).toBe(dimensionOf(unit));
  });

  test('a word where a function takes one; nothing where nothing is known', () => {
    const found = (before: string, whole?: Wanted) => wantedAt(before, whole, kinds);
    expect(found('f(area, ')).toBe('text');
    expect(found('f(area, "b", ')).toBeUndefined();
    expect(found('g(', VOLUME)).toBeUndefined();
    expect(found('unknown * ', VOLUME)).toBeUndefined();
    expect(found('area * ')).toBeUndefined();
    expect(found('area + ')).toBe(dimensionOf('ft2'));
    expect(found('"area + ')).toBeUndefined();
  });
});

test('the kind of a value is its dimension, or that it is a text or a yes or no', () => {
  expect(wantedBy({ kind: 'quantity', dimension: DIMENSIONLESS, reading: false })).toBe(DIMENSIONLESS);
  expect(wantedBy({ kind: 'logical' })).toBe('logical');
  expect(wantedBy({ kind: 'record', fields: new Map(), maker: 'f' })).toBeUndefined();
});

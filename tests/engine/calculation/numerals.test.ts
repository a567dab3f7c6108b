/** Words that a function writes, with numbers in them: plain to everyone, and told where the numbers are. */
import { describe, expect, it } from 'vitest';
import { defineFunction, Engine, fault, FunctionLibrary, numeral } from '../../../src/engine/index.ts';

const remark = defineFunction({
  name: 'remark',
  summary: 'Says a number.',
  source: 'This test.',
  limits: 'Refuses what is below zero.',
  parameters: [{ name: 'value', type: { kind: 'quantity', unit: '' }, summary: 'Any' }],
  result: { kind: 'text' },
  example: { result: '' },
  compute: (value: number) =>
    value < 0
      ? fault(`${numeral(value)} is below zero.`, `Type ${numeral(0.5)}.`)
      : `R402.4 has ${numeral(value, 1)}`,
});

function engineWith(cells: Readonly<Record<string, string>>) {
  const engine = new Engine(new FunctionLibrary([remark]));
  for (const [name, text] of Object.entries(cells)) engine.defineCell({ name, text, type: 'text' });
  engine.recalculate();
  return engine;
}

describe('words with numbers in them', () => {
  it('are plain text with the places of their numbers beside them', () => {
    const engine = engineWith({ said: '= remark(2.25)' });
    expect(engine.read('said')).toMatchObject({
      state: 'value',
      value: 'R402.4 has 2.3',
      numerals: [{ start: 11, end: 14 }],
    });
  });

  it('are equal to the same words typed, which have no numbers of their own', () => {
    const engine = engineWith({
      said: '= remark(2.5)',
      typed_words: 'R402.4 has 2.5',
      same: '= said == "R402.4 has 2.5"',
      as_typed: '= said == typed_words',
    });
    expect(engine.read('same')).toMatchObject({ value: true });
    expect(engine.read('as_typed')).toMatchObject({ value: true });
    expect(engine.read('typed_words')).not.toHaveProperty('numerals');
  });

  it('are faults as well, with what to do instead', () => {
    const engine = engineWith({ said: '= remark(-1.5)' });
    expect(engine.read('said')).toMatchObject({
      state: 'fault',
      fault: '−1.5 is below zero.',
      suggestion: 'Type 0.5.',
      numerals: { fault: [{ start: 0, end: 4 }], suggestion: [{ start: 5, end: 8 }] },
    });
  });
});

import { defineFunction, Engine, FunctionLibrary } from '../../../src/engine/index.ts';

/** A function, which is costlier than an instruction of the tape. */
export const halve = defineFunction({
  name: 'halve',
  summary: 'half of a number',
  source: 'made for this test',
  limits: 'none',
  parameters: [{ name: 'x', type: { kind: 'quantity', unit: '' }, summary: 'a number' }],
  result: { kind: 'quantity', unit: '' },
  example: { arguments: [3], result: 1.5 },
  compute: (x: number) => x / 2,
});

/** A function that counts how often it is asked, so that a test sees who was woken. */
export function watched(): { readonly engine: Engine; readonly calls: () => number } {
  let count = 0;
  const watch = defineFunction({
    name: 'watch',
    summary: 'the number itself',
    source: 'made for this test',
    limits: 'none',
    parameters: [{ name: 'x', type: { kind: 'generic', letter: 'A' }, summary: 'any number' }],
    result: { kind: 'generic', letter: 'A' },
    example: { arguments: [1], result: 1 },
    compute: (x: number) => {
      count++;
      return x;
    },
  });
  const halves = defineFunction({
    name: 'halves',
    summary: 'a record of two',
    source: 'made for this test',
    limits: 'none',
    parameters: [{ name: 'x', type: { kind: 'quantity', unit: '' }, summary: 'a number' }],
    result: {
      kind: 'record',
      fields: {
        whole: { type: { kind: 'quantity', unit: '' }, summary: 'whole part' },
        sign: { type: { kind: 'quantity', unit: '' }, summary: 'sign' },
      },
    },
    example: { arguments: [2.5], result: { whole: 2, sign: 1 } },
    compute: (x: number) => ({ whole: Math.floor(x), sign: Math.sign(x) }),
  });
  const engine = new Engine(new FunctionLibrary([watch, halves]));
  return {
    engine,
    calls: () => {
      const n = count;
      count = 0;
      return n;
    },
  };
}

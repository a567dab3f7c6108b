import { defineFunction, fault, type Fault } from '../../engine/index.ts';

/** A size as it was typed: an area, a flow or how many. */
export function leakSize(size: number): number | Fault {
  if (size < 0) return fault('The size of this leak is negative.', 'Type it as a positive number.');
  return size;
}

export const leakSizeFunction = defineFunction({
  name: 'leak_size',
  summary: 'The size of a leak as typed, an area, a flow or how many of a kind: one below zero is refused.',
  source: 'Definition.',
  limits: 'Zero or more.',
  parameters: [
    { name: 'size', type: { kind: 'generic', letter: 'S' }, summary: 'Area, flow at 50 Pa, or how many' },
  ],
  result: { kind: 'generic', letter: 'S' },
  example: { formula: 'leak_size(2.5 in2)', arguments: [0.0016129], result: 0.0016129 },
  compute: leakSize,
  partials: () => ({ result: [1] }),
});

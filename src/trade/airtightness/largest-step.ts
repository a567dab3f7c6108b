import { defineFunction } from '../../engine/index.ts';

/** The widest gap between neighbouring pressures, Pa; NaN for fewer than two. */
export function largestStep(pressures: readonly number[]): number {
  const sorted = [...pressures].sort((a, b) => a - b);
  let widest = NaN;
  sorted.slice(1).forEach((pressure, i) => {
    const gap = pressure - (sorted[i] ?? NaN);
    if (!(gap <= widest)) widest = gap;
  });
  return Number.isFinite(widest) ? widest : NaN;
}

export const largestStepFunction = defineFunction({
  name: 'largest_step',
  summary: 'The widest gap between neighbouring pressures of a test.',
  source: 'Arithmetic: the pressures in order, and their differences.',
  limits: 'Two pressures or more; unavailable for fewer.',
  unavailable: 'two pressures are needed',
  parameters: [
    { name: 'pressures', type: { kind: 'quantity', unit: 'Pa' }, column: true, summary: 'Induced pressures' },
  ],
  result: { kind: 'quantity', unit: 'Pa' },
  example: { arguments: [[50, 20, 35, 28]], result: 15 },
  compute: largestStep,
});

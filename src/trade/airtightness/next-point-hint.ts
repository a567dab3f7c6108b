import { defineFunction, fault, type Fault } from '../../engine/index.ts';

/** The pressure at which results are compared, Pa. */
const REFERENCE = 50;

/** A plan with more is a slip of unit. */
const MOST_GAPS = 100;

/** What the house gauge should show next, and whether the points suffice. */
export function nextPointHint(
  pressures: readonly number[],
  sign: number,
  baseline: number,
  lowest: number,
  highest: number,
  step: number,
  leastPoints: number,
): string | Fault {
  const gaps = Math.max(Math.ceil((highest - lowest) / step - 1e-9), leastPoints - 1, 1);
  if (!(lowest > 0 && highest > lowest && step > 0 && gaps <= MOST_GAPS)) {
    return fault(
      'The plan of a test needs a highest pressure above the lowest and a step, all above 0 Pa, and at most 100 points.',
      'For instance 10 Pa, 60 Pa and 10 Pa.',
    );
  }
  const usable = pressures.filter((pressure) => pressure > 0);
  if (leastPoints <= 1) return onePoint(usable, sign * REFERENCE + baseline);
  const stations = plan(lowest, highest, gaps);
  const spacing = (highest - lowest) / (stations.length - 1);
  const missing = stations.filter((at) => usable.every((taken) => Math.abs(taken - at) > spacing / 2));
  const count = usable.length;
  const next = missing[0];
  if (next === undefined && count >= leastPoints) {
    return `Enough points: ${count}, from ${whole(Math.min(...usable))} to ${whole(Math.max(...usable))} Pa.`;
  }
  // All stations are taken but some points are missing: any pressure between the ends serves.
  const target = next ?? (lowest + highest) / 2;
  const gauge = whole(sign * target + baseline);
  const begun = count === 0 ? 'Start' : 'Next';
  const more =
    count >= leastPoints
      ? `${count} points are enough in number; ${missing.length} more would cover the range`
      : `${count} of at least ${leastPoints} points`;
  return `${begun} at about ${gauge} Pa on the house gauge; ${more}.`;
}

/** A method of one point asks for one near the reference pressure. */
function onePoint(pressures: readonly number[], gauge: number): string {
  const near = pressures.filter((pressure) => Math.abs(pressure - REFERENCE) <= REFERENCE / 10);
  if (near.length > 0) return `Enough for one point: ${near.map(whole).join(', ')} Pa.`;
  return `Aim at about ${whole(gauge)} Pa on the house gauge.`;
}

/** Evenly spread pressures from the highest down. */
function plan(lowest: number, highest: number, gaps: number): number[] {
  return Array.from({ length: gaps + 1 }, (_, i) => highest - (i * (highest - lowest)) / gaps);
}

function whole(pressure: number): string {
  return String(Math.round(pressure)).replace('-', '−').replace(/^−0$/, '0');
}

const number = { kind: 'quantity', unit: '' } as const;
const pressure = { kind: 'quantity', unit: 'Pa' } as const;

export const nextPointHintFunction = defineFunction({
  name: 'next_point_hint',
  summary: 'The house pressure at which the next point of a test is wanted, or that there are enough.',
  source:
    'Common practice, no source: evenly spread pressures from the highest down, where the wind matters least at first. The limits come from the method chosen.',
  limits:
    'A pressure counts as taken when a point lies within half a space of it; where one point is enough, within 5 Pa of 50 Pa. It speaks of number and range of the points only, not of their scatter.',
  parameters: [
    { name: 'pressures', type: pressure, column: true, summary: 'Induced pressures taken so far' },
    { name: 'sign', type: number, summary: '−1 when air is drawn out, +1 when it is blown in' },
    { name: 'baseline', type: pressure, summary: 'House pressure without the fan' },
    { name: 'lowest', type: pressure, summary: 'Lowest induced pressure of the plan' },
    { name: 'highest', type: pressure, summary: 'Highest induced pressure of the plan' },
    { name: 'step', type: pressure, summary: 'Widest space between points' },
    { name: 'least_points', type: number, summary: 'Points that the method asks for' },
  ],
  result: { kind: 'text' },
  example: {
    arguments: [[60.4, 49.1], -1, -2, 10, 60, 10, 5],
    result: 'Next at about −42 Pa on the house gauge; 2 of at least 5 points.',
  },
  compute: nextPointHint,
});

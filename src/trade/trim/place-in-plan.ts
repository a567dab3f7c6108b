import { defineFunction, fault, type Fault } from '../../engine/index.ts';
import { readPlan, type PlannedStick } from './plan-notation.ts';

/** The sticks that hold the pieces of a mark, by their number in cutting order: "3, 7"; empty where none does. */
export function placeInPlan(plan: string, mark: string): string | Fault {
  const sticks = readPlan(plan);
  if (!sticks) return fault('This text is no cutting plan.', 'Give the field “plan” of a cutting_plan.');
  const known = places.get(sticks) ?? placesIn(sticks);
  places.set(sticks, known);
  return known.get(mark)?.join(', ') ?? '';
}

/** Found once a plan: a table asks for every mark of it. */
const places = new WeakMap<readonly PlannedStick[], ReadonlyMap<string, readonly number[]>>();

function placesIn(sticks: readonly PlannedStick[]): ReadonlyMap<string, readonly number[]> {
  const found = new Map<string, number[]>();
  sticks.forEach(({ pieces }, i) => {
    for (const [mark] of pieces) {
      const numbers = found.get(mark) ?? [];
      found.set(mark, numbers);
      if (numbers.at(-1) !== i + 1) numbers.push(i + 1);
    }
  });
  return found;
}

export const placeInPlanFunction = defineFunction({
  name: 'place_in_plan',
  summary: 'Which sticks of a cutting plan hold the pieces of a mark, counted in cutting order.',
  source: 'Looks up what cutting_plan gives; nothing else.',
  limits: 'Pieces that share a mark are told together.',
  parameters: [
    { name: 'plan', type: { kind: 'text' }, summary: 'The field plan of a cutting_plan' },
    { name: 'mark', type: { kind: 'text' }, summary: 'What is written on the piece' },
  ],
  result: { kind: 'text' },
  example: {
    arguments: [
      '[{"stock":2.4384,"onHand":false,"pieces":[["T1",2]],"left":0.4},{"stock":2.4384,"onHand":false,"pieces":[["T2",1],["T1",1]],"left":0.4}]',
      'T1',
    ],
    result: '1, 2',
  },
  compute: placeInPlan,
});

import { defineFunction, fault, type Fault } from '../../engine/index.ts';
import { readPlan } from './plan-notation.ts';

/** Half of the least step between two stock lengths, metres. */
const SAME = 0.0005;

/** How many sticks of a length a plan takes: as they are bought, or of those that lie on site. */
export function sticksInPlan(plan: string, length: number, from: string): number | Fault {
  const sticks = readPlan(plan);
  if (!sticks) return fault('This text is no cutting plan.', 'Give the field “plan” of a cutting_plan.');
  if (from !== 'bought' && from !== 'on hand')
    return fault(`Sticks come from “bought” or “on hand”, not from “${from}”.`, 'Type one of the two.');
  return sticks.filter(
    (stick) => stick.onHand === (from === 'on hand') && Math.abs(stick.stock - length) < SAME,
  ).length;
}

export const sticksInPlanFunction = defineFunction({
  name: 'sticks_in_plan',
  summary:
    'How many sticks of one length a cutting plan takes: for the order, and for what is used of the stock.',
  source: 'Counts what cutting_plan gives; nothing else.',
  limits: 'Lengths within half a millimetre are the same.',
  parameters: [
    { name: 'plan', type: { kind: 'text' }, summary: 'The field plan of a cutting_plan' },
    {
      name: 'length',
      type: { kind: 'quantity', unit: 'm' },
      summary: 'Length of the stick, as in the table',
    },
    { name: 'from', type: { kind: 'text' }, summary: '"bought" or "on hand"' },
  ],
  result: { kind: 'quantity', unit: '' },
  example: {
    arguments: [
      '[{"stock":2.4384,"onHand":false,"pieces":[["T1",2]],"left":0.4},{"stock":2.4384,"onHand":false,"pieces":[["T2",1]],"left":1.4}]',
      2.4384,
      'bought',
    ],
    result: 2,
  },
  compute: sticksInPlan,
});

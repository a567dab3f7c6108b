import { expect, test } from 'vitest';
import { cuttingPlan } from '../../../src/face/figure/cutting-plan.ts';
import { bound, cell, column } from './bound.ts';

const shown = { ...cell('Shown', 0, ''), shown: { kind: 'text', text: 'base' } as const };

test('says why a profile has no plan, and that there is nothing to cut where there is nothing', () => {
  const problem = { ...column('', [undefined]), texts: ['Piece T09 has the length 0".'] };
  const faulty = bound({ shown }, { profile: column('', ['base']), plan: column('', [undefined]), problem });
  expect(cuttingPlan.summary(cuttingPlan.resolve(faulty))).toMatchObject({
    line: 'No plan of base. Piece T09 has the length 0".',
    tone: 'hold',
  });
  const empty = bound({ shown }, { profile: column('', ['base']), plan: column('', ['[]']) });
  expect(cuttingPlan.summary(cuttingPlan.resolve(empty)).line).toBe('Nothing to cut of base');
});

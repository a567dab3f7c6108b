import { afterEach, expect, test, vi } from 'vitest';
import { cuttingPlan } from '../../../src/face/figure/cutting-plan.ts';
import { bound, cell, column, theme } from './bound.ts';

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

afterEach(() => {
  vi.unstubAllGlobals();
  vi.resetModules();
});

test('lengths at the saw have the decimal commas of the screen, also in the drawing', async () => {
  vi.stubGlobal('navigator', { language: 'de-DE' });
  vi.resetModules();
  const { cuttingPlan: drawn } = await import('../../../src/face/figure/cutting-plan.ts');
  const stick = { stock: 4.8768, onHand: false, left: 0.1326, pieces: [['T25', 4.6053]] };
  const data = drawn.resolve(
    bound(
      { shown },
      {
        profile: column('', ['base']),
        plan: column('', [JSON.stringify([stick])]),
        length: column('mm', [4.6053]),
      },
    ),
  );
  const said = JSON.stringify([drawn.drawings?.(data, theme)[0]?.layout(900), drawn.summary(data)]);
  expect(said).toContain('4,88');
  expect(said).toContain('4.605,3');
  expect(said).toContain('132,6');
  expect(said).not.toMatch(/4[.]88|4,605[.]3|132[.]6/u);
});

/** Effective degrees of freedom of a result that rests on a fit's scatter and on a typed ± as well. */
import { expect, test } from 'vitest';
import { Engine, FunctionLibrary } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { expectRelative } from '../trade/closeness.ts';

test('they follow Welch–Satterthwaite (JCGM 100:2008, G.4.1, formula G.2b)', () => {
  const engine = new Engine(new FunctionLibrary(tradeFunctions));
  const pressures = ['15', '20', '25', '30', '40', '50', '60'];
  const flows = ['410', '492', '566', '640', '771', '889', '1001'];
  engine.defineTable({
    name: 'r',
    rows: 7,
    columns: [
      { name: 'p', type: 'number', unit: 'Pa', entries: pressures },
      { name: 'q', type: 'number', unit: 'm3/h', entries: flows },
    ],
  });
  for (const [name, text] of Object.entries({
    fit: 'power_law_fit(r.p, r.q)',
    gauge: '0 ± 2 m3/h',
    both: 'fit.flow50 + gauge',
  }))
    engine.defineCell({ name, type: 'number', text });
  engine.recalculate();
  const scatter = (engine.budget('fit.flow50')?.uncertainty ?? NaN) * 3600;
  const both = engine.budget('both');
  expect(engine.budget('fit.flow50')?.degreesOfFreedom).toBeCloseTo(5, 8);
  expectRelative((both?.uncertainty ?? NaN) * 3600, Math.hypot(scatter, 2), 1e-9);
  expectRelative(both?.degreesOfFreedom ?? NaN, (scatter ** 2 + 4) ** 2 / (scatter ** 4 / 5), 1e-9);
});

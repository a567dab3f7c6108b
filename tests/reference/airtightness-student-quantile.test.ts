import { describe, expect, it } from 'vitest';
import { studentQuantile } from '../../src/engine/index.ts';
import { expectRelative } from '../trade/closeness.ts';

/** Degrees of freedom, then t at 0.90, 0.95, 0.975, 0.99, 0.995 to three decimals. */
const handbook: readonly (readonly [number, ...string[]])[] = [
  [1, '3.078', '6.314', '12.706', '31.821', '63.657'],
  [2, '1.886', '2.920', '4.303', '6.965', '9.925'],
  [3, '1.638', '2.353', '3.182', '4.541', '5.841'],
  [4, '1.533', '2.132', '2.776', '3.747', '4.604'],
  [5, '1.476', '2.015', '2.571', '3.365', '4.032'],
  [6, '1.440', '1.943', '2.447', '3.143', '3.707'],
  [7, '1.415', '1.895', '2.365', '2.998', '3.499'],
  [8, '1.397', '1.860', '2.306', '2.896', '3.355'],
  [9, '1.383', '1.833', '2.262', '2.821', '3.250'],
  [10, '1.372', '1.812', '2.228', '2.764', '3.169'],
  [20, '1.325', '1.725', '2.086', '2.528', '2.845'],
  [30, '1.310', '1.697', '2.042', '2.457', '2.750'],
  [60, '1.296', '1.671', '2.000', '2.390', '2.660'],
  [100, '1.290', '1.660', '1.984', '2.364', '2.626'],
];

/** t(0.975) for 1 to 12 degrees of freedom. */
const twelve = [
  12.706204736175, 4.302652729749, 3.182446305284, 2.776445105198, 2.570581835636, 2.446911851145,
  2.364624251593, 2.306004135204, 2.262157162798, 2.228138851986, 2.200985160092, 2.178812829667,
];

describe('Student’s t quantile', () => {
  it('is the table of the NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, to its three decimals', () => {
    for (const [dof, ...row] of handbook) {
      const computed = [0.9, 0.95, 0.975, 0.99, 0.995].map((p) => studentQuantile(p, dof).toFixed(3));
      expect(computed, `${dof} degrees of freedom`).toEqual(row);
    }
  });

  it('is the twelve-decimal table computed with a general statistics library for two-sided 95 % limits', () => {
    twelve.forEach((t, i) => {
      expectRelative(studentQuantile(0.975, i + 1), t, 1e-12, `${i + 1} degrees of freedom`);
    });
    expectRelative(studentQuantile(0.975, 34), 2.032244509318, 1e-12);
    expectRelative(studentQuantile(0.975, 60), 2.000297822014, 1e-12);
  });
});

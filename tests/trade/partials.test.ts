/** Every derivative that a trade function declares agrees with central differences of the function itself. */
import { describe, expect, it } from 'vitest';
import { tradeFunctions } from '../../src/trade/index.ts';

type Given = number | string | boolean | readonly (number | string)[];

/** Further arguments, beside the example's, at which a function's derivatives are checked. */
const FURTHER: Readonly<Record<string, readonly (readonly Given[])[]>> = {
  fan_flow: [[37, 0.031, 0.483]],
  power_law_flow: [[4, 0.018, 0.68]],
  // Both forms of the distribution, either side, and degrees of freedom that are no whole number.
  t_quantile: [
    [0.6, 3],
    [0.025, 5],
    [0.97, 1.5],
    [0.3, 40.7],
    [0.975, 400],
  ],
  t_probability: [
    [0.4, 3],
    [-2.5, 5],
    [31, 1.5],
    [-0.9, 40.7],
    [2.2, 400],
  ],
  power_law_flow_low: [[4, 0.071, 0.645, 0.07, 0.02, -0.0014, 5]],
  power_law_flow_high: [[4, 0.071, 0.645, 0.07, 0.02, -0.0014, 5]],
  point_residual: [[48, 0.31, 0.021, 0.66]],
  air_density: [
    [268.15, 1650],
    [303.15, -120],
  ],
  moist_air_density: [
    [268.15, 0.85, 87_000],
    [303.15, 0.05, 101_325],
  ],
  envelope_flow_factor: [
    ['pressurise', 1.19, 1.32],
    ['depressurise', 1.31, 1.18],
  ],
  air_viscosity: [[258.15], [303.15]],
  // Invented readings, up and down in pressure, with a scatter of about 1 %.
  power_law_fit: [
    [
      [15, 20, 25, 30, 40, 50, 60],
      [0.1139, 0.1367, 0.1572, 0.1778, 0.2142, 0.2469, 0.2781],
    ],
    [
      [61, 48.5, 40.2, 29.8, 20.4, 12.1],
      [0.52, 0.445, 0.39, 0.325, 0.253, 0.184],
    ],
  ],
};

function results(compute: (...values: never[]) => unknown, given: readonly Given[]): Record<string, number> {
  const result = compute(...(given as never[]));
  return typeof result === 'object' ? (result as Record<string, number>) : { result: result as number };
}

/** Slope of every field by one number, which `moved` puts in its place (Richardson, two steps). */
function slopes(
  compute: (...values: never[]) => unknown,
  x: number,
  moved: (x: number) => readonly Given[],
): (field: string) => number {
  const once = (h: number): ((field: string) => number) => {
    const above = results(compute, moved(x + h));
    const below = results(compute, moved(x - h));
    return (field) => (above[field]! - below[field]!) / (2 * h);
  };
  const step = 1e-4 * Math.max(Math.abs(x), 1e-3);
  const wide = once(step);
  const near = once(step / 2);
  return (field) => near(field) + (near(field) - wide(field)) / 3;
}

const declared = tradeFunctions.filter((definition) => 'partials' in definition);

describe('declared derivatives', () => {
  it('are declared by the fit, of which everything downstream is made', () => {
    expect(declared.map((definition) => definition.name)).toContain('power_law_fit');
  });

  it.each(
    declared.flatMap((definition) =>
      [definition.example.arguments as readonly Given[], ...(FURTHER[definition.name] ?? [])].map(
        (given, i) => [definition.name, i, definition, given] as const,
      ),
    ),
  )('of %s agree with differences, arguments %i', (_name, _i, definition, given) => {
    if (!('partials' in definition)) throw new Error('filtered above');
    const compute = definition.compute as (...values: never[]) => unknown;
    const partials = definition.partials(...(given as never[]));
    expect(Object.keys(partials).length).toBeGreaterThan(0);
    const size = results(compute, given);
    given.forEach((argument, p) => {
      const elements: readonly (number | string)[] = Array.isArray(argument)
        ? argument
        : [argument as number];
      elements.forEach((x, row) => {
        if (typeof x !== 'number') return;
        const slope = slopes(compute, x, (y) =>
          given.with(p, Array.isArray(argument) ? (argument as number[]).with(row, y) : y),
        );
        for (const [field, by] of Object.entries(partials)) {
          const exact = by[p]!;
          const found = typeof exact === 'number' ? exact : exact[row]!;
          const tolerance = 1e-6 * Math.max(Math.abs(slope(field)), Math.abs(size[field]! / x) * 1e-3);
          expect(
            Math.abs(found - slope(field)),
            `${field} by parameter ${String(p)}, row ${String(row)}: ${String(found)}, ${String(slope(field))}`,
          ).toBeLessThanOrEqual(tolerance);
        }
      });
    });
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assemblyResistance } from '../../src/trade/index.ts';
import { expectRelative, sound } from '../trade/closeness.ts';

type Layer = readonly [clear: number, framing?: number, share?: number];
const of = (...layers: Layer[]) =>
  sound(
    assemblyResistance(
      layers.map(([clear]) => clear),
      layers.map(([clear, framing]) => framing ?? clear),
      layers.map(([, , share]) => share ?? 0),
    ),
  );

describe('wood-frame wall U-factors of ASHRAE 90.1 appendix A, as printed by an insulation trade association', () => {
  // Stack from memory: films 0.17 and 0.68, stucco 0.08, gypsum 0.56 on both sides; 25 % framing.
  const wall = (cavity: number, stud: number, continuous: number) =>
    1 / of([0.17], [0.08], [0.56], [continuous], [cavity, stud, 0.25], [0.56], [0.68]).upperLimit;

  it.each([
    ['2x4, empty, 12 outside', 0.91, 4.38, 12, 0.064],
    ['2x4, R-11, 5 outside', 11, 4.38, 5, 0.063],
    ['2x6, empty, 12 outside', 0.91, 6.88, 12, 0.062],
    ['2x6, R-20, 2 outside', 20, 6.88, 2, 0.054],
    ['2x6, R-19 squeezed to 18, 3.8 outside', 18, 6.88, 3.8, 0.051],
  ])('%s', (_wall, cavity, stud, continuous, published) => {
    expect(Math.round(wall(cavity, stud, continuous) * 1000) / 1000).toBe(published);
  });

  it('an R-19 batt taken as 19, or framing forgotten, misses the printed figure', () => {
    expect(Math.round(wall(19, 6.88, 3.8) * 1000) / 1000).not.toBe(0.051);
    const unframed = 1 / of([2.05], [20], [2]).upperLimit;
    expect(Math.round(unframed * 1000) / 1000).not.toBe(0.054);
  });
});

describe('framed wall by ISO 6946: the worked example of approved document L1, 2002 (its numbers from memory)', () => {
  const layers = (wool: number, timber: number, rest: readonly number[]): Layer[] => [
    ...rest.map((r): Layer => [r]),
    [wool, timber, 0.15],
  ];

  it('with the printed, rounded resistances', () => {
    const wall = of(...layers(3.684, 1.077, [0.04, 0.132, 0.18, 0.077, 0.05, 0.13]));
    expectRelative(wall.upperLimit, 3.484749, 1e-6);
    expectRelative(wall.lowerLimit, 3.311679, 1e-6);
    expectRelative(wall.combined, 3.398214, 1e-6);
    expect(Math.round(100 / wall.combined) / 100).toBe(0.29);
    expectRelative(wall.errorBound, 0.0255, 2e-3);
  });

  it('with thickness over conductivity', () => {
    const wall = of(
      ...layers(0.14 / 0.038, 0.14 / 0.13, [0.04, 0.102 / 0.77, 0.18, 0.01 / 0.13, 0.05, 0.13]),
    );
    expectRelative(wall.upperLimit, 3.485287, 1e-6);
    expectRelative(wall.lowerLimit, 3.312093, 1e-6);
  });
});

describe('small published checks', () => {
  it('battens in a dry lining, a British energy advice site: 10 % timber, 0.59 and 0.88 give 0.61 and U 1.64', () => {
    const plain = of([0.59, 0.88, 0.1]);
    expect(Math.round(plain.upperLimit * 100) / 100).toBe(0.61);
    expect(Math.round(100 / plain.upperLimit) / 100).toBe(1.64);
    expect(Math.round(100 / of([1.52, 0.88, 0.1]).upperLimit) / 100).toBe(0.71);
    expect(Math.round(100 / of([0.54]).upperLimit) / 100).toBe(1.85);
  });

  it('a block wall with a lining, a regional architects’ college: U 0.67', () => {
    const wall = of(
      [0.13],
      [0.015 / 0.18],
      [0.03 / 0.038],
      [0.015 / 1.4],
      [0.2 / 0.46],
      [0.015 / 1.4],
      [0.04],
    );
    expectRelative(wall.combined, 1.499018, 1e-6);
    expect(Math.round(100 / wall.combined) / 100).toBe(0.67);
  });
});

describe('any framed assembly', () => {
  const layer = fc.tuple(
    fc.double({ min: 0.01, max: 8, noNaN: true }),
    fc.double({ min: 0.01, max: 8, noNaN: true }),
    fc.double({ min: 0, max: 1, noNaN: true }),
  );

  it('has its upper limit above the lower, and neither outside the paths through it', () => {
    fc.assert(
      fc.property(fc.array(layer, { minLength: 1, maxLength: 6 }), (layers) => {
        const found = of(...layers);
        expect(found.upperLimit).toBeGreaterThanOrEqual(found.lowerLimit * (1 - 1e-12));
        const worst = layers.reduce((sum, [a, b]) => sum + Math.min(a, b), 0);
        const best = layers.reduce((sum, [a, b]) => sum + Math.max(a, b), 0);
        expect(found.lowerLimit).toBeGreaterThanOrEqual(worst * (1 - 1e-12));
        expect(found.upperLimit).toBeLessThanOrEqual(best * (1 + 1e-12));
      }),
    );
  });

  it('is refused where a share, a resistance or the films are missing', () => {
    expect(assemblyResistance([1], [1], [16])).toMatchObject({
      fault: expect.stringContaining('share') as string,
    });
    expect(assemblyResistance([1, 0], [1, 2], [0, 0.2])).toHaveProperty('fault');
    expect(assemblyResistance([0], [0], [0])).toHaveProperty('fault');
    expect(assemblyResistance([NaN], [1], [0])).toHaveProperty('fault');
    expect(assemblyResistance(Array(13).fill(1), Array(13).fill(2), Array(13).fill(0.1))).toHaveProperty(
      'fault',
    );
  });
});

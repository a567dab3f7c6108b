import { describe, expect, it } from 'vitest';
import {
  crossingPressure,
  fitLogarithms,
  largestStep,
  leaveOneOut,
  nextPointHint,
  pointRemark,
  powerLawFit,
} from '../../../src/trade/index.ts';
import { expectRelative, sound } from '../closeness.ts';
import { plain } from '../plain.ts';

// Invented readings with one slip.
const p = [60, 53, 46, 40, 34, 28, 22, 16];
const q = [696, 636, 539, 530, 477, 425, 367, 297].map((cfm) => cfm * 4.719474432e-4);

describe('leaving one point out', () => {
  const fit = sound(powerLawFit(p, q));
  const line = sound(fitLogarithms(p, q));
  const without = (i: number) =>
    leaveOneOut(
      true,
      p[i] ?? NaN,
      q[i] ?? NaN,
      fit.flowCoefficient,
      fit.exponent,
      fit.points,
      fit.pivotPressure,
      fit.sumSquares,
      fit.residualSd,
    );

  it.each(p.map((_, i) => i))('of point %i is the fit made again without it', (i) => {
    const again = sound(
      powerLawFit(
        p.filter((_, k) => k !== i),
        q.filter((_, k) => k !== i),
      ),
    );
    const found = without(i);
    expectRelative(found.exponent, again.exponent, 1e-11);
    expectRelative(1 + found.flow50Change, again.flow50 / fit.flow50, 1e-12);
    expectRelative(found.studentizedResidual, line.studentizedResiduals[i] ?? NaN, 1e-9);
  });

  it('singles the slip out, and no other', () => {
    const chances = p.map((_, i) => without(i).outlierProbability);
    expect(chances[2]).toBeLessThan(0.005);
    chances.forEach((chance, i) => {
      if (i !== 2) expect(chance, `point ${i}`).toBeGreaterThan(0.5);
    });
  });

  it('knows nothing of a point that is not used, of two points, and no residual of three', () => {
    const given = [0.07, 0.65, 8, 30, 1.5, 0.01] as const;
    expect(leaveOneOut(false, 30, 0.6, ...given).exponent).toBeNaN();
    expect(leaveOneOut(true, -30, 0.6, ...given).exponent).toBeNaN();
    expect(leaveOneOut(true, 30, 0.6, 0.07, 0.65, 2, 30, 1.5, NaN).flow50Change).toBeNaN();
    const three = leaveOneOut(true, 30, 0.65, 0.07, 0.65, 3, 30, 1.5, 0.01);
    expect(three.studentizedResidual).toBeNaN();
    expect(three.exponent).not.toBeNaN();
  });

  it('among points on one exact line, has no number for how far off one is, and no doubt that it is', () => {
    const exact = p.map((pressure) => 0.02 * pressure ** 0.65);
    const slipped = exact.with(3, (exact[3] ?? NaN) * 1.1);
    const bad = sound(powerLawFit(p, slipped));
    const found = leaveOneOut(
      true,
      p[3] ?? NaN,
      slipped[3] ?? NaN,
      bad.flowCoefficient,
      bad.exponent,
      bad.points,
      bad.pivotPressure,
      bad.sumSquares,
      bad.residualSd,
    );
    expectRelative(found.exponent, 0.65, 1e-10);
    expect(found.outlierProbability).toBeLessThan(1e-6);
  });
});

describe('words for a point', () => {
  it('nothing where chance alone would do it, or where nothing is known', () => {
    expect(pointRemark(46, -2.4, 0.5, 0.05, 0.63, 0.01)).toBe('');
    expect(pointRemark(46, NaN, NaN, 0.05, 0.63, 0.01)).toBe('');
  });

  it('says what would change, either way', () => {
    expect(plain(pointRemark(46, 8.24, 0.002, 0.05, 0.7, -0.0311))).toBe(
      'the point at 46 Pa looks off (studentised residual 8.2): check what was typed; without it the flow at 50 Pa would be 3.1 % lower and the exponent 0.700',
    );
    expect(pointRemark(46, NaN, 0, 0.05, 0.65, 0.0001)).toContain('all others lie on one line');
  });
});

describe('the next point', () => {
  const hint = (taken: readonly number[], sign = -1, baseline = -2, points = 5) =>
    nextPointHint(taken, sign, baseline, 10, 60, 10, points);

  it('begins at the top, as the gauge will show it', () => {
    expect(hint([])).toBe('Start at about −62 Pa on the house gauge; 0 of at least 5 points.');
    expect(hint([], 1, -2)).toBe('Start at about 58 Pa on the house gauge; 0 of at least 5 points.');
  });

  it('goes down, skipping what is taken, and fills a gap', () => {
    expect(hint([61, 49])).toContain('Next at about −42 Pa');
    expect(hint([61, 49, 30, 21, 11])).toBe(
      'Next at about −42 Pa on the house gauge; 5 points are enough in number; 1 more would cover the range.',
    );
  });

  it('says when there are enough', () => {
    expect(hint([61, 49, 41, 30, 21, 11])).toBe('Enough points: 6, from 11 to 61 Pa.');
  });

  it('asks for one near 50 Pa where the method takes one', () => {
    expect(hint([], -1, -2, 1)).toBe('Aim at about −52 Pa on the house gauge.');
    expect(hint([48.4], -1, -2, 1)).toBe('Enough for one point: 48 Pa.');
  });

  it('refuses a plan without a range, and one of more than 100 points', () => {
    expect(nextPointHint([], -1, 0, 60, 10, 10, 5)).toHaveProperty('fault');
    expect(nextPointHint([], -1, 0, 10, 60, 1e-9, 5)).toHaveProperty('fault');
  });
});

describe('pressures of a test', () => {
  it('largest step, in whatever order they were taken', () => {
    expect(largestStep([12, 60, 31, 45, 22])).toBe(15);
    expect(largestStep([50])).toBeNaN();
  });

  it('two lines cross where they give the same flow; parallel ones nowhere', () => {
    expectRelative(
      crossingPressure(40.3749593203, 0.647333031937, 50.6432867103, 0.580618271652),
      29.8595083145,
      1e-9,
    );
    expect(crossingPressure(1, 0.65, 2, 0.65)).toBeNaN();
    expect(crossingPressure(1, 0.65, 2, 0.64)).toBeNaN();
  });
});

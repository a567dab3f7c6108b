import { describe, expect, test } from 'vitest';
import { clearRun } from '../../../src/trade/index.ts';

const IN = 0.0254;
const run = (number: number, openings: readonly [number, number][], wall = 160.5) => {
  const found = clearRun(
    wall * IN,
    (19 / 32) * IN,
    3.6875 * IN,
    number,
    openings.map(([offset]) => offset * IN),
    openings.map(([, width]) => width * IN),
  );
  return typeof found === 'number' ? found / IN : found.fault;
};

describe('base between the openings of a wall (geometry)', () => {
  test('a wall without doors has one run, corner to corner less the finish', () => {
    expect(run(1, [])).toBeCloseTo(160.5 - 19 / 16, 9);
  });

  test('runs are counted from the left, whatever the order of the openings', () => {
    const two: [number, number][] = [
      [100, 32],
      [30, 30],
    ];
    expect(run(1, two)).toBeCloseTo(30 - 3.6875 - 19 / 32, 9);
    expect(run(2, two)).toBeCloseTo(100 - 60 - 2 * 3.6875, 9);
    expect(run(3, two)).toBeCloseTo(160.5 - 19 / 32 - 132 - 3.6875, 9);
  });

  test('the runs of a wall and its cased openings are its whole finished length', () => {
    const openings: [number, number][] = [
      [20, 30],
      [90, 36],
    ];
    const runs = [1, 2, 3].map((n) => Number(run(n, openings)));
    const cased = openings.reduce((sum, [, width]) => sum + width + 2 * 3.6875, 0);
    expect(runs.reduce((a, b) => a + b) + cased).toBeCloseTo(160.5 - 19 / 16, 9);
  });

  test('says why there is none', () => {
    expect(run(3, [[40, 32]])).toContain('2 runs');
    expect(run(1.5, [])).toContain('one run');
    expect(run(1, [[2, 32]])).toContain('reaches the corner');
    expect(
      run(2, [
        [40, 32],
        [70, 32],
      ]),
    ).toContain('overlap');
    expect(run(1, [[140, 32]])).toContain('outside this wall');
    expect(run(1, [], 0)).toContain('no length');
  });
});

import { describe, expect, test } from 'vitest';
import {
  bandedRate,
  fanOperatingPoint,
  linearInterpolation,
  listed,
  nameOfLargest,
  shortfalls,
} from '../../../src/trade/index.ts';
import { expectRelative, sound } from '../closeness.ts';
import { plain } from '../plain.ts';

describe('where fan and ducts meet', () => {
  const flows = [0, 1, 2];
  const pressures = [100, 75, 0];

  test('lies on the fan’s line and on the ducts’ parabola, whatever the ducts', () => {
    for (const designPressure of [5, 20, 62.5, 150, 900]) {
      const point = sound(fanOperatingPoint(flows, pressures, 1, designPressure));
      expectRelative(point.pressure, designPressure * point.flow ** 2, 1e-12);
      const onFan = sound(linearInterpolation(flows, pressures, point.flow));
      expectRelative(point.pressure, onFan, 1e-12);
    }
  });

  test('tighter ducts give less flow', () => {
    const flow = (pressure: number) => sound(fanOperatingPoint(flows, pressures, 1, pressure)).flow;
    expect(flow(20)).toBeGreaterThan(flow(40));
    expect(flow(40)).toBeGreaterThan(flow(400));
  });

  test('a flat piece of the curve', () => {
    const point = sound(fanOperatingPoint([0, 2, 3], [50, 50, 0], 1, 25));
    expectRelative(point.flow, Math.SQRT2, 1e-12);
  });

  test('nothing typed yet is unavailable, not wrong', () => {
    expect(sound(fanOperatingPoint([], [], 1, 50)).flow).toBeNaN();
    expect(sound(fanOperatingPoint(flows, pressures, 0, 50)).flow).toBeNaN();
  });

  test.each([
    [[0], [100], 1, 50, 'One point is no fan curve.'],
    [[0, 2, 1], [100, 50, 0], 1, 50, 'The flows of the fan curve do not rise from point 2 to point 3.'],
    [[0, 1], [100, 90], 1, 10, 'The ducts meet the fan curve beyond its last point.'],
    [[1, 2], [10, 5], 1, 50, 'The whole fan curve lies under the pressure that these ducts need.'],
    [flows, pressures, 1, 0, 'The design flow and the pressure at it must be above zero.'],
    [flows, pressures, -1, 50, 'The design flow and the pressure at it must be above zero.'],
    [
      [0, 1, 2, 3],
      [10, 5, 60, 0],
      1,
      10,
      'The ducts meet the fan curve more than once: the fan would hunt between flows.',
    ],
  ])('refuses %j %j against %f, %f', (q, p, designFlow, designPressure, message) => {
    expect(fanOperatingPoint(q, p, designFlow, designPressure)).toMatchObject({ fault: message });
  });
});

describe('a printed table of rates', () => {
  const table = [
    [0, 0, 100, 100],
    [1, 3, 1, 3],
    [10, 20, 30, 40],
  ] as const;
  test('an area equal to an edge is in the lower band, also when it was converted', () => {
    expect(bandedRate(...table, 100, 1)).toBe(10);
    expect(bandedRate(...table, 100.000_000_001, 1)).toBe(10);
    expect(bandedRate(...table, 100.1, 1)).toBe(30);
    expect(bandedRate(...table, 100.1, 4)).toBe(40);
  });
  test('no cell, no rate; two cells for one place, a fault; no area, a fault', () => {
    expect(bandedRate(...table, 50, 0)).toBeNaN();
    expect(bandedRate([], [], [], 50, 2)).toBeNaN();
    expect(bandedRate([0, 0], [1, 1], [5, 6], 50, 2)).toMatchObject({ suggestion: 'Delete one of them.' });
    expect(bandedRate(...table, 0, 1)).toHaveProperty('fault');
  });
});

describe('reading between rows', () => {
  const xs = [1, 2, 4];
  const ys = [10, 30, 20];
  test('meets every row, is straight between', () => {
    xs.forEach((x, i) => expect(linearInterpolation(xs, ys, x)).toBe(ys[i]));
    expect(linearInterpolation(xs, ys, 3)).toBe(25);
    expect(linearInterpolation([5], [7], 5)).toBe(7);
    expect(linearInterpolation([], [], 5)).toBeNaN();
  });
  test('never beyond the table, never through rows out of order', () => {
    expect(linearInterpolation(xs, ys, 0.99)).toMatchObject({
      fault: expect.stringContaining('below the first') as string,
    });
    expect(linearInterpolation(xs, ys, 4.01)).toMatchObject({
      fault: expect.stringContaining('above the last') as string,
    });
    expect(linearInterpolation([1, 1], [1, 2], 1)).toMatchObject({
      fault: expect.stringContaining('from row 1 to row 2') as string,
    });
  });
});

test('names of rows: the first of equals, each once, and only what is short', () => {
  expect(nameOfLargest(['a', 'b', 'c'], [1, 5, 5])).toBe('b');
  expect(nameOfLargest([], [])).toBe('');
  expect(listed([])).toBe('');
  expect(listed(['a', 'b', 'a'])).toBe('a, b');
  expect(shortfalls(['a', 'b'], [0, 1e-12])).toBe('');
  // 1 L/s is 2.1 cfm (exact: 60 / 28.316846592).
  expect(plain(shortfalls(['a', 'b'], [0.001, 0.002]))).toBe('a lacks 2.1 cfm; b lacks 4.2 cfm');
});

/** Courses of boards, screws of sheets, and the limits of the relations beside them. */
import { describe, expect, it } from 'vitest';
import {
  boardCourses,
  boardScrews,
  movementCoefficient,
  type BoardCourses,
} from '../../../src/trade/index.ts';

const INCH = 0.0254;

function laid(across: number, gap: number, face: number, rip: number): BoardCourses {
  const found = boardCourses(across * INCH, gap * INCH, face * INCH, rip * INCH);
  if ('fault' in found) throw new Error(found.fault);
  return found;
}

describe('courses (worked out separately)', () => {
  it.each([
    [142.5, 5.125, 28, 4.125, 4.625],
    [142.5, 3.125, 46, 1.875, 2.5],
    [180, 5.125, 36, 0.625, 2.875],
    [121, 6.875, 18, 4.125, 5.5],
  ])('%d in of %d in boards', (across, face, courses, last, balanced) => {
    const plain = laid(across, 0, face, 0);
    expect(plain).toMatchObject({ courses, mustBalance: false });
    expect(plain.last / INCH).toBeCloseTo(last, 9);
    // Narrower than allowed: first and last share, the number stays, the run is filled.
    const even = laid(across, 0, face, last + 0.01);
    expect(even).toMatchObject({ courses, mustBalance: true });
    expect(even.first / INCH).toBeCloseTo(balanced, 9);
    expect((even.first + even.end + (courses - 2) * face * INCH) / INCH).toBeCloseTo(across, 9);
  });

  it('a run of whole boards has no sliver, whatever the last digits', () => {
    const found = laid(20 * 5.125 + 0.75, 0.375, 5.125, 1.5);
    expect(found.courses).toBe(20);
    expect(found.last / INCH).toBeCloseTo(5.125, 6);
    expect(found.mustBalance).toBe(false);
  });

  it('one course narrower than a board is not balanced', () => {
    expect(laid(1, 0, 5.125, 1.5)).toMatchObject({ courses: 1, mustBalance: false });
    expect(laid(1, 0, 5.125, 1.5).first / INCH).toBeCloseTo(1, 9);
  });

  it.each([
    [100, -0.25, 5, 1],
    [100, 0.25, 0, 1],
    [100, 0.25, 5, -1],
    [0.5, 0.25, 5, 1],
  ])('refuses run %d, gap %d, face %d, rip %d and says what to type', (across, gap, face, rip) => {
    expect(boardCourses(across * INCH, gap * INCH, face * INCH, rip * INCH)).toHaveProperty('suggestion');
  });
});

describe('lineal feet for a square foot: 12 / exposed face', () => {
  // WWPA, table 4 (drop, tongue and groove, channel), and a mill’s table with a deeper lap.
  it.each([
    [3.125, 3.84],
    [5.125, 2.34],
    [6.875, 1.75],
    [8.875, 1.35],
    [3, 4.0],
    [5, 2.4],
    [6.75, 1.78],
    [8.75, 1.37],
  ])('%d in: %d', (face, factor) => {
    expect(Number((12 / face).toFixed(2))).toBe(factor);
    // The courses of a ceiling of one foot of length come to the same, but for the last board.
    const run = face * 40;
    expect(laid(run, 0, face, 0).courses / (run / 12)).toBeCloseTo(12 / face, 9);
  });
});

describe('screws of a sheet across framing (geometry; spacings of a code guide on fastening board)', () => {
  it.each([
    [16, 12, 35, 50],
    [16, 16, 28, 40],
    [24, 12, 25, 35],
    [24, 16, 20, 28],
  ])('framing %d in, spacing %d in', (framing, spacing, eight, twelve) => {
    expect(boardScrews(96 * INCH, 48 * INCH, framing * INCH, spacing * INCH)).toBe(eight);
    expect(boardScrews(144 * INCH, 48 * INCH, framing * INCH, spacing * INCH)).toBe(twelve);
  });

  it('refuses no size and no spacing', () => {
    expect(boardScrews(0, 1, 0.4, 0.3)).toHaveProperty('suggestion');
    expect(boardScrews(1, 1, 0, 0.3)).toHaveProperty('suggestion');
  });
});

it('a shrinkage of nothing gives no coefficient', () => {
  expect(movementCoefficient(0)).toHaveProperty('suggestion');
});

/** Machine code for slopes and contributions against the tape run backwards, and sums made by hand. */
import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { runBack } from '../../../src/engine/calculation/backward.ts';
import { ROUNDING } from '../../../src/engine/calculation/weighted-sum.ts';
import { Shapes } from '../../../src/engine/formula/shape.ts';
import {
  contributionCode,
  FREE,
  recordOf,
  SLOPES,
  UNREAD,
} from '../../../src/engine/formula/contribution-code.ts';
import { readBy } from '../../../src/engine/formula/slope-code.ts';
import { OP, operands, run } from '../../../src/engine/formula/tape.ts';
import { LEAVES, OPS, program, RESULT, stepOf, TEMPORARIES } from './random-program.ts';

const host = {
  call: () => {
    throw new Error('a short formula calls nobody');
  },
};

/** What plain formulas are made of (calculation/leaves.ts). */
const PLAIN = OPS.filter(
  (op) => ![OP.and, OP.or, OP.isBlank, OP.otherwise, OP.where].includes(op as typeof OP.and),
);

const WIDTH = 4;
const FIRST_ROW = FREE + 8 * LEAVES;

/** One program over leaves of which each has a row of its own; its row, and before that the last slopes. */
function byMachine(
  code: Int32Array,
  leaves: readonly number[],
  rows: readonly (readonly number[])[],
): { slopes: number[]; row: number[] } {
  const shapes = new Shapes();
  const shape = shapes.of(code, 0, code.length);
  const start = FIRST_ROW + 8 * WIDTH * (LEAVES + 1);
  const rowOf = (k: number): number => FIRST_ROW + 8 * WIDTH * k;
  const operandsOf = readBy(shapes.steps(shape)).map((place) => ({
    value: FREE + 8 * code[place]!,
    slope: SLOPES + 8 * code[place]!,
  }));
  const terms = Array.from({ length: LEAVES }, (_, k) => rowOf(k));
  const words = recordOf(shape, start, rowOf(LEAVES), terms, operandsOf);
  const end = start + 4 * words.length;
  const made = contributionCode(shapes, end, ROUNDING);
  if (!made) throw new Error('no machine code');
  const doubles = new Float64Array(made.memory, 0, start / 8);
  doubles.set(leaves, FREE / 8);
  rows.forEach((row, k) => doubles.set(row, rowOf(k) / 8));
  new Int32Array(made.memory).set(words, start / 4);
  // Twice: nothing is left of the first time.
  made.run(start, end, 8 * WIDTH);
  made.run(start, end, 8 * WIDTH);
  return {
    slopes: [...doubles.subarray(SLOPES / 8, SLOPES / 8 + LEAVES)],
    row: [...doubles.subarray(rowOf(LEAVES) / 8, rowOf(LEAVES) / 8 + WIDTH)],
  };
}

function byTape(code: Int32Array, leaves: readonly number[]): { value: number; slopes: number[] } {
  const values = new Float64Array(TEMPORARIES + 200);
  const slopes = new Float64Array(values.length);
  values.set(leaves);
  run(code, values, 0, code.length, host);
  slopes[RESULT] = 1;
  runBack(code, 0, code.length, values, slopes);
  return { value: values[RESULT]!, slopes: [...slopes.subarray(0, LEAVES)] };
}

/** Slopes that are told, side by side; a product of several may differ in its last digit. */
function sameSlopes(made: readonly number[], expected: readonly number[]): void {
  expected.forEach((slope, k) => {
    if (!Number.isFinite(slope)) expect(Number.isFinite(made[k])).toBe(false);
    else expect(Math.abs(made[k]! - slope)).toBeLessThanOrEqual(1e-14 * Math.abs(slope));
  });
}

const number = fc.oneof(
  fc.constantFrom(1, -1, 0.5, 2, -2.5, 0),
  fc.double({ min: 0.01, max: 3, noNaN: true }),
  fc.integer({ min: -3, max: 9 }),
);
const rows = Array.from({ length: LEAVES }, (_, k) =>
  Array.from({ length: WIDTH }, (_v, j) => (k + 1) * (j - 1.5)),
);

describe('slopes by machine code', () => {
  test('are those of the tape run backwards, for random programs and values', () => {
    let told = 0;
    fc.assert(
      fc.property(
        fc.array(stepOf(...PLAIN), { minLength: 1, maxLength: 6 }),
        fc.array(number, { minLength: LEAVES, maxLength: LEAVES }),
        (steps, leaves) => {
          const code = program(steps);
          const { value, slopes } = byTape(code, leaves);
          // What has no value has no slopes that anybody asks for.
          if (!Number.isFinite(value) || slopes.some((slope) => !Number.isFinite(slope))) return;
          told++;
          const made = byMachine(code, leaves, rows);
          sameSlopes(made.slopes, slopes);
          for (let j = 0; j < WIDTH; j++) {
            const parts = slopes.map((slope, k) => slope * rows[k]![j]!);
            const sum = parts.reduce((total, part) => total + part, 0);
            const size = parts.reduce((total, part) => total + Math.abs(part), 0);
            expect(Math.abs(made.row[j]! - sum)).toBeLessThanOrEqual(2 * ROUNDING * size);
          }
        },
      ),
      { numRuns: 1000, seed: 2026 },
    );
    expect(told).toBeGreaterThan(200);
  });

  test.each(PLAIN.map((op) => [Object.entries(OP).find(([, each]) => each === op)![0], op] as const))(
    '%s',
    (_, op) => {
      const code = Int32Array.from([op, RESULT, 0, operands(op) === 2 ? 1 : 0]);
      for (const x of [0, 0.25, 1, 2.5, -2.5, 7, 0.3])
        for (const y of [1, 2.5, -2.5, 0.3, 7, 0]) {
          const leaves = [x, y, 0, 0, 0, 0];
          const { value, slopes } = byTape(code, leaves);
          if (Number.isFinite(value) && slopes.every(Number.isFinite))
            sameSlopes(byMachine(code, leaves, rows).slopes, slopes);
        }
    },
  );

  test('go into the side of a choice that holds', () => {
    const code = Int32Array.from([
      OP.less,
      7,
      0,
      1,
      OP.square,
      8,
      3,
      0,
      OP.move,
      RESULT,
      8,
      0,
      OP.select,
      RESULT,
      7,
      2,
    ]);
    expect(byMachine(code, [1, 2, 30, 40, 0, 0], rows).slopes).toEqual([0, 0, 1, 0, 0, 0]);
    expect(byMachine(code, [2, 1, 30, 40, 0, 0], rows).slopes).toEqual([0, 0, 0, 80, 0, 0]);
    // The row of the side that does not hold may be anything.
    const none = rows.map((row, k) => (k === 3 ? row.map(() => NaN) : row));
    expect(byMachine(code, [1, 2, 30, NaN, 0, 0], none).row).toEqual(rows[2]);
  });

  test('add up where a formula reads something twice, also what one of its instructions makes', () => {
    const code = Int32Array.from([OP.add, 7, 0, 1, OP.multiply, 8, 7, 7, OP.subtract, RESULT, 8, 0]);
    expect(byMachine(code, [3, 4, 0, 0, 0, 0], rows).slopes).toEqual([13, 14, 0, 0, 0, 0]);
  });

  test('leave nothing where contributions cancel but for rounding', () => {
    const code = Int32Array.from([OP.subtract, RESULT, 0, 1]);
    const third = [1 / 3, 1, 0, 1e-20];
    const alike = [(1 / 3) * (1 + 4 * Number.EPSILON), 1, 0, -1e-20];
    const { row } = byMachine(code, [5, 5, 0, 0, 0, 0], [third, alike]);
    expect(row).toEqual([0, 0, 0, 2e-20]);
  });

  test('are not made where a page may not make code, or there is no room', () => {
    const refused = vi.spyOn(WebAssembly, 'Module').mockImplementation(function () {
      throw new WebAssembly.CompileError('refused by the policy of the page');
    });
    expect(contributionCode(new Shapes(), 8, ROUNDING)).toBeUndefined();
    refused.mockRestore();
    expect(contributionCode(new Shapes(), 2 ** 45, ROUNDING)).toBeUndefined();
    expect(UNREAD).toBeLessThan(SLOPES);
  });
});

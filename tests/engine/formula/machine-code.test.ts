/** Machine code against the tape that it is made from: the same to the last bit, or no value, whatever the slots hold. */
import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { HEAD, List, machineCode, operandsOf } from '../../../src/engine/formula/machine-code.ts';
import { memoryOf } from '../../../src/engine/formula/memory.ts';
import { Shapes } from '../../../src/engine/formula/shape.ts';
import { OP, operands, run } from '../../../src/engine/formula/tape.ts';
import { LEAVES, OPS, program, RESULT, stepOf, TEMPORARIES } from './random-program.ts';

const host = {
  call: () => {
    throw new Error('a short formula calls nobody');
  },
};

const nameOf = (op: number): string => Object.entries(OP).find(([, each]) => each === op)?.[0] ?? '';

const number = fc.oneof(
  fc.constantFrom(0, -0, 1, -1, 0.5, 2, NaN, Infinity, -Infinity, 5e-324, 1e308, 2.5, -2.5, 1e15 + 0.5),
  fc.double(),
  fc.integer({ min: -9, max: 9 }),
);

const step = stepOf(...OPS);

interface Ran {
  /** Of the last of each program. */
  readonly results: number[];
  /** Places of all that were listed, counted from the first result, and what was there before. */
  readonly listed: [place: number, before: number][];
}

/** Runs some programs, each as often as told, as stretches of machine code over what was in the slots `before`. */
function ran(
  programs: readonly Int32Array[],
  times: number,
  leaves: readonly number[],
  before: readonly number[] = [],
): Ran {
  const shapes = new Shapes();
  const words: number[] = [];
  const start = 8 * (LEAVES + programs.length * times);
  const slots: number[] = [];
  let result = LEAVES;
  for (const code of programs) {
    const shape = shapes.of(code, 0, code.length);
    const places = operandsOf(shapes.tree(shape));
    words.push(shape, start + words.length * 4 + HEAD + times * 4 * (1 + places.length));
    for (let k = 0; k < times; k++) {
      words.push(8 * result++, ...places.map((place) => 8 * code[place]!));
    }
    slots.push(result - 1);
  }
  const end = start + words.length * 4;
  const memory = memoryOf(end + List.bytes(result))!;
  const list = new List(memory, end);
  const run = machineCode(shapes, memory, list);
  if (!run) throw new Error('no machine code');
  const values = new Float64Array(memory.buffer, 0, result);
  values.set(leaves);
  for (let slot = LEAVES; slot < result; slot++) values[slot] = before[(slot - LEAVES) % before.length] ?? 0;
  new Int32Array(memory.buffer).set(words, start / 4);
  list.clear();
  run(start, end);
  return {
    results: slots.map((slot) => values[slot]!),
    listed: Array.from({ length: list.length }, (_, k) => [list.slot(k) - LEAVES, list.before(k)]),
  };
}

const byMachine = (...given: Parameters<typeof ran>): number[] => ran(...given).results;

function byTape(code: Int32Array, leaves: readonly number[]): number {
  const values = new Float64Array(TEMPORARIES + 200);
  values.set(leaves);
  run(code, values, 0, code.length, host);
  const made = values[RESULT]!;
  return Number.isFinite(made) ? made : NaN;
}

describe('machine code', () => {
  test('is the tape to the last bit, for random programs and values', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(step, { minLength: 1, maxLength: 12 }), { minLength: 1, maxLength: 4 }),
        fc.array(number, { minLength: LEAVES, maxLength: LEAVES }),
        fc.integer({ min: 1, max: 3 }),
        (all, leaves, times) => {
          const programs = all.map(program);
          const made = byMachine(programs, times, leaves);
          programs.forEach((code, k) => expect(made[k]).toBe(byTape(code, leaves)));
        },
      ),
      { numRuns: 400, seed: 2026 },
    );
  });

  test('lists what is the same as before, and what is or was no value', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(step, { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 5 }),
        fc.array(number, { minLength: LEAVES, maxLength: LEAVES }),
        fc.array(
          number.filter((x) => Math.abs(x) !== Infinity),
          { minLength: 5, maxLength: 5 },
        ),
        (all, leaves, others) => {
          const programs = all.map(program);
          const made = programs.map((code) => byTape(code, leaves));
          // Some are what they were before.
          const before = others.map((other, k) => (k % 2 === 1 ? (made[k] ?? other) : other));
          const { listed } = ran(programs, 1, leaves, before);
          const wanted = made.flatMap((after, k) => {
            // A step that is too great for a double is looked at as well.
            const step = Math.abs(after - before[k]!);
            return step > 0 && step < Infinity ? [] : [[k, before[k]!]];
          });
          expect(listed).toEqual(wanted);
        },
      ),
      { numRuns: 400, seed: 2027 },
    );
  });

  test.each(OPS.map((op) => [nameOf(op), op] as const))('%s', (_, op) => {
    const code = Int32Array.from([op, RESULT, 0, operands(op) === 2 ? 1 : 0]);
    for (const x of [0, -0, 1, 2.5, -2.5, 7, NaN, Infinity, -Infinity, 1e-300])
      for (const y of [0, -0, 1, 2.5, -2.5, 0.3, NaN, Infinity]) {
        const leaves = [x, y, 0, 0, 0, 0];
        expect(byMachine([code], 1, leaves)).toEqual([byTape(code, leaves)]);
      }
  });

  test('takes the other side of a choice, and neither where the condition is no value', () => {
    const code = Int32Array.from([OP.less, 7, 0, 1, OP.move, RESULT, 3, 0, OP.select, RESULT, 7, 2]);
    expect(byMachine([code], 2, [1, 2, 30, 40, 0, 0])).toEqual([30]);
    expect(byMachine([code], 2, [2, 1, 30, 40, 0, 0])).toEqual([40]);
    expect(byMachine([code], 2, [NaN, 1, 30, 40, 0, 0])).toEqual([NaN]);
    expect(byMachine([code], 2, [1, 2, 30, NaN, 0, 0])).toEqual([30]);
  });

  test('is not made where a page may not make code', () => {
    const refused = vi.spyOn(WebAssembly, 'Module').mockImplementation(function () {
      throw new WebAssembly.CompileError('refused by the policy of the page');
    });
    expect(memoryOf(2 ** 45), 'no room').toBeUndefined();
    const memory = memoryOf(64)!;
    const list = new List(memory, 0);
    expect(machineCode(new Shapes(), memory, list)).toBeUndefined();
    refused.mockRestore();
    expect(machineCode(new Shapes(), memory, list)).toBeDefined();
  });
});

describe('shapes', () => {
  test('are one for programs that differ in their slots, another for another tree', () => {
    const shapes = new Shapes();
    const of = (...code: number[]): number => shapes.of(Int32Array.from(code), 0, code.length);
    const first = of(OP.add, 9, 0, 1, OP.multiply, 6, 9, 2);
    expect(of(OP.add, 8, 4, 4, OP.multiply, 5, 8, 3)).toBe(first);
    expect(of(OP.add, 9, 0, 1, OP.multiply, 6, 2, 9)).not.toBe(first);
    expect(of(OP.add, 9, 0, 1, OP.multiply, 6, 9, 9)).not.toBe(first);
    expect(of(OP.call, 9, 0, 0)).toBe(-1);
    expect(shapes.count).toBe(3);
    expect(of(...Array.from({ length: 128 }, () => [OP.add, 6, 6, 1]).flat())).toBe(3);
    expect(of(...Array.from({ length: 129 }, () => [OP.add, 6, 6, 1]).flat())).toBe(-1);
  });
});

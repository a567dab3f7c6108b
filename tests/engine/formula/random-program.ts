/** Straight programs of the tape, made at random. */
import fc from 'fast-check';
import { OP, operands } from '../../../src/engine/formula/tape.ts';

export const LEAVES = 6;
export const RESULT = LEAVES;
export const TEMPORARIES = LEAVES + 1;

/** Every operation that neither calls nor jumps, choices apart. */
export const OPS = Object.values(OP).filter(
  (op) => op !== OP.call && op !== OP.jump && op !== OP.jumpIfNot && op !== OP.select,
);

export interface Step {
  readonly op: number;
  readonly choice: boolean;
  readonly picks: readonly number[];
}

export const stepOf = (...ops: readonly number[]): fc.Arbitrary<Step> =>
  fc.record({
    op: fc.constantFrom(...ops),
    choice: fc.boolean(),
    picks: fc.array(fc.nat(1000), { minLength: 3, maxLength: 3 }),
  });

/** A tree of instructions: what an instruction made is read once, by a later one; all that is left is added up. */
export function program(steps: readonly Step[]): Int32Array {
  const code: number[] = [];
  let next = TEMPORARIES;
  let open: number[] = [];
  const take = (pick: number): number => {
    const at = pick % (LEAVES + open.length);
    if (at < LEAVES) return at;
    const slot = open[at - LEAVES]!;
    open = open.filter((other) => other !== slot);
    return slot;
  };
  for (const { op, choice, picks } of steps) {
    const a = take(picks[0]!);
    const b = choice || operands(op) === 2 ? take(picks[1]!) : 0;
    const d = next++;
    if (choice) {
      const otherwise = take(picks[2]!);
      code.push(OP.move, d, otherwise, 0, OP.select, d, a, b);
    } else code.push(op, d, a, b);
    open.push(d);
  }
  while (open.length > 1) {
    const d = next++;
    code.push(OP.add, d, open.shift()!, open.shift()!);
    open.push(d);
  }
  code.push(OP.move, RESULT, open[0] ?? 0, 0);
  return Int32Array.from(code);
}

/** Programs that differ only in their slots have one shape: a workbook of thousands of formulas has some dozens. */
import { OP, operands } from './tape.ts';

/** Where the slot of an operand stands, counted from the start of the program; or what an instruction makes. */
export type Operand = number | Made;

export interface Made {
  readonly op: number;
  readonly a: Operand;
  /** Undefined where the operation has one operand. */
  readonly b: Operand | undefined;
  /** Of `select`: what holds where the condition does not. */
  readonly otherwise: Operand | undefined;
}

const HASHES = 1_000_003;
/** A formula of more instructions is like no other, and what makes its operands takes long to find. */
const LONGEST = 128;

export class Shapes {
  /** By number: operation, and for both operands the instruction that makes it, or -1. */
  readonly #patterns: (readonly number[])[] = [];
  readonly #byHash = new Map<number, number[]>();
  #seen: number[] = [];

  get count(): number {
    return this.#patterns.length;
  }

  /** Number of the shape of `code[from]` up to `code[to]`; -1 where it calls, jumps or is long. */
  of(code: Int32Array, from: number, to: number): number {
    if (to - from > 4 * LONGEST) return -1;
    const hash = this.#look(code, from, to);
    if (hash < 0) return -1;
    const known = this.#byHash.get(hash) ?? [];
    for (const shape of known) if (same(this.#patterns[shape], this.#seen)) return shape;
    this.#byHash.set(hash, [...known, this.count]);
    return this.#patterns.push([...this.#seen]) - 1;
  }

  /** Reads a program's pattern; gives a number that is the same for the same pattern. */
  #look(code: Int32Array, from: number, to: number): number {
    const seen = this.#seen;
    seen.length = 0;
    let hash = 1;
    for (let pc = from; pc < to; pc += 4) {
      const op = code[pc]!;
      if (op === OP.call || op === OP.jump || op === OP.jumpIfNot) return -1;
      const a = maker(code, from, pc, code[pc + 2]!);
      const b = operands(op) === 2 ? maker(code, from, pc, code[pc + 3]!) : -1;
      seen.push(op, a, b);
      hash = (hash * 61 + op * 7 + a * 3 + b + 4) % HASHES;
    }
    return hash;
  }

  /** What programs of a shape make, as a tree. */
  tree(shape: number): Made {
    const last = this.steps(shape).at(-1);
    if (!last) throw new Error(`no shape ${shape}`);
    return last;
  }

  /** What their instructions make, one after the other; each is an operand of one later one, but for the last. */
  steps(shape: number): Made[] {
    const pattern = this.#patterns[shape] ?? [];
    const made: Made[] = [];
    for (let k = 0; 3 * k < pattern.length; k++) {
      const op = pattern[3 * k]!;
      const a = made[pattern[3 * k + 1]!] ?? 4 * k + 2;
      const b = made[pattern[3 * k + 2]!] ?? 4 * k + 3;
      // It stands behind the move of what holds otherwise into the same slot.
      const otherwise = op === OP.select ? made[k - 1]?.a : undefined;
      made.push({ op, a, b: operands(op) === 2 ? b : undefined, otherwise });
    }
    return made;
  }
}

/** The instruction before one that puts something into a slot; -1 for none. */
function maker(code: Int32Array, from: number, before: number, slot: number): number {
  for (let pc = before - 4; pc >= from; pc -= 4) if (code[pc + 1] === slot) return (pc - from) / 4;
  return -1;
}

function same(a: readonly number[] | undefined, b: readonly number[]): boolean {
  if (a?.length !== b.length) return false;
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) return false;
  return true;
}

/**
 * Machine code for how the result of a formula goes with each thing it reads, by shape: what calculation/backward.ts
 * finds from the tape.
 */
import { callForeign, codeOfTwice, FOREIGN, ONE, plainCode } from './operation-code.ts';
import type { Made, Operand } from './shape.ts';
import { OP } from './tape.ts';
import { EMPTY, F64, f64, I32, unsigned, W, type FunctionCode } from './wasm-module.ts';

/** Slots that the instructions read and none of them makes: counted from the start of the program. */
export function readBy(steps: readonly Made[]): number[] {
  return steps.flatMap(({ a, b }) => [a, b].filter((of) => typeof of === 'number'));
}

/**
 * Of a function of one address: there stand the addresses of all values that a formula of this shape reads
 * (`readBy`), and behind them those of what its slopes are added to.
 */
export function slopeBody(steps: readonly Made[]): Pick<FunctionCode, 'locals' | 'body'> {
  return new SlopeWriter(steps).finish();
}

/** The instructions of a shape forward, for the values they come to, and then backward. */
class SlopeWriter {
  readonly #steps: readonly Made[];
  readonly #body: number[] = [];
  readonly #reads: number;
  readonly #valued: ReadonlySet<Made>;
  #read = 0;
  /** Of each step, the numbers of its operands among those that are read. */
  readonly #numbers = new Map<Made, readonly [a: number, b: number]>();

  constructor(steps: readonly Made[]) {
    this.#steps = steps;
    this.#reads = readBy(steps).length;
    this.#valued = valued(steps);
  }

  finish(): Pick<FunctionCode, 'locals' | 'body'> {
    for (const step of this.#steps) {
      const a = typeof step.a === 'number' ? this.#load() : -1;
      const b = typeof step.b === 'number' ? this.#load() : -1;
      this.#numbers.set(step, [a, b]);
    }
    for (const step of this.#steps) if (this.#valued.has(step)) this.#value(step);
    for (const step of this.#steps.toReversed()) this.#back(step);
    const doubles = this.#reads + 2 * this.#steps.length;
    return {
      locals: [
        [doubles, F64],
        [1, I32],
      ],
      body: this.#body,
    };
  }

  #emit(...bytes: readonly number[]): void {
    this.#body.push(...bytes);
  }

  /** Locals stand behind the parameter: what is read, what the steps make, how the result goes with that. */
  #valueOf(step: Made): number[] {
    return unsigned(1 + this.#reads + this.#steps.indexOf(step));
  }

  #slopeOf(step: Made): number[] {
    return unsigned(1 + this.#reads + this.#steps.length + this.#steps.indexOf(step));
  }

  #load(): number {
    const number = this.#read++;
    this.#emit(W.get, 0, W.loadI32, 2, ...unsigned(4 * number), W.loadF64, 3, 0);
    this.#emit(W.set, ...unsigned(1 + number));
    return number;
  }

  #get(of: Operand | undefined, number: number): number[] {
    if (of === undefined) return f64(0);
    return [W.get, ...(typeof of === 'number' ? unsigned(1 + number) : this.#valueOf(of))];
  }

  #numbersOf(step: Made): readonly [a: number, b: number] {
    return this.#numbers.get(step) ?? [-1, -1];
  }

  #operands(step: Made): [x: number[], y: number[]] {
    const [a, b] = this.#numbersOf(step);
    return [this.#get(step.a, a), this.#get(step.b, b)];
  }

  #value(step: Made): void {
    const [x, y] = this.#operands(step);
    const { op } = step;
    const plain = plainCode(op, ONE);
    if (op === OP.select) {
      this.#emit(...y, W.get, ...this.#valueOf(before(this.#steps, step)), ...x, ...f64(1), W.eq, W.select);
    } else if (plain) this.#emit(...x, ...(step.b === undefined ? [] : y), ...plain);
    else if (FOREIGN.has(op)) this.#emit(...x, ...y, ...callForeign(op));
    else this.#emit(...codeOfTwice(op, x, y, ONE));
    this.#emit(W.set, ...this.#valueOf(step));
  }

  /** Hands on how the result goes with what a step makes to how it goes with what the step reads. */
  #back(step: Made): void {
    const last = step === this.#steps.at(-1);
    const s = last ? f64(1) : [W.get, ...this.#slopeOf(step)];
    const [x, y] = this.#operands(step);
    const [a, b] = this.#numbersOf(step);
    if (!last) this.#emit(...s, ...f64(0), W.ne, W.if, EMPTY);
    if (step.op === OP.select) {
      this.#emit(...x, ...f64(1), W.eq, W.if, EMPTY);
      this.#add(step.b, b, s);
      this.#emit(W.else);
      this.#add(before(this.#steps, step), -1, s);
      this.#emit(W.end);
    } else {
      const { byA, byB } = slopesOf(step.op, s, x, y);
      if (byA) this.#add(step.a, a, byA);
      if (byB) this.#add(step.b, b, byB);
    }
    if (!last) this.#emit(W.end);
  }

  #add(to: Operand | undefined, number: number, code: readonly number[]): void {
    if (to === undefined) return;
    if (typeof to !== 'number') {
      this.#emit(W.get, ...this.#slopeOf(to), ...code, W.add, W.set, ...this.#slopeOf(to));
      return;
    }
    const address = unsigned(1 + this.#reads + 2 * this.#steps.length);
    this.#emit(W.get, 0, W.loadI32, 2, ...unsigned(4 * (this.#reads + number)), W.tee, ...address);
    this.#emit(W.get, ...address, W.loadF64, 3, 0, ...code, W.add, W.storeF64, 3, 0);
  }
}

/** Steps whose value it takes to find the slopes. */
function valued(steps: readonly Made[]): Set<Made> {
  const needed = new Set<Made>();
  for (const step of steps.toReversed()) {
    if (LINEAR.has(step.op) && !needed.has(step)) continue;
    for (const of of [step.a, step.b]) if (typeof of === 'object') needed.add(of);
    if (step.op === OP.select && needed.has(step)) needed.add(before(steps, step));
  }
  return needed;
}

/** Of a choice: the move of what holds otherwise, into the same slot. */
function before(steps: readonly Made[], choice: Made): Made {
  const move = steps[steps.indexOf(choice) - 1];
  if (!move) throw new Error('a choice without its sides');
  return move;
}

const LINEAR: ReadonlySet<number> = new Set([OP.move, OP.nominal, OP.add, OP.subtract, OP.negate]);

interface Slopes {
  readonly byA?: readonly number[];
  readonly byB?: readonly number[];
}

/** How a result goes with both operands of an operation, `s` getting how it goes with what the operation makes. */
function slopesOf(op: number, s: readonly number[], x: readonly number[], y: readonly number[]): Slopes {
  const square = [...x, ...x, W.mul];
  const rest = [...f64(1), ...square, W.sub];
  const steps = (whole: number): number[] => [
    ...s,
    ...x,
    ...y,
    W.div,
    ...f64(0),
    ...callForeign(whole),
    W.mul,
  ];
  switch (op) {
    case OP.move:
      return { byA: s };
    case OP.add:
      return { byA: s, byB: s };
    case OP.subtract:
      return { byA: s, byB: [...s, W.neg] };
    case OP.multiply:
      return { byA: [...s, ...y, W.mul], byB: [...s, ...x, W.mul] };
    case OP.divide:
      return {
        byA: [...s, ...y, W.div],
        byB: [...s, ...x, W.mul, ...y, ...y, W.mul, W.div, W.neg],
      };
    case OP.power: {
      const lower = [...x, ...y, ...f64(1), W.sub, ...callForeign(OP.power)];
      const log = [...x, ...f64(0), ...callForeign(OP.log)];
      return {
        byA: [...s, ...y, W.mul, ...lower, W.mul, ...f64(0), ...y, ...f64(0), W.ne, W.select],
        byB: [
          ...[...s, ...x, ...y, ...callForeign(OP.power), W.mul, ...log, W.mul],
          ...[...f64(0), ...x, ...f64(0), W.greater, W.select],
        ],
      };
    }
    case OP.negate:
      return { byA: [...s, W.neg] };
    case OP.square:
      return { byA: [...f64(2), ...s, W.mul, ...x, W.mul] };
    case OP.abs:
      return { byA: [...s, W.neg, ...s, ...x, ...f64(0), W.less, W.select] };
    case OP.sqrt:
      return { byA: [...s, ...f64(2), ...x, W.sqrt, W.mul, W.div] };
    case OP.exp:
      return { byA: [...s, ...x, ...f64(0), ...callForeign(OP.exp), W.mul] };
    case OP.log:
      return { byA: [...s, ...x, W.div] };
    case OP.log10:
      return { byA: [...s, ...x, ...f64(Math.LN10), W.mul, W.div] };
    case OP.sin:
      return { byA: [...s, ...x, ...f64(0), ...callForeign(OP.cos), W.mul] };
    case OP.cos:
      return { byA: [...s, ...x, ...f64(0), ...callForeign(OP.sin), W.mul, W.neg] };
    case OP.tan: {
      const cos = [...x, ...f64(0), ...callForeign(OP.cos)];
      return { byA: [...s, ...cos, ...cos, W.mul, W.div] };
    }
    case OP.asin:
      return { byA: [...s, ...rest, W.sqrt, W.div] };
    case OP.acos:
      return { byA: [...s, ...rest, W.sqrt, W.div, W.neg] };
    case OP.atan:
      return { byA: [...s, ...f64(1), ...square, W.add, W.div] };
    case OP.floorTo:
      return { byB: steps(OP.floor) };
    case OP.ceilTo:
      return { byB: steps(OP.ceil) };
    case OP.roundTo:
      return { byB: steps(OP.round) };
    case OP.min:
      return between(s, [...x, ...y, W.lessOrEqual]);
    case OP.max:
      return between(s, [...x, ...y, W.greaterOrEqual]);
    default:
      // Comparisons, logic, whole steps: flat wherever they are smooth.
      return {};
  }
}

/** The one operand where the condition holds, else the other. */
function between(s: readonly number[], holds: readonly number[]): Slopes {
  return { byA: [...s, ...f64(0), ...holds, W.select], byB: [...f64(0), ...s, ...holds, W.select] };
}

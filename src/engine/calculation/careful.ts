/**
 * The careful run: the same instructions, with the state of every operand. It is taken only where the fast run
 * gave something that is not a finite number, and finds out what to say: blank, faulty here, or waiting.
 */
import type { Span } from '../formula/diagnostic.ts';
import { fault, type Fault } from '../formula/library.ts';
import { OP, run, type CallHost } from '../formula/tape.ts';
import { BLANK, FAULT, VALUE, WAITING, type Cause, type SlotState, type Storage } from './storage.ts';

export interface CarefulHost extends CallHost {
  /** Works out a call site with states, into its result slots, and says how many there are. */
  callCarefully(site: number, span: Span): void;
  /** What to wait for when the slot of a cell is faulty; undefined for a part of the formula at hand. */
  waitingFor(slot: number): string | undefined;
}

/** Of a row that a condition chose, and that nobody filled in. */
const CHOSEN_BLANK: Cause = { chosen: true };

const UNARY: ReadonlySet<number> = new Set([
  OP.move,
  OP.nominal,
  OP.negate,
  OP.not,
  OP.square,
  OP.abs,
  OP.sqrt,
  OP.exp,
  OP.log,
  OP.log10,
  OP.sin,
  OP.cos,
  OP.tan,
  OP.asin,
  OP.acos,
  OP.atan,
  OP.floor,
  OP.ceil,
  OP.round,
]);

export class Careful {
  readonly #storage: Storage;
  readonly #host: CarefulHost;
  readonly #one = new Int32Array(4);

  constructor(storage: Storage, host: CarefulHost) {
    this.#storage = storage;
    this.#host = host;
  }

  /** `origins` holds start and end in `text` for each instruction; both count from the same instruction. */
  run(code: Int32Array, origins: Int32Array, text: string, from: number, to: number): void {
    const { values, states } = this.#storage;
    for (let pc = from; pc < to; pc += 4) {
      const op = code[pc]!;
      const d = code[pc + 1]!;
      const a = code[pc + 2]!;
      const b = code[pc + 3]!;
      switch (op) {
        case OP.call:
          this.#host.callCarefully(a, spanAt(origins, pc));
          break;
        case OP.jump:
          pc = from + b - 4;
          break;
        case OP.jumpIfNot:
          if (states[a] !== VALUE) {
            this.#pass(d, a);
            pc = from + code[from + b - 1]! - 4;
          } else if (values[a] === 0) pc = from + b - 4;
          break;
        case OP.select:
          if (states[a] !== VALUE) this.#pass(d, a);
          else if (values[a] === 1) this.#copy(d, b);
          break;
        case OP.isBlank:
          if (states[a] === BLANK || states[a] === VALUE) this.#set(d, states[a] === BLANK ? 1 : 0);
          else this.#pass(d, a);
          break;
        case OP.otherwise:
          this.#copy(d, states[a] === BLANK ? b : a);
          break;
        case OP.where:
          if (states[b] === VALUE) {
            if (values[b] === 1) this.#chosen(d, a);
            else this.#blank(d);
          } else if (states[b] === BLANK) this.#blank(d);
          else this.#pass(d, b);
          break;
        case OP.and:
        case OP.or: {
          // A side that decides alone decides, whatever the other is (Kleene).
          const decides = op === OP.and ? 0 : 1;
          if (states[a] === VALUE && values[a] === decides) this.#set(d, decides);
          else if (states[b] === VALUE && values[b] === decides) this.#set(d, decides);
          else if (worse(states[b]!, states[a]!)) this.#pass(d, b);
          else if (states[a] !== VALUE) this.#pass(d, a);
          else this.#set(d, 1 - decides);
          break;
        }
        default: {
          const unary = UNARY.has(op);
          if (!unary && worse(states[b]!, states[a]!)) this.#pass(d, b);
          else if (states[a] !== VALUE) this.#pass(d, a);
          else {
            this.#one.set([op, d, a, b]);
            run(this.#one, values, 0, 4, this.#host);
            if (Number.isFinite(values[d])) this.#set(d, values[d]!);
            else {
              const span = spanAt(origins, pc);
              this.fail(d, reasonOf(op, values[a]!, values[b]!, text.slice(span.start, span.end)), span);
            }
          }
        }
      }
    }
  }

  #set(slot: number, value: number): void {
    this.#storage.values[slot] = value;
    this.#storage.states[slot] = VALUE;
  }

  #blank(slot: number): void {
    this.#storage.values[slot] = NaN;
    this.#storage.states[slot] = BLANK;
    this.#storage.causes.delete(slot);
  }

  #copy(to: number, from: number): void {
    if (this.#storage.states[from] === VALUE) this.#set(to, this.#storage.values[from]!);
    else this.#pass(to, from);
  }

  /** A row that is chosen and blank has a cause, one that is left out has none: so the two are told apart. */
  #chosen(to: number, from: number): void {
    this.#copy(to, from);
    const { states, causes } = this.#storage;
    if (states[to] === BLANK && !causes.has(to)) causes.set(to, CHOSEN_BLANK);
  }

  /** What is not a value is passed on; a fault in another cell becomes a wait for that cell. */
  #pass(to: number, from: number): void {
    const { values, states, causes } = this.#storage;
    const state = states[from] as SlotState;
    const cause = causes.get(from);
    values[to] = NaN;
    const root = state !== FAULT || this.#storage.isTemporary(from) ? undefined : this.#host.waitingFor(from);
    if (root === undefined) {
      states[to] = state;
      keep(causes, to, cause);
      return;
    }
    states[to] = WAITING;
    causes.set(to, { waitingFor: root });
  }

  /** Marks a slot as faulty. */
  fail(slot: number, why: Fault, span?: Span): void {
    this.#storage.values[slot] = NaN;
    this.#storage.states[slot] = FAULT;
    this.#storage.causes.set(slot, span ? { fault: why, span } : { fault: why });
  }
}

function spanAt(origins: Int32Array, pc: number): Span {
  return { start: origins[pc / 2] ?? 0, end: origins[pc / 2 + 1] ?? 0 };
}

function keep(causes: Map<number, Cause>, slot: number, cause: Cause | undefined): void {
  if (cause) causes.set(slot, cause);
  else causes.delete(slot);
}

/** Waiting and faults outrank blanks, blanks outrank values. */
function worse(a: number, b: number): boolean {
  return a > b;
}

function reasonOf(op: number, a: number, b: number, text: string): Fault {
  const shown = text.length > 60 ? `${text.slice(0, 57)}…` : text;
  switch (op) {
    case OP.divide:
      if (b === 0)
        return fault(
          `division by zero in ${shown}`,
          'check the value below the line, or write a condition: x == 0 ? … : …',
        );
      break;
    case OP.sqrt:
      if (a < 0)
        return fault(
          `the square root of a negative number in ${shown}`,
          'check the sign of what stands inside',
        );
      break;
    case OP.log:
    case OP.log10:
      if (a <= 0)
        return fault(
          `the logarithm of a number that is not above zero in ${shown}`,
          'check what stands inside',
        );
      break;
    case OP.power:
      if (a < 0)
        return fault(
          `a negative number raised to a fractional power in ${shown}`,
          'check the sign of the base',
        );
      if (a === 0) return fault(`zero raised to a negative power in ${shown}`, 'check the base');
      break;
    case OP.asin:
    case OP.acos:
      return fault(
        `no angle has this ${op === OP.asin ? 'sine' : 'cosine'} in ${shown}`,
        'it lies between −1 and 1',
      );
    case OP.floorTo:
    case OP.ceilTo:
    case OP.roundTo:
      if (b === 0) return fault(`rounding to a step of zero in ${shown}`, 'give a step above zero');
      break;
    default:
  }
  return fault(`the result of ${shown} is too large to hold`, 'check the units and the exponents');
}

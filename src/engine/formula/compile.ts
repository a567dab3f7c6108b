/** Turns a checked formula into instructions. Every temporary is written once, so a tape can be run backwards. */
import type { Span } from './diagnostic.ts';
import type { FunctionDefinition } from './library.ts';
import { OP, type Operation } from './tape.ts';
import { width, type Type } from './type.ts';
import { constantValue, type AggregateName, type NodeId, type Typed, type VectorValue } from './typed.ts';

/** A column's value that must be loaded into a slot before a row is worked out. */
export interface RowInput {
  readonly node: NodeId;
  readonly offset: number;
  readonly slot: number;
}

/** A column argument: run once for each row of `table`. */
export interface VectorProgram {
  readonly table: string;
  readonly inputs: readonly RowInput[];
  readonly code: Int32Array;
  /** Start and end in `text` for each instruction. */
  readonly origins: Int32Array;
  readonly text: string;
  readonly result: number;
  readonly type: Type;
}

export type CallArgument =
  | { readonly kind: 'scalar'; readonly slot: number; readonly type: Type }
  | { readonly kind: 'column'; readonly vector: VectorProgram };

export type CallSite =
  | {
      readonly kind: 'library';
      readonly definition: FunctionDefinition;
      readonly arguments: readonly CallArgument[];
      readonly result: number;
      readonly type: Type;
    }
  | {
      readonly kind: 'aggregate';
      readonly name: AggregateName;
      readonly vector: VectorProgram;
      readonly result: number;
    }
  | {
      readonly kind: 'lookup';
      readonly table: string;
      readonly resultNode: NodeId;
      readonly resultOffset: number;
      readonly keyNode: NodeId;
      readonly keyOffset: number;
      readonly key: number;
      readonly keyType: Type;
      readonly result: number;
      readonly width: number;
    }
  | {
      readonly kind: 'spread';
      readonly name: 'uncertainty' | 'chance';
      readonly sides: readonly SpreadSide[];
      /** Temporaries in use, which finding a spread would overwrite. */
      readonly temporaries: number;
      readonly result: number;
    };

export interface SpreadSide {
  readonly slot: number;
  /** Undefined for a constant. */
  readonly node: NodeId | undefined;
  readonly offset: number;
  /** True: of the row at hand. */
  readonly row: boolean;
}

/** What the compiler needs from the owner of the slots. */
export interface Slots {
  /** Slot of a cell's value. */
  ofNode(node: NodeId): number;
  constant(value: number): number;
  text(value: string): number;
  /** A slot of its own for a literal with ±; `at` tells the literals of one formula apart. */
  uncertain(value: number, plusMinus: number, at: number): number;
  /** First slot of the region for temporaries, which every program may use afresh. */
  readonly temporaries: number;
  /** The hidden node that keeps an aggregate which is the same for every reader. */
  aggregate(key: string): NodeId | undefined;
}

/** Lists, which its owner copies to a tape of many formulas. */
export interface Program {
  readonly code: readonly number[];
  /** For each instruction, where in the text it comes from (start, end). */
  readonly origins: readonly number[];
  readonly result: number;
  readonly width: number;
  readonly inputs: readonly RowInput[];
}

const BINARY = {
  '+': OP.add,
  '-': OP.subtract,
  '*': OP.multiply,
  '/': OP.divide,
  '^': OP.power,
  '==': OP.equal,
  '!=': OP.notEqual,
  '<': OP.less,
  '<=': OP.lessOrEqual,
  '>': OP.greater,
  '>=': OP.greaterOrEqual,
  and: OP.and,
  or: OP.or,
} as const;

const MATH = {
  abs: OP.abs,
  sqrt: OP.sqrt,
  exp: OP.exp,
  log: OP.log,
  log10: OP.log10,
  sin: OP.sin,
  cos: OP.cos,
  tan: OP.tan,
  asin: OP.asin,
  acos: OP.acos,
  atan: OP.atan,
  floor: OP.floor,
  ceil: OP.ceil,
  round: OP.round,
  min: OP.min,
  max: OP.max,
  is_blank: OP.isBlank,
  otherwise: OP.otherwise,
  nominal: OP.nominal,
  where: OP.where,
} as const;

const STEPPED = { floor: OP.floorTo, ceil: OP.ceilTo, round: OP.roundTo } as const;

/** The key under which an aggregate that is the same for every reader is shared by all formulas. */
export function sharedKey(name: string, argument: Span, text: string): string {
  return `${name}(${plainSpaces(text.slice(argument.start, argument.end))})`;
}

/** Space is nothing to a formula, except inside a text. */
export function plainSpaces(text: string): string {
  return text.replace(/"[^"]*"|\s+/g, (part) => (part.startsWith('"') ? part : ' ')).trim();
}

export class Compiler {
  readonly #slots: Slots;
  readonly #text: string;
  readonly #sites: CallSite[];
  /** Set when the formula asks for the spread of something. */
  readsSpreads = false;
  #code: number[] = [];
  #origins: number[] = [];
  #inputs: RowInput[] = [];
  #elements: RowInput[] = [];
  #next: number;

  /** `sites` is the owner's list of call sites, to which this formula's are added. */
  constructor(slots: Slots, text: string, sites: CallSite[]) {
    this.#slots = slots;
    this.#text = text;
    this.#sites = sites;
    this.#next = slots.temporaries;
  }

  /** `target` is the slot that takes the result, or undefined for a temporary. */
  program(typed: Typed, target?: number): Program {
    const wide = width(typed.type);
    const to = target ?? this.#temporary(wide);
    this.#into(typed, to);
    return { code: this.#code, origins: this.#origins, result: to, width: wide, inputs: this.#inputs };
  }

  /** Compiles the body of a column argument as a column of its own: its elements are the row's inputs. */
  column(body: Typed): Program {
    const program = this.program(body);
    return { ...program, inputs: this.#elements };
  }

  #temporary(wide = 1): number {
    const slot = this.#next;
    this.#next += wide;
    return slot;
  }

  #emit(op: Operation, d: number, a: number, b: number, from: Typed): number {
    this.#code.push(op, d, a, b);
    this.#origins.push(from.start, from.end);
    return this.#code.length;
  }

  /** The slot that holds a part's value, computing it into a temporary where needed. */
  #slotOf(t: Typed): number {
    switch (t.op) {
      case 'constant':
        return t.plusMinus === undefined
          ? this.#slots.constant(t.value)
          : this.#slots.uncertain(t.value, t.plusMinus, t.start);
      case 'text':
        return this.#slots.text(t.value);
      case 'cell':
        return this.#slots.ofNode(t.node) + t.offset;
      case 'column':
        return this.#input(t.element ? this.#elements : this.#inputs, t.node, t.offset, width(t.type));
      case 'field':
        return this.#slotOf(t.object) + t.offset;
      case 'aggregate': {
        const node = this.#shared(t);
        if (node !== undefined) return this.#slots.ofNode(node);
        break;
      }
      default:
    }
    const constant = constantValue(t);
    if (constant !== undefined && Number.isFinite(constant)) return this.#slots.constant(constant);
    const slot = this.#temporary(width(t.type));
    this.#into(t, slot);
    return slot;
  }

  #input(list: RowInput[], node: NodeId, offset: number, wide: number): number {
    const known = list.find((i) => i.node === node && i.offset === offset);
    if (known && wide === 1) return known.slot;
    const slot = this.#temporary(wide);
    for (let k = 0; k < wide; k++) list.push({ node, offset: offset + k, slot: slot + k });
    return slot;
  }

  #shared(t: Typed): NodeId | undefined {
    if (t.op !== 'aggregate' || t.vector.perRow) return undefined;
    return this.#slots.aggregate(sharedKey(t.name, t.vector, this.#text));
  }

  /** Computes a part into the given slot (or slots, for a record). */
  #into(t: Typed, to: number): void {
    switch (t.op) {
      case 'unary': {
        const a = this.#slotOf(t.operand);
        this.#emit(t.operator === '-' ? OP.negate : OP.not, to, a, 0, t);
        return;
      }
      case 'binary': {
        const a = this.#slotOf(t.left);
        if (t.operator === '^' && constantValue(t.right) === 2) {
          this.#emit(OP.square, to, a, 0, t);
          return;
        }
        const b = this.#slotOf(t.right);
        this.#emit(BINARY[t.operator], to, a, b, t);
        return;
      }
      case 'conditional':
        this.#conditional(t, to);
        return;
      case 'math': {
        const [x, y] = t.arguments;
        if (!x) throw new Error(`${t.name} without an argument`);
        const a = this.#slotOf(x);
        const stepped = y && t.name in STEPPED;
        const op = stepped ? STEPPED[t.name as keyof typeof STEPPED] : MATH[t.name];
        this.#emit(op, to, a, y ? this.#slotOf(y) : 0, t);
        return;
      }
      case 'call':
        this.#call(t, to);
        return;
      case 'lookup': {
        const key = this.#slotOf(t.key);
        this.#site(
          {
            kind: 'lookup',
            table: t.table,
            resultNode: t.result.node,
            resultOffset: t.result.offset,
            keyNode: t.keys.node,
            keyOffset: t.keys.offset,
            key,
            keyType: t.key.type,
            result: to,
            width: width(t.type),
          },
          t,
        );
        return;
      }
      case 'spread':
        this.#spread(t, to);
        return;
      case 'aggregate':
        if (this.#shared(t) === undefined) {
          this.#site({ kind: 'aggregate', name: t.name, vector: this.#vector(t.vector), result: to }, t);
          return;
        }
        break;
      case 'vector':
        throw new Error('a column argument has no slot');
      default:
    }
    const from = this.#slotOf(t);
    for (let k = 0; k < width(t.type); k++) this.#emit(OP.move, to + k, from + k, 0, t);
  }

  #conditional(t: Typed & { op: 'conditional' }, to: number): void {
    const wide = width(t.type);
    const condition = this.#slotOf(t.condition);
    if (wide === 1 && !costly(t.then) && !costly(t.otherwise)) {
      const yes = this.#slotOf(t.then);
      const no = this.#slotOf(t.otherwise);
      this.#emit(OP.move, to, no, 0, t.otherwise);
      this.#emit(OP.select, to, condition, yes, t);
      return;
    }
    // A condition that is neither yes nor no is passed on by the jump to the first field only.
    for (let k = 1; k < wide; k++) this.#emit(OP.move, to + k, condition, 0, t);
    const jumpIfNot = this.#emit(OP.jumpIfNot, to, condition, 0, t);
    this.#into(t.then, to);
    const jump = this.#emit(OP.jump, to, 0, 0, t);
    this.#code[jumpIfNot - 1] = this.#code.length;
    this.#into(t.otherwise, to);
    this.#code[jump - 1] = this.#code.length;
  }

  #spread(t: Typed & { op: 'spread' }, to: number): void {
    this.readsSpreads = true;
    const sides = t.sides.map((side): SpreadSide => {
      const slot = this.#slotOf(side);
      return side.op === 'cell' || side.op === 'column'
        ? { slot, node: side.node, offset: side.offset, row: side.op === 'column' }
        : { slot, node: undefined, offset: 0, row: false };
    });
    this.#site({ kind: 'spread', name: t.name, sides, temporaries: this.#next, result: to }, t);
  }

  #call(t: Typed & { op: 'call' }, to: number): void {
    const args = t.arguments.map((a): CallArgument =>
      a.op === 'vector'
        ? { kind: 'column', vector: this.#vector(a) }
        : { kind: 'scalar', slot: this.#slotOf(a), type: a.type },
    );
    this.#site({ kind: 'library', definition: t.definition, arguments: args, result: to, type: t.type }, t);
  }

  #site(site: CallSite, from: Typed): void {
    this.#sites.push(site);
    this.#emit(OP.call, site.result, this.#sites.length - 1, 0, from);
  }

  /** Compiles a column argument apart, with its own code; what it reads of the row at hand is loaded outside. */
  #vector(v: VectorValue): VectorProgram {
    const outer = { code: this.#code, origins: this.#origins, elements: this.#elements };
    this.#code = [];
    this.#origins = [];
    this.#elements = [];
    const result = this.#temporary(width(v.body.type));
    this.#into(v.body, result);
    const program: VectorProgram = {
      table: v.table,
      inputs: this.#elements,
      code: new Int32Array(this.#code),
      origins: new Int32Array(this.#origins),
      text: this.#text,
      result,
      type: v.type,
    };
    ({ code: this.#code, origins: this.#origins, elements: this.#elements } = outer);
    return program;
  }
}

/** Whether a branch should be jumped over rather than worked out for nothing. */
function costly(t: Typed): boolean {
  switch (t.op) {
    case 'call':
    case 'lookup':
    case 'aggregate':
    case 'spread':
      return true;
    case 'unary':
      return costly(t.operand);
    case 'binary':
      return costly(t.left) || costly(t.right);
    case 'conditional':
      return costly(t.condition) || costly(t.then) || costly(t.otherwise);
    case 'math':
      return t.arguments.some(costly);
    case 'field':
      return costly(t.object);
    default:
      return false;
  }
}

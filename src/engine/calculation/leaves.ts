/**
 * What plain formulas read: straight code over cells and constants, without calls and jumps. Kept as integers in one
 * array, so that thousands of formulas are walked through without a look at their nodes.
 */
import { OP, operands } from '../formula/tape.ts';

import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import type { Reach } from './reach.ts';

/** At the head of a formula: start and end of its code, the slot of its result, how many leaves follow. */
export const CODE = 0;
export const CODE_END = 1;
export const RESULT = 2;
export const COUNT = 3;
export const HEAD = 4;
/** Of a leaf: its slot, the id of the cell that holds it (-1 for what is exact), and the last union of sources. */
export const SLOT = 0;
export const OWNER = 1;
export const LAST_WHOLE = 2;
export const LAST_PART = 3;
export const LAST_UNION = 4;
export const LEAF = 5;

const NOT_PLAIN = -1;

export class Leaves {
  readonly #book: Book;
  readonly #reach: Reach;
  /** Formula after formula. */
  table = new Int32Array(1024);
  #used = 1;
  /** By node id: where its formula begins in the table; 0 where nobody looked yet, -1 where it is not plain. */
  #starts = new Int32Array(0);

  constructor(book: Book, reach: Reach) {
    this.#book = book;
    this.#reach = reach;
  }

  /** Formulas came or went, or a ± where there was none. */
  forget(): void {
    this.#starts.fill(0);
    this.#used = 1;
  }

  /** Where in the table the formula stands; -1: it is not plain. */
  of(id: number): number {
    const start = this.#starts[id];
    return start === undefined || start === 0 ? this.#look(this.#book.node(id)) : start;
  }

  #look(node: GraphNode): number {
    if (node.id >= this.#starts.length) {
      const starts = new Int32Array(2 * this.#book.nodes.length);
      starts.set(this.#starts);
      this.#starts = starts;
    }
    const slots = this.#slots(node);
    const owners = slots?.map((slot) => this.#book.ownerOf(slot));
    // Fields of records are found one by one, and a ± inside the formula is a source that no cell holds.
    const odd =
      !slots ||
      !owners ||
      owners.some((owner) => owner === node || (owner && owner.width !== 1 && this.#reach.has(owner.id))) ||
      slots.some((slot) => this.#book.literals.has(slot));
    const start = odd ? NOT_PLAIN : this.#write(node, slots, owners);
    this.#starts[node.id] = start;
    return start;
  }

  /** Slots that are read and are no temporaries. */
  #slots(node: GraphNode): number[] | undefined {
    const { code, storage } = this.#book;
    if (node.kind !== 'cell' || !node.formula || node.width !== 1 || node.type === undefined)
      return undefined;
    const slots = new Set<number>();
    for (let pc = node.codeStart; pc < node.codeEnd; pc += 4) {
      const op = code[pc]!;
      if (MINDFUL.has(op)) return undefined;
      for (let k = 2; k < 2 + operands(op); k++) {
        const slot = code[pc + k]!;
        if (!storage.isTemporary(slot)) slots.add(slot);
      }
    }
    return [...slots];
  }

  #write(node: GraphNode, slots: readonly number[], owners: readonly (GraphNode | undefined)[]): number {
    const start = this.#used;
    this.#used += HEAD + LEAF * slots.length;
    if (this.#used > this.table.length) {
      const table = new Int32Array(2 * this.#used);
      table.set(this.table);
      this.table = table;
    }
    this.table.set([node.codeStart, node.codeEnd, node.slot, slots.length], start);
    slots.forEach((slot, k) => {
      const owner = owners[k];
      const id = owner && this.#reach.has(owner.id) ? owner.id : -1;
      this.table.set([slot, id, -1, -1, -1], start + HEAD + LEAF * k);
    });
    return start;
  }
}

/** Calls, jumps, and what may make a value of something that is none: these need the careful way. */
const MINDFUL: ReadonlySet<number> = new Set([
  OP.call,
  OP.jump,
  OP.jumpIfNot,
  OP.and,
  OP.or,
  OP.isBlank,
  OP.otherwise,
  OP.where,
]);

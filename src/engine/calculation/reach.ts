/**
 * What some source of uncertainty reaches at all, found from the tape without running it: all else is exact, and
 * nobody need ask further. Yes and no, and nominal values, let nothing through.
 */
import type { VectorProgram } from '../formula/compile.ts';
import { OP, operands } from '../formula/tape.ts';
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import { isSwitch } from './switches.ts';

const NONE = new Int32Array(0);

export class Reach {
  readonly #book: Book;
  /** By node id. */
  #reached = new Uint8Array(0);
  /** By slot: cells keep theirs, temporaries serve one formula after the other. */
  #slots = new Uint8Array(0);
  /** By node id. */
  #switches: (Int32Array | undefined)[] = [];
  /** Call sites of functions of which some argument may be uncertain. */
  readonly #fed = new Set<number>();
  #known = false;

  constructor(book: Book) {
    this.#book = book;
  }

  /** Formulas came or went. */
  forget(): void {
    this.#known = false;
  }

  /** Takes note that what was typed at a node changed; true: it was exact, and is so no more. */
  gains(id: number): boolean {
    const node = this.#book.nodes[id];
    if (!this.#known || !node) return false;
    const source = isSource(node);
    const reached = this.#reached[id] === 1;
    if (source ? !reached : reached && !node.formula) this.#known = false;
    return source && !reached;
  }

  /** Whether a node's value may be uncertain. */
  has(id: number): boolean {
    if (!this.#known) this.#find();
    return this.#reached[id] === 1;
  }

  /** Places in the tape where a formula's result turns or bends by a value that may be uncertain. */
  switches(id: number): Int32Array {
    if (!this.#known) this.#find();
    return this.#switches[id] ?? NONE;
  }

  /** Whether an argument of a function's call may be uncertain. */
  feeds(site: number): boolean {
    if (!this.#known) this.#find();
    return this.#fed.has(site);
  }

  #find(): void {
    const { nodes, nodeAt, storage, literals } = this.#book;
    this.#reached = new Uint8Array(nodes.length);
    this.#slots = new Uint8Array(storage.values.length);
    this.#switches = [];
    this.#fed.clear();
    for (const slot of literals.keys()) this.#slots[slot] = 1;
    this.#known = true;
    for (const id of nodeAt) {
      const node = nodes[id];
      if (!node) continue;
      if (node.formula && node.type) this.#formula(node);
      else if (node.kind === 'aggregate' && node.slot >= 0)
        this.#slots[node.slot] = this.#any(node.references) && node.aggregate?.name !== 'count' ? 1 : 0;
      else if (node.slot >= 0) this.#slots[node.slot] = isSource(node) ? 1 : 0;
      const result = node.kind === 'column' ? node.rowResult : node.slot;
      let reached = isSource(node);
      if (result >= 0 && (node.formula || node.kind !== 'column'))
        for (let k = 0; k < node.width; k++) if (this.#slots[result + k] === 1) reached = true;
      if (reached) this.#reached[id] = 1;
    }
  }

  #any(ids: readonly number[]): boolean {
    return ids.some((id) => this.#reached[id] === 1);
  }

  #formula(node: GraphNode): void {
    const { code } = this.#book;
    const slots = this.#slots;
    this.#inputs(node.inputs);
    for (let pc = node.codeStart; pc < node.codeEnd; pc += 4) slots[code[pc + 1]!] = 0;
    const switches: number[] = [];
    this.#run(code, node.codeStart, node.codeEnd, switches);
    if (switches.length > 0) this.#switches[node.id] = Int32Array.from(switches);
  }

  #inputs(inputs: VectorProgram['inputs']): void {
    for (const input of inputs) this.#slots[input.slot] = this.#reached[input.node]!;
  }

  #run(code: Int32Array, from: number, to: number, switches: number[]): void {
    const slots = this.#slots;
    for (let pc = from; pc < to; pc += 4) {
      const op = code[pc]!;
      if (op === OP.jump || op === OP.jumpIfNot) continue;
      if (op === OP.call) {
        this.#call(code[pc + 2]!);
        continue;
      }
      const a = code[pc + 2]!;
      const b = code[pc + 3]!;
      const reached = slots[a] === 1 || (operands(op) === 2 && slots[b] === 1);
      if (!reached) continue;
      if (isSwitch(op)) switches.push(pc);
      if (!isExact(op)) slots[code[pc + 1]!] = 1;
    }
  }

  #call(index: number): void {
    const slots = this.#slots;
    const site = this.#book.sites[index];
    if (!site) return;
    let reached = false;
    let wide = 1;
    switch (site.kind) {
      case 'spread':
        return;
      case 'lookup':
        reached = this.#reached[site.resultNode] === 1;
        wide = site.width;
        break;
      case 'aggregate':
        reached = this.#vector(site.vector) && site.name !== 'count';
        break;
      case 'library':
        for (const given of site.arguments)
          if (given.kind === 'scalar' ? slots[given.slot] === 1 : this.#vector(given.vector)) reached = true;
        if (reached) this.#fed.add(index);
        reached ||= site.definition.scatter !== undefined;
        wide = site.type.kind === 'record' ? site.type.fields.size : 1;
    }
    for (let k = 0; reached && k < wide; k++) slots[site.result + k] = 1;
  }

  #vector(vector: VectorProgram): boolean {
    this.#inputs(vector.inputs);
    const { code } = vector;
    for (let pc = 0; pc < code.length; pc += 4) this.#slots[code[pc + 1]!] = 0;
    this.#run(code, 0, code.length, []);
    return this.#slots[vector.result] === 1;
  }
}

/** What comes out is the same for all values nearby, or has its uncertainty taken off. */
function isExact(op: number): boolean {
  return (op >= OP.less && op <= OP.not) || op === OP.isBlank || op === OP.nominal;
}

export function isSource(node: GraphNode): boolean {
  if (node.ownSpread || (node.plusMinus !== undefined && node.plusMinus !== 0)) return true;
  return (
    node.data !== undefined &&
    (node.data.plusMinus.size > 0 || node.each !== undefined || node.shared !== undefined)
  );
}

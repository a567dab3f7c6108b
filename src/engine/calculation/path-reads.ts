/** What the instructions of a formula that were run read: cells, single rows of columns, and numbers with ± in it. */
import type { VectorProgram } from '../formula/compile.ts';
import { OP, operands } from '../formula/tape.ts';
import { columnGroups } from './arguments.ts';
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import type { Reach } from './reach.ts';
import type { Sites } from './sites.ts';

/** A cell (row -1) or one row of a column, and of a record the field. */
export interface Read {
  readonly node: GraphNode;
  readonly row: number;
  readonly offset: number;
}

export interface PathReads {
  /** Each told once. */
  readonly places: readonly Read[];
  /** Slots of numbers with ±. */
  readonly literals: ReadonlySet<number>;
}

/** Rows of a table and fields of a record have room in the key of a place. */
const MOST_ROWS = 2 ** 24;
const MOST_FIELDS = 2 ** 8;

/** The path was run last: calls are asked with what stands in the slots. Of nodes only those that a source may reach. */
export function pathReads(
  book: Book,
  sites: Sites,
  reach: Reach,
  node: GraphNode,
  row: number,
  path: readonly number[],
): PathReads {
  const { code, storage } = book;
  const found = new Map<number, Read>();
  const literals = new Set<number>();
  const inputs = new Map(node.inputs.map((input) => [input.slot, input]));
  const add = (id: number, at: number, offset: number): void => {
    if (reach.has(id))
      found.set((id * MOST_ROWS + at + 1) * MOST_FIELDS + offset, { node: book.node(id), row: at, offset });
  };
  const addSlot = (slot: number): void => {
    const input = inputs.get(slot);
    const owner = input || storage.isTemporary(slot) ? undefined : book.ownerOf(slot);
    if (input) add(input.node, row, input.offset);
    else if (owner) add(owner.id, -1, slot - owner.slot);
    else if (book.literals.has(slot)) literals.add(slot);
  };
  const addOperands = (tape: Int32Array, pc: number): void => {
    for (let k = 2; k < 2 + operands(tape[pc]!); k++) addSlot(tape[pc + k]!);
  };
  const addVectors = (vectors: readonly VectorProgram[]): void => {
    for (const { code: elements } of vectors)
      for (let pc = 0; pc < elements.length; pc += 4) addOperands(elements, pc);
    const columns = vectors.flatMap((vector) => vector.inputs).filter((input) => reach.has(input.node));
    const gathered = columns.length > 0 ? sites.gather(vectors) : undefined;
    if (!gathered || 'state' in gathered) return;
    for (const input of columns) for (const at of gathered.rows) add(input.node, at, input.offset);
  };
  for (const pc of path) {
    const site = code[pc] === OP.call ? book.sites[code[pc + 2]!] : undefined;
    if (!site) addOperands(code, pc);
    else if (site.kind === 'lookup') {
      const at = sites.rowOf(site);
      for (let k = 0; at !== undefined && k < site.width; k++)
        add(site.resultNode, at, site.resultOffset + k);
    } else if (site.kind === 'aggregate') addVectors([site.vector]);
    else if (site.kind === 'library') {
      for (const argument of site.arguments) if (argument.kind === 'scalar') addSlot(argument.slot);
      for (const group of columnGroups(site)) addVectors(group.map(({ vector }) => vector));
    }
  }
  return { places: [...found.values()], literals };
}

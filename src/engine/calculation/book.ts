/** Everything the engine holds: nodes by name, tables, slots, the one tape, and the order of calculation. */
import type { CallSite } from '../formula/compile.ts';
import type { FunctionLibrary } from '../formula/library.ts';
import type { NamedNode, Scope, TableScope } from '../formula/scope.ts';
import { NOT_KEYED } from './key.ts';
import { newNode, NO_IDS, type GraphNode } from './node.ts';
import { Storage, WAITING } from './storage.ts';

const NAMING: ReadonlySet<string> = new Set([
  'unknown-name',
  'unknown-column',
  'unknown-function',
  'not-a-function',
  'table-alone',
]);

export interface TableData {
  readonly name: string;
  rows: number;
  /** Column name to node. */
  readonly columns: Map<string, GraphNode>;
}

export class Book {
  readonly library: FunctionLibrary;
  readonly storage = new Storage();
  readonly nodes: (GraphNode | undefined)[] = [];
  readonly byKey = new Map<string, GraphNode>();
  readonly tables = new Map<string, TableData>();
  code: Int32Array = new Int32Array(4096);
  /** Start and end in the formula's text, for each instruction. */
  origins: Int32Array = new Int32Array(2048);
  codeUsed = 0;
  readonly sites: CallSite[] = [];
  /** Slots of literals with ± inside formulas. */
  readonly literals = new Map<number, { readonly key: string; readonly label: string; readonly u: number }>();
  /** The same slots by the place of the literal, which takes them again when its formula is written anew. */
  readonly literalSlots = new Map<string, number>();

  /** By rank. `slotAt` is -1 for what is not a one-slot formula cell. */
  nodeAt: Int32Array = new Int32Array(0);
  slotAt: Int32Array = new Int32Array(0);
  startAt: Int32Array = new Int32Array(0);
  endAt: Int32Array = new Int32Array(0);
  dependentStart: Int32Array = new Int32Array(1);
  dependents: Int32Array = new Int32Array(0);
  /** By id. */
  rankOf: Int32Array = new Int32Array(0);

  /** Nodes whose formula must be read and checked again. */
  readonly stale = new Set<number>();
  /** Sources whose value changed since the last recalculation. */
  readonly changedSources = new Set<number>();
  /** Nodes that must be worked out again whatever they read. */
  readonly mustRun = new Set<number>();
  /** Columns of which these rows must be, from and to. */
  readonly mustRunRows = new Map<number, readonly [number, number]>();
  /** Nodes whose formula asks for spreads. */
  readonly spreadReaders = new Set<number>();
  /** Names that stopped being defined since the last recalculation. */
  readonly removed = new Set<string>();
  /** Columns: rows that were typed since the last recalculation, from and to. */
  readonly changedRows = new Map<number, readonly [number, number]>();

  #cellScope: Scope | undefined;
  readonly #slotOwner = new Map<number, GraphNode>();
  /** Of nodes that were dropped. */
  readonly #freeIds: number[] = [];

  constructor(library: FunctionLibrary) {
    this.library = library;
  }

  node(id: number): GraphNode {
    const node = this.nodes[id];
    if (!node) throw new Error(`no node ${id}`);
    return node;
  }

  /** The node of a name, made as unknown when there is none: it waits for its definition. */
  intern(key: string): GraphNode {
    let node = this.byKey.get(key);
    if (!node) {
      const id = this.#freeIds.pop() ?? this.nodes.length;
      node = newNode(id, key);
      this.nodes[id] = node;
      this.byKey.set(key, node);
      this.stale.add(node.id);
    }
    return node;
  }

  drop(node: GraphNode): void {
    this.nodes[node.id] = undefined;
    this.#freeIds.push(node.id);
    this.#releaseSlots(node);
    this.byKey.delete(node.key);
    this.stale.delete(node.id);
    this.changedSources.delete(node.id);
    this.mustRun.delete(node.id);
    this.mustRunRows.delete(node.id);
    this.changedRows.delete(node.id);
  }

  /** Turns a defined node back into an unknown one, which its readers report. */
  forget(node: GraphNode): void {
    this.removed.add(node.key);
    Object.assign(node, {
      kind: 'unknown',
      formula: false,
      text: '',
      unit: '',
      references: [],
      rowReferences: NO_IDS,
      data: undefined,
      aggregate: undefined,
      keyedReads: NOT_KEYED,
      kernel: undefined,
      plusMinus: undefined,
      ownSpread: false,
      defers: false,
    } satisfies Partial<GraphNode>);
    delete node.table;
    this.stale.add(node.id);
  }

  /** Marks messages that name what there is, or what it resembles: they follow when other names come and go. */
  rereadMessages(): void {
    for (const node of this.nodes)
      if (node?.formula && node.status && 'invalid' in node.status && NAMING.has(node.status.invalid.code))
        this.stale.add(node.id);
  }

  /** Gives a node its slots, keeping those it has when the width is the same. */
  giveSlots(node: GraphNode, width: number): void {
    if (node.slot >= 0 && node.width === width) return;
    this.#releaseSlots(node);
    node.slot = this.storage.allocate(width);
    node.width = width;
    // Not blank, which a result may be: what comes first always differs from this.
    this.storage.states.fill(WAITING, node.slot, node.slot + width);
    for (let k = 0; k < width; k++) this.#slotOwner.set(node.slot + k, node);
  }

  /** Whoever read them is read and compiled again before anything runs: the node is gone, or has another type. */
  #releaseSlots(node: GraphNode): void {
    if (node.slot < 0) return;
    for (let k = 0; k < node.width; k++) this.#slotOwner.delete(node.slot + k);
    this.storage.release(node.slot, node.width);
    node.slot = -1;
  }

  ownerOf(slot: number): GraphNode | undefined {
    return this.#slotOwner.get(slot);
  }

  /** An empty tape with room for so many integers. */
  beginTape(size: number): void {
    this.code = new Int32Array(Math.max(4096, size));
    this.origins = new Int32Array(this.code.length / 2);
    this.codeUsed = 0;
  }

  append(code: ArrayLike<number>, origins: ArrayLike<number>): number {
    const at = this.codeUsed;
    const end = at + code.length;
    if (end > this.code.length) {
      const size = Math.max(end, this.code.length * 2);
      this.code = enlarged(this.code, size);
      this.origins = enlarged(this.origins, size / 2);
    }
    this.code.set(code, at);
    this.origins.set(origins, at / 2);
    this.codeUsed = end;
    return at;
  }

  /** What names mean in a cell, or in a row of a table. */
  scope(row?: TableData): Scope {
    return row ? this.#scope(row) : (this.#cellScope ??= this.#scope(undefined));
  }

  #scope(row: TableData | undefined): Scope {
    return {
      cell: (name) => {
        const node = this.byKey.get(name);
        return node?.kind === 'cell' ? named(node) : undefined;
      },
      table: (name) => {
        const table = this.tables.get(name);
        return table && tableScope(table);
      },
      row: row && tableScope(row),
      library: this.library,
      names: () => this.#names(row),
    };
  }

  /** Sorted, so that a suggestion does not depend on which cell was made first. */
  #names(row?: TableData): string[] {
    const names = row ? [...row.columns.keys()] : [];
    for (const node of this.byKey.values()) if (node.kind === 'cell' && !node.hidden) names.push(node.key);
    return [...names, ...this.tables.keys()].sort();
  }
}

function named(node: GraphNode): NamedNode {
  const { status } = node;
  const root = status && 'waitingFor' in status ? status.waitingFor : node.key;
  return { node: node.id, type: node.type, root };
}

function tableScope(table: TableData): TableScope {
  return {
    name: table.name,
    column: (name) => {
      const node = table.columns.get(name);
      return node && named(node);
    },
    columnNames: () => table.columns.keys(),
  };
}

function enlarged(from: Int32Array, size: number): Int32Array {
  const to = new Int32Array(size);
  to.set(from);
  return to;
}

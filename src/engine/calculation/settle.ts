/**
 * After definitions changed: reads and checks what is new, orders the graph, compiles. Everything whose formula and
 * whose precedents' types stayed the same keeps its code.
 */
import { parseUnit } from '../quantity/index.ts';
import { Compiler, type Program, type Slots } from '../formula/compile.ts';
import { diagnostic, isDiagnostic, type Diagnostic } from '../formula/diagnostic.ts';
import type { Expression } from '../formula/expression.ts';
import { infer, inferElements } from '../formula/infer.ts';
import { parse } from '../formula/parse.ts';
import { unitMismatch } from '../formula/mismatch.ts';
import { NUMBER, quantityType, READING, sameType, TEXT, width, type Type } from '../formula/type.ts';
import type { Typed } from '../formula/typed.ts';
import type { Book } from './book.ts';
import { compact } from './compact.ts';
import { order } from './graph.ts';
import { kernelOf } from './kernel.ts';
import { KernelRun } from './kernel-run.ts';
import { NOT_KEYED } from './key.ts';
import { keyedReads } from './keyed-reads.ts';
import { newField, NO_RANKS, type GraphNode, type Status } from './node.ts';
import { enterOverrides } from './override.ts';
import { resolve } from './resolve.ts';
import { DIVISOR } from './read.ts';
import { VALUE, WAITING } from './storage.ts';

export function settle(book: Book): void {
  book.rereadMessages();
  const parsed = new Map<number, Expression | Diagnostic>();
  for (const id of book.stale) {
    const node = book.nodes[id];
    if (!node || node.kind === 'aggregate') continue;
    node.references = [];
    if (!node.formula) continue;
    const expression = parse(node.text);
    parsed.set(id, expression);
    if (!isDiagnostic(expression)) resolve(book, node, expression);
  }
  const loops = arrange(book);
  check(book, parsed, loops);
  compact(book);
  index(book);
}

/** Orders the graph; hidden nodes that nobody reads any more are dropped first. */
function arrange(book: Book): Map<number, Loop> {
  dropUnread(book);
  const references = book.nodes.map((node) => node?.references);
  const { nodes, ranks, loops } = order(references, (id) => book.nodes[id]?.key ?? '');
  book.nodeAt = nodes;
  book.rankOf = ranks;
  const inLoop = new Map<number, Loop>();
  for (const ids of loops) ids.forEach((id, at) => inLoop.set(id, { ids, at }));
  return inLoop;
}

/** A circle of cells, and the place in it of the one that is asked about. */
interface Loop {
  readonly ids: readonly number[];
  readonly at: number;
}

function dropUnread(book: Book): void {
  for (;;) {
    const candidates = book.nodes.filter((node) => node && (node.hidden || node.kind === 'unknown'));
    if (candidates.length === 0) return;
    const read = new Uint8Array(book.nodes.length);
    for (const node of book.nodes) if (node) for (const id of node.references) read[id] = 1;
    const unread = candidates.filter((node) => node && read[node.id] === 0);
    if (unread.length === 0) return;
    for (const node of unread) if (node) book.drop(node);
  }
}

function check(
  book: Book,
  parsed: ReadonlyMap<number, Expression | Diagnostic>,
  loops: ReadonlyMap<number, Loop>,
): void {
  const retyped = new Set<number>();
  for (const id of book.nodeAt) {
    const node = book.node(id);
    const loop = loops.get(id);
    const wasLoop =
      node.status !== undefined && 'invalid' in node.status && node.status.invalid.code === 'loop';
    if (!loop && !wasLoop && !book.stale.has(id) && !node.references.some((from) => retyped.has(from)))
      continue;
    book.mustRun.add(id);
    if (!node.formula && (node.kind === 'cell' || node.kind === 'column')) {
      // What was typed got its type, or the reason against it, when it was defined.
      if (node.type === undefined) clear(book, node);
      tell(node);
      retyped.add(id);
      continue;
    }
    node.status = undefined;
    if (loop) refuse(node, loopMessage(book, node, loop));
    else if (node.kind === 'aggregate') checkAggregate(book, node);
    else if (node.formula) checkFormula(book, node, parsed.get(id) ?? parse(node.text));
    else if (node.kind === 'unknown') node.type = undefined;
    if (node.type === undefined) clear(book, node);
    if (tell(node)) {
      retyped.add(id);
      // Its state is another even where the number stays.
      book.changedSources.add(id);
    } else if (node.hidden && node.type === undefined) retyped.add(id); // Its readers say what is wrong in it.
  }
  // Readers of a name that is still unknown must say so, also when it was unknown before.
  book.stale.clear();
}

/** Takes note of what readers see of a node; true: that is another than they saw before. */
function tell(node: GraphNode): boolean {
  const before = node.told;
  const state = stateOf(node.status);
  node.told = { type: node.type, state };
  return !before || !sameOrNone(before.type, node.type) || before.state !== state;
}

/** What the readers of a node see of its status: sound, wrong, or waiting for a certain other. */
function stateOf(status: Status | undefined): string {
  if (status === undefined) return 'sound';
  return 'waitingFor' in status ? `waiting for ${status.waitingFor}` : 'wrong';
}

function sameOrNone(a: Type | undefined, b: Type | undefined): boolean {
  return a === b || (a !== undefined && b !== undefined && sameType(a, b));
}

function refuse(node: GraphNode, why: Diagnostic): void {
  node.status = { invalid: why };
  node.type = undefined;
}

/** So many cells of a circle are named; of a longer one its beginning, and how many more there are. */
const NAMED_IN_LOOP = 12;

function loopMessage(book: Book, node: GraphNode, { ids, at }: Loop): Diagnostic {
  const names: string[] = [];
  let k = 0;
  for (; k < ids.length && names.length < NAMED_IN_LOOP; k++) {
    const other = book.node(ids[(at + k) % ids.length]!);
    if (!other.hidden) names.push(other.key);
  }
  const more = ids.length - k;
  const chain = [...names, ...(more > 0 ? [`… ${more} more …`] : []), names[0] ?? node.key].join(' → ');
  return diagnostic('loop', { start: 0, end: node.text.length }, 'this cell depends on itself', {
    found: chain,
    suggestion:
      names.length > 1
        ? `break the circle in one of: ${names.join(', ')}${more > 0 ? ' …' : ''}`
        : 'use another name',
  });
}

/** A node without a type holds nothing: its slots say so to whoever reads them. */
function clear(book: Book, node: GraphNode): void {
  node.kernel = undefined;
  node.keyedReads = NOT_KEYED;
  node.codeEnd = node.codeStart;
  node.siteEnd = node.siteStart;
  if (node.kind === 'column') return;
  book.giveSlots(node, Math.max(1, node.width));
  for (let k = 0; k < node.width; k++) {
    book.storage.values[node.slot + k] = NaN;
    book.storage.states[node.slot + k] = WAITING;
  }
}

function checkAggregate(book: Book, node: GraphNode): void {
  const data = node.aggregate;
  const column = data && book.byKey.get(data.column);
  node.type = undefined;
  if (!data || column?.type === undefined) return;
  let type: Type = column.type;
  if (data.field !== undefined) {
    const names = type.kind === 'record' ? [...type.fields.keys()] : [];
    data.offset = names.indexOf(data.field);
    const field = type.kind === 'record' ? type.fields.get(data.field) : undefined;
    if (!field) return;
    type = field;
  }
  node.type = data.name === 'count' ? NUMBER : type;
  book.giveSlots(node, 1);
}

function checkFormula(book: Book, node: GraphNode, expression: Expression | Diagnostic): void {
  if (isDiagnostic(expression)) {
    refuse(node, expression);
    return;
  }
  const row = node.table === undefined ? undefined : book.tables.get(node.table);
  const typed =
    node.hidden && row
      ? inferElements(expression, node.text, book.scope(), row.name)
      : infer(expression, node.text, book.scope(row));
  if (isDiagnostic(typed)) {
    refuse(node, typed);
    return;
  }
  if ('waitingFor' in typed) {
    node.status = typed satisfies Status;
    node.type = undefined;
    return;
  }
  const wrong = declared(node, typed);
  if (wrong) {
    refuse(node, wrong);
    return;
  }
  node.type = typed.type;
  compile(book, node, typed);
}

/** The unit on a formula is an assertion. A bare number typed into a cell with a unit is in that unit already. */
function declared(node: GraphNode, typed: Typed): Diagnostic | undefined {
  if (node.entryType !== 'number') return undefined;
  if (node.unit === '') return undefined;
  const unit = parseUnit(node.unit);
  const whole = { start: 0, end: node.text.length };
  if ('problem' in unit)
    return diagnostic('unit', whole, unit.problem, {
      ...(unit.suggestion === undefined ? {} : { suggestion: unit.suggestion }),
    });
  const wanted = unit.reading ? READING : quantityType(unit.dimension);
  return typed.type === wanted ? undefined : unitMismatch(node.text, typed.type, wanted, node.unit);
}

/** Where a formula finds and keeps its values. */
class NodeSlots implements Slots {
  readonly #book: Book;
  readonly #node: GraphNode;
  readonly temporaries: number;

  constructor(book: Book, node: GraphNode) {
    this.#book = book;
    this.#node = node;
    this.temporaries = book.storage.temporaries;
  }

  ofNode(id: number): number {
    return this.#book.node(id).slot;
  }

  constant(value: number): number {
    return this.#book.storage.constant(value);
  }

  text(value: string): number {
    const { storage } = this.#book;
    return storage.constant(storage.textNumber(value));
  }

  uncertain(value: number, plusMinus: number, at: number): number {
    const { storage, literals, literalSlots } = this.#book;
    const node = this.#node;
    const key = `${node.key} at ${at}`;
    const slot = literalSlots.get(key) ?? storage.allocate(1);
    literalSlots.set(key, slot);
    storage.values[slot] = value;
    storage.states[slot] = VALUE;
    node.ownSpread = true;
    literals.set(slot, { key, label: `a number in ${node.key}`, u: plusMinus / DIVISOR[node.meaning] });
    return slot;
  }

  aggregate(key: string): number | undefined {
    return this.#book.byKey.get(key)?.id;
  }
}

function compile(book: Book, node: GraphNode, typed: Typed): void {
  node.siteStart = book.sites.length;
  node.ownSpread = false;
  const compiler = new Compiler(new NodeSlots(book, node), node.text, book.sites);
  let program: Program;
  if (node.kind === 'column') {
    program = node.hidden ? compiler.column(typed) : compiler.program(typed);
    node.rowResult = program.result;
    node.width = program.width;
    node.inputs = program.inputs;
    const kernel = program.width === 1 ? kernelOf(program.code, program.inputs, program.result) : undefined;
    node.kernel = kernel && { run: new KernelRun(kernel), prelude: kernel.prelude };
    fitFields(node, program.width);
    enterOverrides(book, node);
  } else {
    book.giveSlots(node, width(typed.type));
    program = compiler.program(typed, node.slot);
  }
  node.readsSpreads = compiler.readsSpreads;
  node.siteEnd = book.sites.length;
  node.keyedReads = keyedReads(book, node);
  node.defers = false;
  for (let k = node.siteStart; k < node.siteEnd; k++) {
    const site = book.sites[k]!;
    if (site.kind !== 'library') continue;
    if (site.definition.scatter) node.ownSpread = true;
    if (site.definition.deferred) node.defers = true;
  }
  node.codeStart = book.append(program.code, program.origins);
  node.codeEnd = book.codeUsed;
}

function fitFields(node: GraphNode, wide: number): void {
  const data = node.data;
  if (!data) return;
  while (data.fields.length < wide) data.fields.push(newField(data.rows));
  data.fields.length = wide;
}

/** The arrays that the sweep reads, by rank. */
function index(book: Book): void {
  const count = book.nodeAt.length;
  book.slotAt = new Int32Array(count).fill(-1);
  book.startAt = new Int32Array(count);
  book.endAt = new Int32Array(count);
  book.spreadReaders.clear();
  const start = new Int32Array(count + 1);
  const rows = new Map<number, number[]>();
  for (let rank = 0; rank < count; rank++) {
    const node = book.node(book.nodeAt[rank]!);
    if (node.kind === 'cell' && node.formula && node.type && node.width === 1) book.slotAt[rank] = node.slot;
    if (node.readsSpreads) book.spreadReaders.add(node.id);
    book.startAt[rank] = node.codeStart;
    book.endAt[rank] = node.codeEnd;
    node.rowDependents = NO_RANKS;
    const { references, rowReferences } = node;
    for (let k = 0; k < references.length; k++) {
      const from = references[k]!;
      if (!rowReferences.has(from)) {
        start[book.rankOf[from]! + 1]!++;
        continue;
      }
      const list = rows.get(from);
      if (list) list.push(rank);
      else rows.set(from, [rank]);
    }
  }
  for (const [id, ranks] of rows) book.node(id).rowDependents = Int32Array.from(ranks);
  for (let rank = 0; rank < count; rank++) start[rank + 1]! += start[rank]!;
  const fill = start.slice();
  const dependents = new Int32Array(start[count]!);
  for (let rank = 0; rank < count; rank++) {
    const { references, rowReferences } = book.node(book.nodeAt[rank]!);
    for (let k = 0; k < references.length; k++) {
      const from = references[k]!;
      if (!rowReferences.has(from)) dependents[fill[book.rankOf[from]!]!++] = rank;
    }
  }
  book.dependentStart = start;
  book.dependents = dependents;
}

/** The type of a typed value: from its unit, or a plain number; text for text and choices. */
export function entryTypeOf(node: GraphNode): Type | Diagnostic {
  if (node.entryType !== 'number') return TEXT;
  const unit = parseUnit(node.unit);
  if ('problem' in unit) return diagnostic('unit', { start: 0, end: node.text.length }, unit.problem);
  return unit.reading ? READING : quantityType(unit.dimension);
}

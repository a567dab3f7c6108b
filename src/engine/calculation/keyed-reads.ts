/**
 * What a formula reads of a column as a whole but under a key: `lookup(tests.fit, tests.test, test)`, or
 * `where(readings.flow, readings.test == test and …)`. A row whose key is another counts for nothing there, whatever
 * else it holds (rule F2), so an edit of some rows reaches only readers with the key of one of them.
 */
import type { CallSite, RowInput, VectorProgram } from '../formula/compile.ts';
import { OP } from '../formula/tape.ts';
import type { Book } from './book.ts';
import { NOT_KEYED, type Key, type KeyedReads, type Place } from './key.ts';
import type { ColumnField, GraphNode } from './node.ts';
import { VALUE } from './storage.ts';

/** More rows than this are not looked at one by one. */
const MANY_ROWS = 256;

/** Columns that all call sites of a formula read under one key, by id. */
export function keyedReads(book: Book, node: GraphNode): KeyedReads {
  if (node.siteEnd === node.siteStart) return NOT_KEYED;
  const reads = new Map<number, Key | undefined>();
  /** A key is itself read in every row; and what is also read of the row at hand follows that row. */
  const whole = new Set(node.inputs.map((input) => input.node));
  const read = (column: number, key: Key | undefined): void => {
    const known = reads.get(column);
    reads.set(column, reads.has(column) && !(key && known && sameKey(key, known)) ? undefined : key);
  };
  for (let k = node.siteStart; k < node.siteEnd; k++) {
    const site = book.sites[k]!;
    if (site.kind === 'lookup') {
      const key = keyOf({ node: site.keyNode, offset: site.keyOffset }, site.key, node, book);
      whole.add(site.keyNode);
      read(site.resultNode, key);
      continue;
    }
    for (const vector of vectorsOf(site)) {
      const key = conditionKey(vector, node, book);
      if (key) whole.add(key.column.node);
      for (const input of vector.inputs) read(input.node, key);
    }
  }
  const keyed = new Map<number, Key>();
  for (const [column, key] of reads) if (key && !whole.has(column)) keyed.set(column, key);
  return keyed.size > 0 ? keyed : NOT_KEYED;
}

/** Which rows of a reader rows `from` up to `to` of a column may concern that it reads as a whole, or under a key. */
export function rowsConcerned(
  book: Book,
  reader: GraphNode,
  column: number,
  from: number,
  to: number,
): readonly [from: number, to: number] | 'all' | 'none' {
  const key = reader.keyedReads.get(column);
  const keys = key && fieldAt(book, key.column);
  if (!keys || to <= from || to - from > MANY_ROWS) return 'all';
  const wanted = new Set<number>();
  for (let row = from; row < to; row++) {
    if (keys.states[row] !== VALUE) return 'all';
    wanted.add(keys.values[row]!);
  }
  if ('slot' in key.own) {
    const { values, states } = book.storage;
    return states[key.own.slot] !== VALUE || wanted.has(values[key.own.slot]!) ? 'all' : 'none';
  }
  const own = fieldAt(book, key.own);
  const rows = reader.data?.rows;
  if (!own || rows === undefined) return 'all';
  let low = rows;
  let high = 0;
  for (let row = 0; row < rows; row++)
    if (own.states[row] !== VALUE || wanted.has(own.values[row]!)) {
      if (row < low) low = row;
      high = row + 1;
    }
  return high > low ? [low, high] : 'none';
}

function fieldAt(book: Book, { node, offset }: Place): ColumnField | undefined {
  return book.nodes[node]?.data?.fields[offset];
}

function vectorsOf(site: CallSite): VectorProgram[] {
  if (site.kind === 'aggregate') return [site.vector];
  if (site.kind !== 'library') return [];
  return site.arguments.flatMap((given) => (given.kind === 'column' ? [given.vector] : []));
}

/** The key of `where(…, column == own)`, also as one of several conditions of which all must hold. */
function conditionKey({ code, inputs, result }: VectorProgram, node: GraphNode, book: Book): Key | undefined {
  const end = code.length;
  if (end === 0 || code[end - 4] !== OP.where || code[end - 3] !== result) return undefined;
  const writtenAt = new Map<number, number>();
  for (let pc = 0; pc < end; pc += 4) {
    // What stands in a branch may not be worked out.
    if (code[pc] === OP.jump || code[pc] === OP.jumpIfNot) return undefined;
    writtenAt.set(code[pc + 1]!, pc);
  }
  const conditions = [code[end - 1]!];
  for (let slot = conditions.pop(); slot !== undefined; slot = conditions.pop()) {
    const pc = writtenAt.get(slot);
    if (pc === undefined) continue;
    const a = code[pc + 2]!;
    const b = code[pc + 3]!;
    if (code[pc] === OP.and) conditions.push(b, a);
    if (code[pc] !== OP.equal) continue;
    const key = keyAt(inputs, a, b, node, book) ?? keyAt(inputs, b, a, node, book);
    if (key) return key;
  }
  return undefined;
}

function keyAt(
  inputs: readonly RowInput[],
  element: number,
  own: number,
  node: GraphNode,
  book: Book,
): Key | undefined {
  const column = inputs.find((input) => input.slot === element);
  return column && keyOf(column, own, node, book);
}

function keyOf({ node, offset }: Place, slot: number, reader: GraphNode, book: Book): Key | undefined {
  const own = reader.inputs.find((input) => input.slot === slot);
  if (own) return { column: { node, offset }, own: { node: own.node, offset: own.offset } };
  return book.storage.isTemporary(slot) ? undefined : { column: { node, offset }, own: { slot } };
}

function sameKey(a: Key, b: Key): boolean {
  return samePlace(a.column, b.column) && sameOwn(a.own, b.own);
}

function sameOwn(a: Key['own'], b: Key['own']): boolean {
  return 'slot' in a ? 'slot' in b && a.slot === b.slot : !('slot' in b) && samePlace(a, b);
}

function samePlace(a: Place, b: Place): boolean {
  return a.node === b.node && a.offset === b.offset;
}

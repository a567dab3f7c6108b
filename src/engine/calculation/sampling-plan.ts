/**
 * What has to be worked out again where sources take other values, in a sampled run or a trial: the cells and single
 * rows that the targets rest on and that such a source reaches, in order of calculation. Rows that a filter leaves
 * out now stay out.
 */
import { OP } from '../formula/tape.ts';
import type { VectorProgram } from '../formula/compile.ts';
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import { columnGroups } from './arguments.ts';
import type { Sites } from './sites.ts';

export interface Step {
  readonly rank: number;
  /** Rows of a column; none for a cell or an aggregate. */
  readonly rows: readonly number[];
  /** Of these the ones that only the careful run gets through. */
  readonly odd: Uint8Array;
}

/** A cell (row -1) or one row of a column. */
export interface Place {
  readonly node: GraphNode;
  readonly row: number;
}

interface Plan {
  readonly steps: readonly Step[];
  /** All that the targets rest on, and they themselves. */
  readonly places: readonly Place[];
}

/** `stays` tells what keeps its value whatever it rests on. */
export function planOf(
  book: Book,
  sites: Sites,
  targets: readonly Place[],
  isDrawn: (node: GraphNode) => boolean,
  stays: (node: GraphNode) => boolean = () => false,
): Plan {
  const reads = new Map<string, readonly string[]>();
  const places = new Map<string, Place>();
  const open = [...targets];
  for (let place = open.pop(); place; place = open.pop()) {
    const key = keyOf(place);
    if (places.has(key)) continue;
    places.set(key, place);
    const from = stays(place.node) ? [] : readsOf(book, sites, place);
    reads.set(key, from.map(keyOf));
    for (const next of from) open.push(next);
  }
  const sorted = [...places.values()].sort((a, b) => book.rankOf[a.node.id]! - book.rankOf[b.node.id]!);
  const reached = new Set<string>();
  const rows = new Map<number, number[]>();
  for (const place of sorted) {
    const key = keyOf(place);
    const { node } = place;
    const moves =
      isDrawn(node) || scatters(book, node) || (reads.get(key) ?? []).some((from) => reached.has(from));
    if (!moves || stays(node)) continue;
    reached.add(key);
    if (!node.formula && node.kind !== 'aggregate') continue;
    const rank = book.rankOf[node.id]!;
    if (place.row < 0) rows.set(rank, []);
    else {
      const list = rows.get(rank);
      if (list) list.push(place.row);
      else rows.set(rank, [place.row]);
    }
  }
  const steps = [...rows]
    .sort((a, b) => a[0] - b[0])
    .map(([rank, list]) => ({ rank, rows: list, odd: new Uint8Array(list.length) }));
  return { steps, places: sorted };
}

function keyOf(place: Place): string {
  return `${place.node.id} ${place.row}`;
}

function scatters(book: Book, node: GraphNode): boolean {
  for (const index of callsOf(book, node)) {
    const site = book.sites[index];
    if (site?.kind === 'library' && site.definition.scatter) return true;
  }
  return false;
}

function callsOf(book: Book, node: GraphNode): number[] {
  const found: number[] = [];
  for (let pc = node.codeStart; pc < node.codeEnd; pc += 4)
    if (book.code[pc] === OP.call) found.push(book.code[pc + 2]!);
  return found;
}

function readsOf(book: Book, sites: Sites, place: Place): Place[] {
  const { node, row } = place;
  const found: Place[] = [];
  if (node.kind === 'aggregate') {
    const column = node.aggregate && book.byKey.get(node.aggregate.column);
    for (let r = 0; r < (column?.data?.rows ?? 0); r++) found.push({ node: column!, row: r });
    return found;
  }
  if (!node.formula || node.type === undefined) return found;
  for (const id of node.references) {
    const from = book.nodes[id];
    if (from && from.kind !== 'column') found.push({ node: from, row: -1 });
  }
  for (const input of node.inputs) found.push({ node: book.node(input.node), row });
  if (row >= 0) sites.enterRow(node.inputs, row);
  // The run fills in what the calls are asked with. It is the fast one, which does not get through every formula.
  const { values } = book.storage;
  const kept = row < 0 ? values.slice(node.slot, node.slot + node.width) : undefined;
  sites.runForward(node);
  for (const index of callsOf(book, node)) {
    const site = book.sites[index];
    if (site?.kind === 'lookup') {
      const at = sites.rowOf(site);
      if (at !== undefined) found.push({ node: book.node(site.resultNode), row: at });
    } else if (site?.kind === 'library')
      for (const group of columnGroups(site))
        addElements(
          book,
          sites,
          group.map((each) => each.vector),
          found,
        );
    else if (site?.kind === 'aggregate') addElements(book, sites, [site.vector], found);
  }
  if (kept) values.set(kept, node.slot);
  return found;
}

/** The rows of column arguments that go into a call together. */
function addElements(book: Book, sites: Sites, vectors: readonly VectorProgram[], found: Place[]): void {
  const gathered = sites.gather(vectors);
  if ('state' in gathered) return;
  for (const vector of vectors)
    for (const input of vector.inputs) {
      const node = book.node(input.node);
      for (const row of gathered.rows) found.push({ node, row });
    }
}

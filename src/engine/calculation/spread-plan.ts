/** How a route of uncertainties (spread-route.ts) lies in memory: values, rows of contributions, records of formulas. */
import {
  contributionCode,
  FREE,
  MOST_TERMS,
  recordOf,
  SLOPES,
  UNREAD,
  type ContributionCode,
} from '../formula/contribution-code.ts';
import { Shapes } from '../formula/shape.ts';
import { readBy } from '../formula/slope-code.ts';
import type { Book } from './book.ts';
import { COUNT, HEAD, LEAF, type Leaves, OWNER, SLOT } from './leaves.ts';
import type { GraphNode } from './node.ts';
import type { Spread } from './sources.ts';
import { ROUNDING } from './weighted-sum.ts';

/** At most so many contributions. */
const MOST_PARTS = 1 << 20;
/** At most so many places for each contribution that is one: every row has a place for every source. */
const MOST_EMPTY = 8;
export const DOUBLE = 8;
const WORD = 4;
export const NO_ROW = -1;

/** What a node is to the route. */
const PLAIN = 1;
/** Found otherwise, without any plain formula of the route. */
const OUTSIDE = 2;
/** Found otherwise, and may rest on plain formulas of the route. */
const BEHIND = 3;

export interface SpreadPlan {
  /** By row: formulas in order of calculation, and then what they rest on that stands outside. */
  readonly ids: readonly number[];
  /** How many of these are formulas. */
  readonly formulas: number;
  /** By node id; -1 for none. */
  readonly rowOf: Int32Array;
  /** By source. */
  readonly columnOf: ReadonlyMap<number, number>;
  /** Contributions of a row. */
  readonly width: number;
  /** Slots that the formulas read, in the order of the values in memory. */
  readonly slots: readonly number[];
  /** Address of the first row; behind the last one there is room for one more. */
  readonly firstRow: number;
  /** Addresses of the formulas' records, and of what follows them. */
  readonly records: Int32Array;
  readonly code: ContributionCode;
}

/**
 * Through these nodes, whose spreads are known, in order of calculation. Undefined where fewer than `least` are
 * plain, few of the sources reach each, or machine code cannot be made.
 */
export function spreadPlan(
  book: Book,
  leaves: Leaves,
  known: readonly number[],
  spreadOf: (node: GraphNode) => Spread,
  least: number,
): SpreadPlan | undefined {
  const shapes = new Shapes();
  const { formulas, shapeOf, outside } = sorted(book, leaves, known, shapes);
  if (formulas.length < least) return undefined;
  const ids = [...formulas, ...outside];
  const rowOf = new Int32Array(book.nodes.length).fill(NO_ROW);
  ids.forEach((id, row) => (rowOf[id] = row));
  const sourcesOf = (id: number): Int32Array => spreadOf(book.node(id)).set.ids;
  // Ascending, as in a set of sources, so that they are added up in the same order.
  const sources = [...new Set(outside.flatMap((id) => [...sourcesOf(id)]))].sort((a, b) => a - b);
  const width = 2 * Math.ceil(sources.length / 2);
  const parts = formulas.reduce((sum, id) => sum + sourcesOf(id).length, 0);
  if (width === 0 || ids.length * width > Math.min(MOST_PARTS, MOST_EMPTY * parts)) return undefined;

  const places = Array.from({ length: shapes.count }, (_, shape) => readBy(shapes.steps(shape)));
  const slotsOf = (id: number): number[] => {
    const { codeStart } = book.node(id);
    return places[shapeOf[id]!]!.map((place) => book.code[codeStart + place]!);
  };
  const slots = [...new Set(formulas.flatMap(slotsOf))];
  const valueAt = new Map(slots.map((slot, k) => [slot, FREE + k * DOUBLE]));
  const firstRow = FREE + 2 * DOUBLE * Math.ceil(slots.length / 2);
  const rowAt = (row: number): number => firstRow + row * width * DOUBLE;
  const firstRecord = rowAt(ids.length + 1);
  const words: number[] = [];
  const records = new Int32Array(formulas.length + 1);
  formulas.forEach((id, row) => {
    records[row] = firstRecord + words.length * WORD;
    const read = readings(leaves, id);
    const operands = slotsOf(id).map((slot) => {
      const term = read.findIndex((reading) => reading.slot === slot);
      return { value: valueAt.get(slot)!, slope: term < 0 ? UNREAD : SLOPES + term * DOUBLE };
    });
    const terms = read.map(({ owner }) => rowAt(rowOf[owner]!));
    words.push(...recordOf(shapeOf[id]!, records[row], rowAt(row), terms, operands));
  });
  const end = firstRecord + words.length * WORD;
  records[formulas.length] = end;
  const code = contributionCode(shapes, end, ROUNDING);
  if (!code) return undefined;
  new Int32Array(code.memory).set(words, firstRecord / WORD);
  const columnOf = new Map(sources.map((source, column) => [source, column]));
  return { ids, formulas: formulas.length, rowOf, columnOf, width, slots, firstRow, records, code };
}

/** What a plain formula reads that may be uncertain. */
function readings(leaves: Leaves, id: number): { readonly slot: number; readonly owner: number }[] {
  const at = leaves.of(id);
  const { table } = leaves;
  return Array.from({ length: table[at + COUNT]! }, (_, k) => {
    const leaf = at + HEAD + LEAF * k;
    return { slot: table[leaf + SLOT]!, owner: table[leaf + OWNER]! };
  }).filter(({ owner }) => owner >= 0);
}

/** Tells plain formulas from what else they rest on. */
function sorted(
  book: Book,
  leaves: Leaves,
  known: readonly number[],
  shapes: Shapes,
): { formulas: number[]; shapeOf: Int32Array; outside: number[] } {
  const roles = new Uint8Array(book.nodes.length);
  const shapeOf = new Int32Array(book.nodes.length);
  const formulas: number[] = [];
  const outside = new Set<number>();
  for (const id of known) {
    const node = book.node(id);
    if (leaves.of(id) < 0) {
      const behind = node.references.some((from) => roles[from] === PLAIN || roles[from] === BEHIND);
      roles[id] = behind ? BEHIND : OUTSIDE;
      continue;
    }
    const read = readings(leaves, id);
    const shape = shapes.of(book.code, node.codeStart, node.codeEnd);
    const fits = read.every(({ owner }) => roles[owner] === PLAIN || roles[owner] === OUTSIDE);
    if (!fits || shape < 0 || read.length > MOST_TERMS) {
      roles[id] = BEHIND;
      continue;
    }
    roles[id] = PLAIN;
    shapeOf[id] = shape;
    formulas.push(id);
    for (const { owner } of read) if (roles[owner] === OUTSIDE) outside.add(owner);
  }
  return { formulas, shapeOf, outside: [...outside] };
}

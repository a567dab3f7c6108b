/**
 * The order of calculation: Kahn's algorithm with a stack in place of a queue, so that a chain of cells lies
 * together in rank order. No recursion; loops are named in order and taken out, so that the rest still runs.
 */

/** References of each node, as ids; `undefined` for ids that are not in use. */
export type References = readonly (readonly number[] | undefined)[];

const NONE: readonly number[] = [];

export interface Order {
  /** Node ids by rank. */
  readonly nodes: Int32Array;
  /** Rank by node id, -1 where not in use. */
  readonly ranks: Int32Array;
  /** Each loop as ids in reading order: the first reads the second, the last reads the first. */
  readonly loops: readonly (readonly number[])[];
}

export function order(references: References, keyOf: (id: number) => string): Order {
  const size = references.length;
  const open = new Int32Array(size);
  const starts = new Int32Array(size + 1);
  let count = 0;
  for (let id = 0; id < size; id++) {
    const list = references[id];
    if (!list) continue;
    count++;
    open[id] = list.length;
    for (let k = 0; k < list.length; k++) starts[list[k]! + 1]!++;
  }
  for (let id = 0; id < size; id++) starts[id + 1]! += starts[id]!;
  const fill = starts.slice();
  const dependents = new Int32Array(starts[size]!);
  for (let id = 0; id < size; id++) {
    const list = references[id] ?? NONE;
    for (let k = 0; k < list.length; k++) dependents[fill[list[k]!]!++] = id;
  }

  const nodes = new Int32Array(count);
  const ranks = new Int32Array(size).fill(-1);
  const stack = new Int32Array(count);
  let top = 0;
  for (let id = size - 1; id >= 0; id--) if (references[id] && open[id] === 0) stack[top++] = id;
  let rank = 0;
  const loops: number[][] = [];
  /** Where loops are looked for, in the order of names: which loop is named must not depend on who came first. */
  let unordered: number[] | undefined;
  let search = 0;
  while (rank < count) {
    while (top > 0) {
      const id = stack[--top]!;
      if (ranks[id]! >= 0) continue;
      ranks[id] = rank;
      nodes[rank++] = id;
      for (let k = starts[id + 1]! - 1; k >= starts[id]!; k--) {
        const next = dependents[k]!;
        const left = open[next]! - 1;
        open[next] = left;
        if (left === 0) stack[top++] = next;
      }
    }
    if (rank === count) break;
    unordered ??= byKey(references, ranks, keyOf);
    while (ranks[unordered[search]!]! >= 0) search++;
    const loop = findLoop(references, ranks, unordered[search]!);
    loops.push(loop);
    for (const id of loop) {
      open[id] = 0;
      stack[top++] = id;
    }
  }
  return { nodes, ranks, loops };
}

function byKey(references: References, ranks: Int32Array, keyOf: (id: number) => string): number[] {
  const ids = references.map((_, id) => id).filter((id) => references[id] && ranks[id]! < 0);
  return ids.sort((a, b) => (keyOf(a) < keyOf(b) ? -1 : 1));
}

/** Walks from an unordered node through unordered precedents until one comes round again. */
function findLoop(references: References, ranks: Int32Array, from: number): number[] {
  const seen = new Map<number, number>();
  const path: number[] = [];
  let at = from;
  for (;;) {
    const place = seen.get(at);
    if (place !== undefined) return path.slice(place);
    seen.set(at, path.length);
    path.push(at);
    const next = references[at]?.find((id) => ranks[id]! < 0);
    if (next === undefined) throw new Error('an unordered node reads only ordered ones');
    at = next;
  }
}

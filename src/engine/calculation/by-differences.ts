/** Which functions on the way to a result have sensitivities that were found by differences, and where they are called. */
import { contributing } from './aggregate.ts';
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import type { Spread } from './sources.ts';
import type { Demand, Sensitivities } from './tape-spread.ts';

export interface ByDifferences {
  /** Name of the function. */
  readonly function: string;
  /** Name of the cell, or `table.column`, whose formula calls it. */
  readonly name: string;
  /** Row of the column, as stored. */
  readonly row?: number;
}

type Place = Omit<Demand, 'sensitivity'>;

/** Walks back along what is marked as approximate; nothing else is looked at. */
export function byDifferences(
  book: Book,
  from: Place,
  spreadOf: (place: Place) => Spread,
  directly: (node: GraphNode, row: number, slot: number) => Sensitivities,
): ByDifferences[] {
  const found = new Map<string, ByDifferences>();
  const seen = new Set<string>();
  /** What a person wrote stands in the nearest node with a name: an aggregate that formulas share has none. */
  const open: { readonly place: Place; readonly reader: Place }[] = [{ place: from, reader: from }];
  for (let next = open.pop(); next; next = open.pop()) {
    const { node, row, offset } = next.place;
    const reader = node.hidden ? next.reader : next.place;
    const key = `${node.id} ${row} ${offset} ${reader.node.id} ${reader.row}`;
    if (seen.has(key) || !spreadOf(next.place).approximate) continue;
    seen.add(key);
    if (node.kind === 'aggregate') {
      const column = book.byKey.get(node.aggregate!.column)!;
      const { rows } = contributing(node.aggregate!, column.data!, book.storage.values[node.slot]!);
      for (const each of rows)
        open.push({ place: { node: column, row: each, offset: node.aggregate!.offset }, reader });
      continue;
    }
    const here = directly(node, row, (row < 0 ? node.slot : node.rowResult) + offset);
    for (const name of here.byDifferences)
      found.set(`${name} ${reader.node.id} ${reader.row}`, {
        function: name,
        name: reader.node.key,
        ...(reader.row < 0 ? {} : { row: reader.row }),
      });
    for (const place of here.demands) open.push({ place, reader });
  }
  return [...found.values()].sort(
    (a, b) => compare(a.function, b.function) || compare(a.name, b.name) || (a.row ?? -1) - (b.row ?? -1),
  );
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

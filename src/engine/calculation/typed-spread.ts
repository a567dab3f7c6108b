/** Spreads of typed values: their own ±, that of every row of a column, and the error that all rows share. */
import type { Book } from './book.ts';
import type { GraphNode } from './node.ts';
import { DIVISOR } from './read.ts';
import { CERTAIN, Spread, type Sources } from './sources.ts';

export function typedCell(sources: Sources, node: GraphNode): Spread {
  if (node.plusMinus === undefined || node.plusMinus === 0) return CERTAIN;
  const u = node.plusMinus / DIVISOR[node.meaning];
  const source = sources.intern(node.key, 'typed', node.key, u);
  return new Spread(sources.sets.single(source.id), Float64Array.of(u));
}

export function typedRow(sources: Sources, node: GraphNode, row: number): Spread {
  const data = node.data!;
  const half = data.plusMinus.get(row);
  const own = half === undefined ? 0 : half / DIVISOR[node.meaning];
  const ids: number[] = [];
  const parts: number[] = [];
  const value = data.fields[0]!.values[row]!;
  const each = own > 0 ? own : sizeOf(node.each, value);
  if (each > 0) {
    const label = `${node.key}, row ${row + 1}`;
    ids.push(sources.intern(label, 'typed', label, each).id);
    parts.push(each);
  }
  if (node.shared) {
    // One error for all rows: its size in this row is what a standard deviate of it does here.
    const size = sizeOf(node.shared, value);
    const key = `${node.key}, all rows`;
    ids.push(sources.intern(key, 'shared', key, node.shared.size).id);
    parts.push(node.shared.relative && value < 0 ? -size : size);
  }
  if (ids.length === 0) return CERTAIN;
  if (ids.length === 2 && ids[0]! > ids[1]!) {
    ids.reverse();
    parts.reverse();
  }
  return new Spread(sources.sets.of(Int32Array.from(ids)), Float64Array.from(parts));
}

/** The numbers with ± inside a formula; one of a column has them for all of its rows. */
export function literalsOf(
  { literals }: Book,
  node: GraphNode,
): { readonly slot: number; readonly key: string; readonly label: string; readonly u: number }[] {
  if (literals.size === 0 || !node.formula || !node.ownSpread) return [];
  return [...literals]
    .filter(([, { key }]) => key.startsWith(`${node.key} at `))
    .map(([slot, literal]) => ({ slot, ...literal }));
}

function sizeOf(
  spread: { readonly size: number; readonly relative: boolean } | undefined,
  value: number,
): number {
  if (!spread) return 0;
  return spread.relative ? spread.size * Math.abs(value) : spread.size;
}

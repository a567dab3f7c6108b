/** Which words of a column are the same thing by another name, when rows of its table are typed anew. */
import { parseUnit, readEntry } from '../engine/index.ts';
import type { Column, Row, Table } from './document.ts';

export interface RowChange {
  readonly before: Row['entries'];
  readonly after: Row['entries'];
  /** Another row that comes in its place: it is known by what else stands in it. */
  readonly anotherRow?: boolean;
}

/**
 * Old words and new ones. A row has another name only where nothing else in it is another; the old words must be
 * gone, the new ones must not have stood there, and both must be told apart: words that stand twice are renamed
 * together or not at all.
 */
export function renamedWords(
  table: Table,
  column: Column,
  pairs: readonly RowChange[],
  others: readonly Row['entries'][],
): ReadonlyMap<string, string> {
  const renamed = new Map<string, string>();
  if (column.type === 'number' || column.formula !== undefined) return renamed;
  const word = (entries: Row['entries']) => entries[column.id]?.trim() ?? '';
  const changed = pairs.filter(({ before, after }) => word(before) !== word(after));
  if (changed.length === 0) return renamed;
  const had = new Set([...pairs.map(({ before }) => word(before)), ...others.map(word)]);
  const has = new Set([...pairs.map(({ after }) => word(after)), ...others.map(word)]);
  const refused = new Set<string>();
  const taken = new Map<string, string>();
  for (const pair of changed) {
    const [from, to] = [word(pair.before), word(pair.after)];
    if (from === '') {
      refused.add(to);
      continue;
    }
    const isOne = (renamed.get(from) ?? to) === to && (taken.get(to) ?? from) === from;
    if (!isOne || to === '' || has.has(from) || had.has(to) || !isOnlyRenamed(table, column, pair)) {
      refused.add(from);
      refused.add(to);
    }
    renamed.set(from, to);
    taken.set(to, from);
  }
  for (const [from, to] of renamed) if (refused.has(from) || refused.has(to)) renamed.delete(from);
  return renamed;
}

function isOnlyRenamed(table: Table, column: Column, { before, after, anotherRow }: RowChange): boolean {
  let alike = 0;
  for (const each of table.columns) {
    if (each === column) continue;
    const [old = '', now = ''] = [before[each.id]?.trim(), after[each.id]?.trim()];
    if (old !== now && !isSameValue(each, old, now)) return false;
    if (old !== '') alike++;
  }
  return anotherRow !== true || alike > 0;
}

/** A file may write 24610 for what was typed as 24,610. */
function isSameValue({ type, unit }: Column, a: string, b: string): boolean {
  const own = parseUnit(unit);
  if (type !== 'number' || a === '' || b === '' || 'problem' in own) return false;
  const [one, other] = [readEntry(a, own), readEntry(b, own)];
  if (!('literal' in one && 'literal' in other)) return false;
  return one.literal.si === other.literal.si && one.literal.plusMinus === other.literal.plusMinus;
}

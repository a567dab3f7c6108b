/**
 * In what two workbooks differ: parts that came, went, moved or stand in another order, and fields of those that are
 * in both. Each difference can be taken over by itself; all of them together make the one workbook into the other.
 */
import type { WorkbookDocument } from './document.ts';
import { aligned } from './align.ts';
import {
  columnOfField,
  documentOf,
  partsOf,
  ROOT,
  type PartKind,
  type PartOfDocument,
  type Parts,
  type Slot,
} from './parts.ts';

export interface PartDifference {
  /** The same for the same difference, however often the two are compared. */
  readonly id: string;
  readonly what: 'added' | 'removed' | 'changed' | 'moved' | 'order';
  readonly kind: PartKind;
  readonly key: string;
  /** Of what changed. */
  readonly field?: string;
  readonly slot?: Slot;
  readonly from?: unknown;
  readonly to?: unknown;
}

/** Two workbooks whose parts have been matched: by id, then by name. */
export interface Pair {
  readonly from: WorkbookDocument;
  /** With the ids of `from` where the same thing had another. */
  readonly to: WorkbookDocument;
  readonly a: Parts;
  readonly b: Parts;
  readonly differences: readonly PartDifference[];
}

export function pairOf(from: WorkbookDocument, other: WorkbookDocument): Pair {
  const to = aligned(from, other);
  const a = partsOf(from);
  const b = partsOf(to);
  return { from, to, a, b, differences: differencesOf(a, b) };
}

function differencesOf(a: Parts, b: Parts): readonly PartDifference[] {
  const found: PartDifference[] = [];
  for (const part of a.values()) {
    const { key, kind } = part;
    const other = b.get(key);
    if (!other) {
      if (b.has(part.parent)) found.push({ id: `${key}#removed`, what: 'removed', kind, key });
      continue;
    }
    if (part.parent !== other.parent)
      found.push({ id: `${key}#moved`, what: 'moved', kind, key, from: part.parent, to: other.parent });
    found.push(...fieldDifferences(part, other, a, b), ...orderDifferences(part, other));
  }
  for (const { key, kind, parent } of b.values())
    if (!a.has(key) && a.has(parent)) found.push({ id: `${key}#added`, what: 'added', kind, key });
  return found;
}

function fieldDifferences(part: PartOfDocument, other: PartOfDocument, a: Parts, b: Parts): PartDifference[] {
  const { key, kind } = part;
  return [...new Set([...part.fields.keys(), ...other.fields.keys()])].flatMap((field): PartDifference[] => {
    // Entries come and go with their column.
    const column = columnOfField(field);
    if (column !== undefined && !(a.has(column) && b.has(column))) return [];
    const [from, to] = [part.fields.get(field), other.fields.get(field)];
    return same(from, to) ? [] : [{ id: `${key}#${field}`, what: 'changed', kind, key, field, from, to }];
  });
}

function orderDifferences(part: PartOfDocument, other: PartOfDocument): PartDifference[] {
  return [...part.children].flatMap(([slot, from]): PartDifference[] => {
    const to = other.children.get(slot) ?? [];
    const { key, kind } = part;
    const [before, after] = [common(from, to), common(to, from)];
    return same(before, after)
      ? []
      : [{ id: `${key}#order-${slot}`, what: 'order', kind, key, slot, from: before, to: after }];
  });
}

export function common(list: readonly string[], other: readonly string[]): readonly string[] {
  const there = new Set(other);
  return list.filter((key) => there.has(key));
}

/** Plain data is the same when it is written the same. */
export function same(a: unknown, b: unknown): boolean {
  return a === b || (a !== undefined && b !== undefined && written(a) === written(b));
}

function written(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) =>
    typeof inner === 'object' && inner !== null && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([x], [y]) => (x < y ? -1 : 1)))
      : inner,
  );
}

/** `from` with the differences for which `takes` holds. */
export function taking(
  { from, a, b, differences }: Pair,
  takes: (difference: PartDifference) => boolean,
): WorkbookDocument {
  const taken = new Set(differences.filter(takes).map(({ id }) => id));
  if (taken.size === 0) return from;
  const there = presence(a, b, taken);
  const parentOf = (key: string): string => {
    const [mine, theirs] = [a.get(key)?.parent, b.get(key)?.parent];
    const [first, second] = taken.has(`${key}#moved`) ? [theirs, mine] : [mine ?? theirs, theirs];
    const parent = first !== undefined && there.has(first) ? first : second;
    return parent ?? '';
  };
  // Something stays whose place goes: the place stays too.
  for (const key of there) {
    for (let at = key; at !== ROOT; at = parentOf(at)) {
      const parent = parentOf(at);
      if (parent === '' || there.has(parent)) continue;
      there.add(parent);
    }
  }
  const held = new Map<string, Set<string>>();
  for (const key of there) {
    if (key === ROOT) continue;
    const parent = parentOf(key);
    const set = held.get(parent) ?? new Set();
    held.set(parent, set.add(key));
  }
  const parts = new Map<string, PartOfDocument>();
  for (const key of there) {
    const mine = a.get(key);
    const theirs = b.get(key);
    const part = mine ?? theirs;
    if (!part) continue;
    const inside = held.get(key) ?? new Set<string>();
    const slots = new Set([...(mine?.children.keys() ?? []), ...(theirs?.children.keys() ?? [])]);
    parts.set(key, {
      ...part,
      parent: key === ROOT ? '' : parentOf(key),
      fields: fieldsOf(mine, theirs, taken, a),
      children: new Map(
        [...slots].map((slot) => {
          const lists = [mine?.children.get(slot) ?? [], theirs?.children.get(slot) ?? []] as const;
          const [first, second] = taken.has(`${key}#order-${slot}`) ? [lists[1], lists[0]] : lists;
          return [slot, woven(first, second, inside)];
        }),
      ),
    });
  }
  return documentOf(parts);
}

/** Keys of what is in the result: all of `a` but what goes, and what comes from `b` with all that is in it. */
function presence(a: Parts, b: Parts, taken: ReadonlySet<string>): Set<string> {
  const there = new Set<string>();
  const isTaken = (key: string, own: Parts, other: Parts, what: string): boolean => {
    let root = key;
    for (;;) {
      const parent = own.get(root)?.parent ?? '';
      if (parent === '' || other.has(parent)) return taken.has(`${root}#${what}`);
      root = parent;
    }
  };
  for (const key of a.keys()) if (b.has(key) || !isTaken(key, a, b, 'removed')) there.add(key);
  for (const key of b.keys()) if (!a.has(key) && isTaken(key, b, a, 'added')) there.add(key);
  return there;
}

function fieldsOf(
  mine: PartOfDocument | undefined,
  theirs: PartOfDocument | undefined,
  taken: ReadonlySet<string>,
  a: Parts,
): ReadonlyMap<string, unknown> {
  if (!mine) return theirs?.fields ?? new Map<string, unknown>();
  if (!theirs) return mine.fields;
  const fields = new Map(mine.fields);
  for (const field of new Set([...mine.fields.keys(), ...theirs.fields.keys()])) {
    const column = columnOfField(field);
    // A column that is only over there brings its entries; the document leaves out those of columns that are not.
    const takes = column !== undefined && !a.has(column) ? true : taken.has(`${mine.key}#${field}`);
    if (!takes) continue;
    const value = theirs.fields.get(field);
    if (value === undefined) fields.delete(field);
    else fields.set(field, value);
  }
  return fields;
}

/** Those of `first` in their order; of `second` what is not among them, each behind what it stands behind there. */
function woven(
  first: readonly string[],
  second: readonly string[],
  inside: ReadonlySet<string>,
): readonly string[] {
  const result = first.filter((key) => inside.has(key));
  const placed = new Set(result);
  let before: string | undefined;
  for (const key of second) {
    if (!inside.has(key)) continue;
    if (!placed.has(key)) {
      result.splice(before === undefined ? 0 : result.indexOf(before) + 1, 0, key);
      placed.add(key);
    }
    before = key;
  }
  for (const key of inside) if (!placed.has(key) && belongs(key, first, second)) result.push(key);
  return result;
}

/** Something kept against both orders: its former list went, and it came here. */
function belongs(key: string, first: readonly string[], second: readonly string[]): boolean {
  return first.includes(key) || second.includes(key);
}

/** Under what key a formula reads rows of a column (keyed-reads.ts). */

/** A column, by its node and the field of the records it holds. */
export interface Place {
  readonly node: number;
  readonly offset: number;
}

/** The column whose value tells rows apart, and what it is held against: a value of the reader's row, or one slot. */
export interface Key {
  readonly column: Place;
  readonly own: Place | { readonly slot: number };
}

/** By the id of the column that is read. */
export type KeyedReads = ReadonlyMap<number, Key>;

export const NOT_KEYED: KeyedReads = new Map();

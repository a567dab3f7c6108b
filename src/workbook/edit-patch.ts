/** Changing some fields of a record, and the patch that changes them back. */

export interface Patched<T, P> {
  readonly record: T;
  readonly inverse: P;
  /** Fields whose value is now another. */
  readonly changed: ReadonlySet<string>;
}

/** Only fields in `allowed` are looked at, so a patch from outside cannot reach any other. */
export function patched<T extends object, P extends object>(
  record: T,
  patch: P,
  allowed: readonly (keyof P & keyof T & string)[],
): Patched<T, P> {
  const result = { ...record } as Record<string, unknown>;
  const before: Record<string, unknown> = {};
  const changed = new Set<string>();
  for (const field of allowed) {
    if (!Object.hasOwn(patch, field)) continue;
    const value: unknown = patch[field];
    if (value === undefined) continue;
    const old: unknown = record[field];
    before[field] = old === undefined ? null : old;
    if (value === null) delete result[field];
    else result[field] = value;
    if (old !== (value === null ? undefined : value)) changed.add(field);
  }
  return { record: changed.size === 0 ? record : (result as T), inverse: before as P, changed };
}

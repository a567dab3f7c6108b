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
  const result = new Map<string, unknown>(Object.entries(record));
  const before = new Map<string, unknown>();
  const changed = new Set<string>();
  for (const field of allowed) {
    const value: unknown = Object.hasOwn(patch, field) ? patch[field] : undefined;
    if (value === undefined) continue;
    const old = result.get(field);
    before.set(field, old ?? null);
    if (value === null) result.delete(field);
    else result.set(field, value);
    if (result.get(field) !== old) changed.add(field);
  }
  return {
    record: changed.size === 0 ? record : (Object.fromEntries(result) as T),
    inverse: Object.fromEntries(before) as P,
    changed,
  };
}

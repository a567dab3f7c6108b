/** What was shown before stays the same object where the new says the same, so that whoever reads it need not look again. */

/** Gives what it gave before, or those of its parts, as far as the new says the same. */
export function steady<T>(make: () => T): () => T {
  let last: T | undefined;
  return () => (last = shared(last, make()) as T);
}

/** `next`, with the parts of `last` that are like it; neither is changed. Other than plain objects and lists are told by identity. */
export function shared(last: unknown, next: unknown): unknown {
  if (Object.is(last, next)) return last;
  if (Array.isArray(last) && Array.isArray(next)) {
    const parts = next.map((part, at) => (at < last.length ? shared(last[at], part) : part) as unknown);
    return parts.length === last.length && parts.every((part, at) => Object.is(part, last[at]))
      ? last
      : parts;
  }
  if (!isPlain(last) || !isPlain(next)) return next;
  const keys = Object.keys(next);
  let same = keys.length === Object.keys(last).length;
  const parts: Record<string, unknown> = {};
  for (const key of keys) {
    const known = Object.hasOwn(last, key);
    parts[key] = known ? shared(last[key], next[key]) : next[key];
    same &&= known && Object.is(parts[key], last[key]);
  }
  return same ? last : parts;
}

function isPlain(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && Object.getPrototypeOf(value) === Object.prototype;
}

/** `last` where it has the very parts of `next`: for what belongs to the document, which is told by identity. */
export function kept<T extends object>(last: T | undefined, next: T): T {
  if (last === undefined) return next;
  if (Array.isArray(last) && Array.isArray(next))
    return last.length === next.length && last.every((part, at) => part === next[at]) ? last : next;
  const keys = Object.keys(next) as (keyof T)[];
  const same =
    keys.length === Object.keys(last).length && keys.every((key) => Object.is(last[key], next[key]));
  return same ? last : next;
}

/** The nearest known word to a mistyped one. */

/** Edits between two words (insert, delete, replace, swap neighbours), or more than `limit` when it is passed. */
function distance(a: string, b: string, limit: number): number {
  if (Math.abs(a.length - b.length) > limit) return limit + 1;
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let best = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        best = Math.min(best, (beforeLast[j - 2] ?? 0) + 1);
      }
      row.push(best);
    }
    if (Math.min(...row) > limit) return limit + 1;
    beforeLast = last;
    last = row;
  }
  return last[b.length] ?? limit + 1;
}

/** The first of the nearest candidates; undefined when none is near enough to be meant. */
export function closest(word: string, candidates: readonly string[]): string | undefined {
  if (word.length > 40) return undefined;
  const lower = word.toLowerCase();
  const sameLetters = candidates.find((candidate) => candidate.toLowerCase() === lower);
  if (sameLetters !== undefined) return sameLetters;
  // Of a short word so little is left after two edits that any other would do.
  const limit = word.length <= 2 ? 0 : word.length <= 4 ? 1 : 2;
  let best: string | undefined;
  let bestDistance = limit + 1;
  for (const candidate of candidates) {
    if (candidate.length < 2) continue;
    const d = distance(lower, candidate.toLowerCase(), Math.min(limit, bestDistance - 1));
    if (d < bestDistance) {
      best = candidate;
      bestDistance = d;
    }
  }
  return best;
}

/** Columns of a table that is wider than the paper, in bands one under the other. */

export interface Width {
  /** What a column would like, and what it can do with. */
  readonly width: number;
  readonly least: number;
}

export interface Band {
  /** The first column and the one behind the last, among those that are dealt out. */
  readonly from: number;
  readonly to: number;
}

/**
 * As few bands as there have to be, each as full as the others; a column wider than the paper has a band of its own.
 * `room` is what a band has beside what each of them begins with.
 */
export function bandsOf(columns: readonly Width[], room: number): Band[] {
  const liked = columns.map(({ width }) => width);
  const least = columns.map((each) => each.least);
  const tight = filled(least, room).length < filled(liked, room).length;
  return levelled(tight ? least : liked, room);
}

/** With the least room that needs no band more. */
function levelled(widths: readonly number[], room: number): Band[] {
  const fewest = filled(widths, room).length;
  let low = Math.max(0, ...widths);
  let high = Math.max(low, room);
  while (high - low > 0.5) {
    const middle = (low + high) / 2;
    if (filled(widths, middle).length > fewest) low = middle;
    else high = middle;
  }
  return filled(widths, high);
}

function filled(widths: readonly number[], room: number): Band[] {
  const bands: Band[] = [];
  let from = 0;
  let taken = 0;
  for (const [at, width] of widths.entries()) {
    if (at > from && taken + width > room) {
      bands.push({ from, to: at });
      from = at;
      taken = 0;
    }
    taken += width;
  }
  bands.push({ from, to: widths.length });
  return bands;
}

/** Where they would like more than there is, those that can do with less give all alike. */
export function squeezed<T extends Width>(columns: readonly T[], room: number): T[] {
  const liked = columns.reduce((sum, { width }) => sum + width, 0);
  const least = columns.reduce((sum, each) => sum + each.least, 0);
  if (liked <= room || liked <= least) return [...columns];
  const part = Math.max(0, (room - least) / (liked - least));
  return columns.map((each) => ({ ...each, width: each.least + (each.width - each.least) * part }));
}

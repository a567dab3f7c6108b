/** Which rows of a long table have nodes: those in view, some around them, and the one that holds the focus. */

/** Pixels of one row; long tables keep every row on one line. */
export const ROW_HEIGHT = 31;
/** Up to here every row has nodes. */
export const ALL_ROWS = 200;
const AROUND = 12;
/** In pixels: after scrolling no further than this there are rows enough for one picture more. */
export const SHORT_WAY = (AROUND / 2) * ROW_HEIGHT;

export type Stretch =
  | { readonly kind: 'row'; readonly position: number }
  | { readonly kind: 'gap'; readonly key: string; readonly height: number };

export function stretches(rows: number, active: number, top: number, height: number): Stretch[] {
  if (rows <= ALL_ROWS) return Array.from({ length: rows }, (_, position) => ({ kind: 'row', position }));
  const first = Math.max(0, Math.floor(top / ROW_HEIGHT) - AROUND);
  const count = Math.min(Math.ceil(height / ROW_HEIGHT) + 2 * AROUND, ALL_ROWS - 1);
  const last = Math.min(rows, first + count);
  const shown: number[] = [];
  if (active < first) shown.push(active);
  for (let position = first; position < last; position++) shown.push(position);
  if (active >= last && active < rows) shown.push(active);
  const found: Stretch[] = [];
  let next = 0;
  for (const position of shown) {
    if (position > next)
      found.push({ kind: 'gap', key: `gap ${found.length}`, height: (position - next) * ROW_HEIGHT });
    found.push({ kind: 'row', position });
    next = position + 1;
  }
  if (next < rows) found.push({ kind: 'gap', key: 'end', height: (rows - next) * ROW_HEIGHT });
  return found;
}

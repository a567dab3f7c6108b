/** Cuts the pieces of a surface from whole sheets, taking offcuts before a new sheet. */

/** A piece to be cut; its length runs with the sheet's. m. */
export interface Cut {
  readonly length: number;
  readonly width: number;
}

interface Offcut extends Cut {
  readonly sheet: number;
}

/** Lengths that differ by less than this, m, differ by rounding alone. */
export const ROUNDING = 1e-7;

export interface Cutting {
  readonly sheets: number;
  /** For each piece the sheet it comes from, from 1. */
  readonly sheetOf: readonly number[];
}

/**
 * Longest pieces first, each from the tightest offcut that holds it, else from a new sheet. A sheet is ripped before
 * it is cut to length, so that a strip keeps the sheet's whole length. Board is scored and snapped: no kerf.
 */
export function cutSheets(pieces: readonly Cut[], sheet: Cut): Cutting {
  const order = pieces.map((_, i) => i).sort((a, b) => byLength(pieces[a], pieces[b]) || a - b);
  const offcuts: Offcut[] = [];
  const sheetOf = pieces.map(() => 0);
  let sheets = 0;
  for (const i of order) {
    const piece = pieces[i];
    if (!piece) continue;
    const from = takeTightest(offcuts, piece) ?? { ...sheet, sheet: ++sheets };
    sheetOf[i] = from.sheet;
    const strip = from.width - piece.width;
    if (strip > ROUNDING) offcuts.push({ length: from.length, width: strip, sheet: from.sheet });
    const end = from.length - piece.length;
    if (end > ROUNDING) offcuts.push({ length: end, width: piece.width, sheet: from.sheet });
  }
  return { sheets, sheetOf };
}

function byLength(a: Cut | undefined, b: Cut | undefined): number {
  return (b?.width ?? 0) - (a?.width ?? 0) || (b?.length ?? 0) - (a?.length ?? 0);
}

function takeTightest(offcuts: Offcut[], piece: Cut): Offcut | undefined {
  let best = -1;
  let least = Infinity;
  offcuts.forEach(({ length, width }, i) => {
    const fits = length >= piece.length - ROUNDING && width >= piece.width - ROUNDING;
    if (!fits || length * width >= least) return;
    best = i;
    least = length * width;
  });
  return best < 0 ? undefined : offcuts.splice(best, 1)[0];
}

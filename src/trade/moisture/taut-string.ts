/**
 * Vapour pressure through an assembly in the steady state: between the two airs it is the tightest string that can be
 * drawn under the saturation pressure. Where the string touches saturation, water gathers.
 */

/** A place where vapour can condense, inside to outside: resistance up to it (any unit) and saturation pressure there. */
export interface Plane {
  readonly position: number;
  readonly saturation: number;
}

export interface StringPoint {
  readonly position: number;
  readonly pressure: number;
  /** Index of the plane; −1 for the air inside, −2 for the air outside. */
  readonly plane: number;
}

export const INSIDE = -1;
export const OUTSIDE = -2;

/**
 * The corners of the string from `inside` to `outside` (pressures, at position 0 and `length`). Planes stand in order,
 * strictly between 0 and `length`. A wet plane holds water already: the string is tied to saturation there, whether
 * the water grows or dries.
 */
export function tautString(
  planes: readonly Plane[],
  length: number,
  inside: number,
  outside: number,
  wet: (plane: number) => boolean,
): StringPoint[] {
  const corners: StringPoint[] = [{ position: 0, pressure: inside, plane: INSIDE }];
  let tied = 0;
  const add = (point: StringPoint): void => {
    while (corners.length - 1 > tied) {
      const last = corners[corners.length - 1];
      const before = corners[corners.length - 2];
      if (!last || !before || slope(before, last) < slope(last, point)) break;
      corners.pop();
    }
    corners.push(point);
  };
  planes.forEach(({ position, saturation }, plane) => {
    add({ position, pressure: saturation, plane });
    if (wet(plane)) tied = corners.length - 1;
  });
  add({ position: length, pressure: outside, plane: OUTSIDE });
  return corners;
}

function slope(a: StringPoint, b: StringPoint): number {
  return (b.pressure - a.pressure) / (b.position - a.position);
}

/** Pressure of the string at a position. */
export function pressureAt(corners: readonly StringPoint[], position: number): number {
  for (let i = 1; i < corners.length; i++) {
    const [a, b] = [corners[i - 1], corners[i]];
    if (!a || !b) break;
    if (position <= b.position || i === corners.length - 1)
      return a.pressure + slope(a, b) * (position - a.position);
  }
  return NaN;
}

/** Fall of pressure along the string on either side of corner `i`: what flows in less what flows out gathers there. */
export function gathering(corners: readonly StringPoint[], i: number): number {
  const [a, b, c] = [corners[i - 1], corners[i], corners[i + 1]];
  if (!a || !b || !c) return 0;
  return slope(b, c) - slope(a, b);
}

/** Flow in at the inside and out at the outside, in pressure for each unit of position. */
export function endFlows(corners: readonly StringPoint[]): { readonly into: number; readonly out: number } {
  const [first, second] = corners;
  const [last, beforeLast] = [corners[corners.length - 1], corners[corners.length - 2]];
  if (!first || !second || !last || !beforeLast) return { into: NaN, out: NaN };
  return { into: -slope(first, second), out: -slope(beforeLast, last) };
}

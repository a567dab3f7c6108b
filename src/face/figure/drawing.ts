/** Drawings of plain shapes, laid out for the width they get; for sections, plans and schemes that are no charts. */

interface Stroke {
  readonly stroke?: string;
  readonly strokeWidth?: number;
  readonly dashed?: boolean;
}

export type Shape =
  | ({
      readonly kind: 'rect';
      readonly x: number;
      readonly y: number;
      readonly width: number;
      readonly height: number;
      readonly fill?: string;
    } & Stroke)
  | ({
      readonly kind: 'line';
      readonly points: readonly (readonly [number, number])[];
      /** Closed and filled: a polygon. */
      readonly fill?: string;
      /** A head at the last point. */
      readonly arrow?: boolean;
    } & Stroke)
  | {
      readonly kind: 'text';
      readonly x: number;
      /** Baseline. */
      readonly y: number;
      readonly text: string;
      readonly color: string;
      readonly size?: number;
      readonly strong?: boolean;
      readonly align?: 'left' | 'center' | 'right';
    };

export interface Layout {
  readonly height: number;
  readonly shapes: readonly Shape[];
}

export interface Drawing {
  readonly label: string;
  /** Pixels in, pixels out: narrow pages get another arrangement, never smaller type. */
  layout(width: number): Layout;
}

/** Corners of an arrow's head at the end of a line, `size` pixels long. */
export function arrowHead(
  from: readonly [number, number],
  to: readonly [number, number],
  size: number,
): [number, number][] {
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const [ux, uy] = [(to[0] - from[0]) / long, (to[1] - from[1]) / long];
  const [bx, by] = [to[0] - ux * size, to[1] - uy * size];
  return [
    [to[0], to[1]],
    [bx - (uy * size) / 2, by + (ux * size) / 2],
    [bx + (uy * size) / 2, by - (ux * size) / 2],
  ];
}

const NARROW = /[iljtfrI1.,:;'’()| ]/;

/** About how wide a text is, in pixels: for laying out, not for measuring. */
export function textWidth(text: string, size = 13): number {
  let width = 0;
  for (const letter of text) width += size * (NARROW.test(letter) ? 0.33 : 0.58);
  return width;
}

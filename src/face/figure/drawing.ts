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

export interface SvgElement {
  readonly name: 'rect' | 'polyline' | 'polygon' | 'text';
  readonly attributes: Readonly<Record<string, string | number>>;
  /** Of a text element. */
  readonly text?: string;
}

const HEAD = 7;

/** A shape as SVG, for the page and for pictures alike; the typeface is that of what holds it. */
export function svgOf(shape: Shape): SvgElement[] {
  if (shape.kind === 'text') {
    const { x, y, text, color, size = 13, strong = false, align = 'left' } = shape;
    const attributes = {
      x,
      y,
      fill: color,
      'font-size': size,
      'font-weight': strong ? 650 : 400,
      'text-anchor': { left: 'start', center: 'middle', right: 'end' }[align],
    };
    return [{ name: 'text', attributes, text }];
  }
  const paint = {
    fill: shape.fill ?? 'none',
    ...(shape.stroke === undefined ? {} : { stroke: shape.stroke }),
    ...(shape.strokeWidth === undefined ? {} : { 'stroke-width': shape.strokeWidth }),
    ...(shape.dashed === true ? { 'stroke-dasharray': '4 3' } : {}),
  };
  if (shape.kind === 'rect') {
    const { x, y } = shape;
    const [width, height] = [Math.max(shape.width, 0), Math.max(shape.height, 0)];
    return [{ name: 'rect', attributes: { x, y, width, height, ...paint } }];
  }
  const line: SvgElement = {
    name: shape.fill === undefined ? 'polyline' : 'polygon',
    attributes: { points: listed(shape.points), ...paint, 'stroke-linejoin': 'round' },
  };
  const [from, to] = shape.points.slice(-2);
  if (shape.arrow !== true || !from || !to) return [line];
  const head = { points: listed(arrowHead(from, to, HEAD)), fill: shape.stroke ?? 'none' };
  return [line, { name: 'polygon', attributes: head }];
}

function listed(points: readonly (readonly [number, number])[]): string {
  return points.map((point) => point.join()).join(' ');
}

const NARROW = /[iljtfrI1.,:;'’()| ]/;

/** About how wide a text is, in pixels: for laying out, not for measuring. */
export function textWidth(text: string, size = 13): number {
  let width = 0;
  for (const letter of text) width += size * (NARROW.test(letter) ? 0.33 : 0.58);
  return width;
}

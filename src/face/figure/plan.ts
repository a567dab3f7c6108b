/**
 * A plan to scale: rectangles and lines from columns or cells, in a frame. Roles are a style and what it binds:
 * `solid_x`, `solid_y`, `solid_width`, `solid_height`, `solid_label`, `solid_note`; styles are `board` (outlined),
 * `solid` (filled), `void` (an opening), `wall` (what juts into the frame), with a number after the style for a further set. `line_x` and `line_y` are
 * broken lines through the frame. `frame_width` and `frame_height` are its size.
 */
import { wash } from './axes.ts';
import { textWidth, type Drawing, type Layout, type Shape } from './drawing.ts';
import type { Bound, FigureKind, FigureSummary, FigureTheme } from './kind.ts';
import { inMetres, lengthText } from './length-text.ts';

type Style = 'board' | 'solid' | 'void' | 'wall';

/** m, from the lower left corner of the frame. */
export interface PlanRectangle {
  readonly style: Style;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly label: string;
  readonly note: string;
}

export interface PlanLine {
  readonly upright: boolean;
  readonly at: number;
  readonly label: string;
}

export interface PlanData {
  readonly unit: string;
  readonly frame?: { readonly width: number; readonly height: number };
  readonly rectangles: readonly PlanRectangle[];
  readonly lines: readonly PlanLine[];
}

export const plan: FigureKind<PlanData> = {
  title: 'Plan',
  resolve,
  panels: () => [],
  drawings: (data, theme) => [
    { label: 'plan to scale', layout: (width) => layout(data, theme, width) } satisfies Drawing,
  ],
  summary,
};

const STYLE = /^(board|solid|void|wall)\d*_x$/;

function resolve(bound: Bound): PlanData {
  const width = lengths(bound, 'frame_width')[0];
  const height = lengths(bound, 'frame_height')[0];
  const rectangles = bound.roles('').flatMap((role) => {
    const style = STYLE.exec(role)?.[1] as Style | undefined;
    return style === undefined ? [] : rectanglesOf(bound, style, role.slice(0, -2));
  });
  const lines = bound.roles('line').flatMap((role): PlanLine[] => {
    const upright = role.endsWith('_x');
    const label = bound.cell(role)?.label ?? '';
    return lengths(bound, role).flatMap((at) => (at === undefined ? [] : [{ upright, at, label }]));
  });
  return {
    unit: bound.cell('frame_width')?.unit ?? '',
    ...(width !== undefined && height !== undefined && width > 0 && height > 0
      ? { frame: { width, height } }
      : {}),
    rectangles,
    lines,
  };
}

function rectanglesOf(bound: Bound, style: Style, set: string): PlanRectangle[] {
  const [xs, ys, widths, heights] = [
    lengths(bound, `${set}_x`),
    lengths(bound, `${set}_y`),
    lengths(bound, `${set}_width`),
    lengths(bound, `${set}_height`),
  ];
  const labels = bound.column(`${set}_label`)?.texts ?? [];
  const notes = notesOf(bound, `${set}_note`);
  return xs.flatMap((x, i) => {
    const [y, width, height] = [ys[i], widths[i], heights[i]];
    if (x === undefined || y === undefined || width === undefined || height === undefined) return [];
    // A rectangle of no size is how a table says that there is none.
    if (width <= 0 || height <= 0) return [];
    return [{ style, x, y, width, height, label: labels[i] ?? '', note: notes[i] ?? '' }];
  });
}

/** Lengths as a tape shows them, anything else as on the page. */
function notesOf(bound: Bound, role: string): string[] {
  const column = bound.column(role);
  return (column?.texts ?? []).map((text, i) => {
    const metres = inMetres(column?.values[i], column?.unit ?? '');
    return metres === undefined ? text : lengthText(metres, column?.unit ?? '');
  });
}

/** Metres of a column's rows, or of one cell. */
function lengths(bound: Bound, role: string): (number | undefined)[] {
  const column = bound.column(role);
  if (column) return column.values.map((value) => inMetres(value, column.unit));
  const cell = bound.cell(role);
  return cell ? [inMetres(cell.value, cell.unit)] : [];
}

function summary(data: PlanData): FigureSummary {
  const say = (metres: number) => lengthText(metres, data.unit);
  const headers = ['', 'From the left', 'From below', 'Width', 'Height'];
  if (!data.frame) return { line: 'No size yet to draw to.', tone: 'hold', headers, rows: [] };
  const shown = data.rectangles.filter(({ style }) => style !== 'void' && style !== 'wall');
  const size = `${say(data.frame.width)} by ${say(data.frame.height)}`;
  return {
    line: `${size}, to scale; ${shown.length === 1 ? 'one piece' : `${String(shown.length)} pieces`}`,
    headers,
    rows: data.rectangles.map(({ style, x, y, width, height, label, note }) => [
      [label || NAMES[style], note].filter(Boolean).join(', '),
      say(x),
      say(y),
      say(width),
      say(height),
    ]),
  };
}

const EDGE = 10;
const TYPE = 12;
const TALLEST = 420;
const OPENING = 'opening';
/** What a rectangle is called that has no label of its own. */
const NAMES = { board: '', solid: '', void: OPENING, wall: 'wall' } as const;

function layout(data: PlanData, theme: FigureTheme, width: number): Layout {
  const { frame } = data;
  if (!frame) return { height: 24, shapes: [] };
  const tall = lengthText(frame.height, data.unit);
  const side = textWidth(tall, TYPE) + 24;
  const scale = Math.min((width - side - EDGE) / frame.width, TALLEST / frame.height);
  const [wide, high] = [frame.width * scale, frame.height * scale];
  const above = labelRows(data, scale);
  const top = 8 + above.rows * (TYPE + 3);
  const bottom = top + high;
  const px = (x: number) => side + x * scale;
  const py = (y: number) => bottom - y * scale;
  const shapes: Shape[] = [
    {
      kind: 'rect',
      x: side,
      y: top,
      width: wide,
      height: high,
      fill: theme.sheet,
      stroke: theme.ink,
      strokeWidth: 1.5,
    },
  ];
  for (const rectangle of data.rectangles) {
    const at = { x: px(rectangle.x), y: py(rectangle.y + rectangle.height) };
    const size = { width: rectangle.width * scale, height: rectangle.height * scale };
    shapes.push(...drawn(rectangle, at, size, theme));
  }
  for (const { upright, at, label } of data.lines) {
    const points: [number, number][] = upright
      ? [
          [px(at), top],
          [px(at), bottom + 6],
        ]
      : [
          [side - 6, py(at)],
          [side + wide, py(at)],
        ];
    shapes.push({ kind: 'line', points, stroke: theme.fault, strokeWidth: 1, dashed: true });
    if (upright)
      shapes.push({
        kind: 'text',
        x: px(at),
        y: bottom + 18,
        text: shortened(label),
        color: theme.fault,
        size: TYPE,
        align: 'center',
      });
  }
  for (const { text, x, row } of above.labels)
    shapes.push({
      kind: 'text',
      x: px(x),
      y: top - 5 - row * (TYPE + 3),
      text,
      color: theme.ink,
      size: TYPE,
      align: 'center',
    });
  const under = bottom + (data.lines.some((line) => line.upright) ? 36 : 20);
  shapes.push(
    ...dimension(theme, [side, under], [side + wide, under], lengthText(frame.width, data.unit)),
    {
      kind: 'line',
      points: [
        [side - 12, top],
        [side - 12, bottom],
      ],
      stroke: theme.soft,
      strokeWidth: 1,
    },
    {
      kind: 'text',
      x: side - 16,
      y: (top + bottom) / 2 + 4,
      text: tall,
      color: theme.soft,
      size: TYPE,
      align: 'right',
    },
  );
  return { height: under + 20, shapes };
}

/** A line with its length under it. */
function dimension(theme: FigureTheme, from: [number, number], to: [number, number], text: string): Shape[] {
  return [
    { kind: 'line', points: [from, to], stroke: theme.soft, strokeWidth: 1 },
    {
      kind: 'text',
      x: (from[0] + to[0]) / 2,
      y: from[1] + 15,
      text,
      color: theme.soft,
      size: TYPE,
      align: 'center',
    },
  ];
}

function drawn(
  { style, label: own }: PlanRectangle,
  at: { x: number; y: number },
  size: { width: number; height: number },
  theme: FigureTheme,
): Shape[] {
  const label = own || (style === 'wall' ? NAMES.wall : '');
  const text: Shape[] = fits(label, size)
    ? [
        {
          kind: 'text',
          x: at.x + size.width / 2,
          y: at.y + size.height / 2 + 4,
          text: label,
          color: theme.ink,
          size: TYPE,
          align: 'center',
        },
      ]
    : [];
  if (style === 'solid')
    return [
      { kind: 'rect', ...at, ...size, fill: wash(theme.chalk, 0.28), stroke: theme.chalk, strokeWidth: 1.2 },
      ...text,
    ];
  if (style === 'board')
    return [
      { kind: 'rect', ...at, ...size, fill: wash(theme.chalk, 0.07), stroke: theme.soft, strokeWidth: 1 },
      ...text,
    ];
  // As thick as the frame: it is the room's own wall.
  if (style === 'wall')
    return [
      { kind: 'rect', ...at, ...size, fill: wash(theme.ink, 0.16), stroke: theme.ink, strokeWidth: 1.5 },
      ...text,
    ];
  const [right, low] = [at.x + size.width, at.y + size.height];
  return [
    { kind: 'rect', ...at, ...size, fill: theme.sheet, stroke: theme.soft, strokeWidth: 1, dashed: true },
    {
      kind: 'line',
      points: [
        [at.x, at.y],
        [right, low],
      ],
      stroke: theme.soft,
      strokeWidth: 0.7,
      dashed: true,
    },
    {
      kind: 'line',
      points: [
        [at.x, low],
        [right, at.y],
      ],
      stroke: theme.soft,
      strokeWidth: 0.7,
      dashed: true,
    },
    ...(fits(OPENING, size) ? opening(at.x + size.width / 2, at.y + size.height / 2, theme) : []),
  ];
}

/** On paper of its own, so that the cross does not strike it through. */
function opening(x: number, y: number, theme: FigureTheme): Shape[] {
  const wide = textWidth(OPENING, TYPE) + 4;
  return [
    { kind: 'rect', x: x - wide / 2, y: y - TYPE / 2 - 2, width: wide, height: TYPE + 4, fill: theme.sheet },
    { kind: 'text', x, y: y + 4, text: OPENING, color: theme.soft, size: TYPE, align: 'center' },
  ];
}

function fits(label: string, size: { width: number; height: number }): boolean {
  return label !== '' && size.height >= TYPE + 1 && size.width >= textWidth(label, TYPE) + 2;
}

/** `Centre of the room drawn` is too long under its line. */
function shortened(label: string): string {
  return label.replace(/ of the .*/, '').toLowerCase();
}

/** Labels of what is too narrow to hold its own and reaches through half the frame: above it, in rows that do not overlap. */
function labelRows({ frame, rectangles }: PlanData, scale: number) {
  const ends: number[] = [];
  const labels: { text: string; x: number; row: number }[] = [];
  const narrow = rectangles
    .filter(
      ({ style, label, width, height }) =>
        style === 'solid' &&
        height * 2 > (frame?.height ?? 0) &&
        !fits(label, { width: width * scale, height: height * scale }),
    )
    .sort((a, b) => a.x - b.x);
  for (const { x, width, label, note } of narrow) {
    const text = [label, note].filter(Boolean).join(' ');
    const middle = x + width / 2;
    const half = textWidth(text, TYPE) / 2 + 4;
    let row = ends.findIndex((end) => end <= middle * scale - half);
    if (row < 0) row = ends.length;
    ends[row] = middle * scale + half;
    labels.push({ text, x: middle, row });
  }
  return { rows: ends.length, labels };
}

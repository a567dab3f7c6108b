/** A section through layers side by side, to scale, with the depth that stands against them. */
import { wash } from './axes.ts';
import type { Drawing, Layout, Shape } from './drawing.ts';
import { textWidth } from './drawing.ts';
import type { Bound, FigureKind, FigureSummary, FigureTheme } from './kind.ts';
import { inMetres, lengthText } from './length-text.ts';

export interface StackLayer {
  readonly name: string;
  /** m */
  readonly thickness: number;
}

export interface StackData {
  readonly unit: string;
  readonly layers: readonly StackLayer[];
  readonly against?: { readonly depth: number; readonly label: string };
  /** What stands against the layers less their sum, m. */
  readonly difference?: number;
  /** As the workbook judges it. */
  readonly verdict?: string;
}

export const stack: FigureKind<StackData> = {
  title: 'Layers and depth',
  resolve,
  panels: () => [],
  drawings: (data, theme) => [
    { label: 'section to scale', layout: (width) => layout(data, theme, width) } satisfies Drawing,
  ],
  summary,
};

function resolve(bound: Bound): StackData {
  const names = bound.column('layer')?.texts ?? [];
  const thickness = bound.column('thickness');
  const against = bound.cell('against');
  const depth = against && inMetres(against.value, against.unit);
  const difference = bound.cell('difference');
  const apart = difference && inMetres(difference.value, difference.unit);
  const verdict = bound.cell('verdict')?.shown;
  return {
    unit: thickness?.unit ?? '',
    layers: (thickness?.values ?? []).flatMap((value, i) => {
      const metres = inMetres(value, thickness?.unit ?? '');
      // A layer of no thickness is how a table says that there is none.
      return metres === undefined || metres <= 0 ? [] : [{ name: names[i] ?? '', thickness: metres }];
    }),
    ...(depth === undefined ? {} : { against: { depth, label: against?.label ?? '' } }),
    ...(apart === undefined ? {} : { difference: apart }),
    ...(verdict?.kind === 'text' ? { verdict: verdict.text } : {}),
  };
}

function summary(data: StackData): FigureSummary {
  const say = (metres: number) => lengthText(metres, data.unit);
  const headers = ['Layer', 'Thickness'];
  const rows = data.layers.map(({ name, thickness }) => [name, say(thickness)]);
  if (data.layers.length === 0) return { line: 'No layers yet.', tone: 'hold', headers, rows };
  if (data.against) rows.push([data.against.label, say(data.against.depth)]);
  const { difference } = data;
  const apart =
    difference === undefined
      ? ''
      : Math.abs(difference) < 1e-6
        ? 'flush'
        : `${say(Math.abs(difference))} ${difference < 0 ? 'short' : 'proud'}`;
  if (difference !== undefined) rows.push(['Difference', apart]);
  return {
    line:
      [apart, data.verdict].filter(Boolean).join(': ') || `${String(data.layers.length)} layers, to scale`,
    ...(data.verdict === undefined ? {} : { tone: data.verdict === 'pass' ? 'ok' : 'fault' }),
    headers,
    rows,
  };
}

const EDGE = 12;
const TYPE = 12;
const HEAD = 44;
const LAYER = 78;
const AGAINST = 30;

function layout(data: StackData, theme: FigureTheme, width: number): Layout {
  const total = data.layers.reduce((sum, layer) => sum + layer.thickness, 0);
  const longest = Math.max(total, data.against?.depth ?? 0);
  if (!(longest > 0)) return { height: 24, shapes: [] };
  const scale = (width - 2 * EDGE) / longest;
  const shapes: Shape[] = [];
  const slot = (width - 2 * EDGE) / data.layers.length;
  let x = EDGE;
  data.layers.forEach(({ name, thickness }, i) => {
    const wide = thickness * scale;
    const label = EDGE + (i + 0.5) * slot;
    shapes.push(
      {
        kind: 'rect',
        x,
        y: HEAD,
        width: wide,
        height: LAYER,
        fill: fillOf(name, theme),
        stroke: theme.ink,
        strokeWidth: 1,
      },
      {
        kind: 'text',
        x: label,
        y: TYPE,
        text: cut(name, slot),
        color: theme.ink,
        size: TYPE,
        align: 'center',
      },
      {
        kind: 'text',
        x: label,
        y: 2 * TYPE + 3,
        text: lengthText(thickness, data.unit),
        color: theme.soft,
        size: TYPE,
        align: 'center',
      },
      {
        kind: 'line',
        points: [
          [label, 2 * TYPE + 7],
          [x + wide / 2, HEAD],
        ],
        stroke: theme.soft,
        strokeWidth: 0.8,
      },
    );
    x += wide;
  });
  if (!data.against) return { height: HEAD + LAYER + 4, shapes };
  const y = HEAD + LAYER + 8;
  const depth = data.against.depth * scale;
  const tone = data.verdict === undefined || data.verdict === 'pass' ? theme.ok : theme.fault;
  shapes.push(
    {
      kind: 'rect',
      x: EDGE,
      y,
      width: depth,
      height: AGAINST,
      fill: wash(theme.chalk, 0.2),
      stroke: theme.chalk,
      strokeWidth: 1.2,
    },
    {
      kind: 'text',
      x: EDGE + 8,
      y: y + 20,
      text: `${data.against.label} ${lengthText(data.against.depth, data.unit)}`,
      color: theme.ink,
      size: TYPE,
    },
    {
      kind: 'line',
      points: [
        [EDGE + total * scale, HEAD - 4],
        [EDGE + total * scale, y + AGAINST + 6],
      ],
      stroke: tone,
      strokeWidth: 1.2,
      dashed: true,
    },
  );
  const apart = Math.abs(depth - total * scale);
  if (apart > 0.5)
    shapes.push({
      kind: 'rect',
      x: EDGE + Math.min(depth, total * scale),
      y,
      width: apart,
      height: AGAINST,
      fill: wash(tone, 0.45),
    });
  return { height: y + AGAINST + 10, shapes };
}

/** Layers of one name look the same. */
function fillOf(name: string, theme: FigureTheme): string {
  if (/fram|stud|wood/i.test(name)) return wash(theme.hold, 0.22);
  if (/plaster|finish/i.test(name)) return theme.sheet;
  return theme.hair;
}

function cut(name: string, width: number): string {
  let text = name;
  while (text.length > 1 && textWidth(text, TYPE) > width - 4) text = text.slice(0, -1);
  return text === name ? name : `${text}…`;
}

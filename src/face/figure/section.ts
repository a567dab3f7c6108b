/** An assembly cut through: its layers to scale, with temperature and dew point, and vapour pressure under saturation. */
import { asDigits } from './digits.ts';
import { wash } from './axes.ts';
import { textWidth, type Drawing, type Layout, type Shape } from './drawing.ts';
import type { Bound, BoundColumn, FigureKind, FigureSummary, FigureTheme } from './kind.ts';
import { linearRange } from './scale.ts';
import { titled } from './sentence.ts';

interface SectionLayer {
  readonly name: string;
  /** In the unit shown; undefined for a film. */
  readonly thickness: number | undefined;
  /** True for a film: it has resistance and no thickness. */
  readonly film: boolean;
  readonly texts: readonly string[];
}

/** One line through the section: indoors first, then the outer face of each layer. */
interface Trace {
  readonly label: string;
  readonly unit: string;
  readonly values: readonly (number | undefined)[];
}

export interface SectionData {
  readonly layers: readonly SectionLayer[];
  readonly temperature: Trace;
  readonly dewPoint: Trace;
  readonly pressure: Trace;
  readonly saturation: Trace;
  /** What gathers in or behind each layer, as shown; empty where nothing does. */
  readonly condensing: readonly string[];
  readonly month: string;
  readonly headers: readonly string[];
}

export const section: FigureKind<SectionData> = {
  title: 'Section',
  resolve,
  panels: () => [],
  drawings,
  summary,
};

const COLUMNS = [
  'thickness',
  'resistance',
  'temperature',
  'dew_point',
  'pressure',
  'saturation',
  'condensing',
];

function resolve(bound: Bound): SectionData {
  const names = bound.column('layer');
  const thickness = bound.column('thickness');
  const resistance = bound.column('resistance');
  const told = COLUMNS.map((role) => bound.column(role));
  const month = bound.cell('month');
  const trace = (label: string, role: string, indoors: string): Trace => {
    const column = bound.column(role);
    return {
      label,
      unit: column?.unit ?? '',
      values: [bound.cell(indoors)?.value, ...numbers(column)],
    };
  };
  const condensing = bound.column('condensing');
  return {
    layers: (names?.texts ?? []).map((name, i) => {
      const deep = numbers(thickness)[i];
      return {
        name,
        thickness: deep,
        film: deep === undefined && (numbers(resistance)[i] ?? 0) > 0,
        texts: told.map((column) => column?.texts[i] ?? ''),
      };
    }),
    temperature: trace('temperature', 'temperature', 'indoor_temperature'),
    dewPoint: trace('dew point', 'dew_point', 'indoor_dew_point'),
    pressure: trace('vapour pressure', 'pressure', 'indoor_pressure'),
    saturation: {
      label: 'saturation',
      unit: bound.column('saturation')?.unit ?? '',
      values: [undefined, ...numbers(bound.column('saturation'))],
    },
    condensing: numbers(condensing).map((rate, i) =>
      rate !== undefined && rate > 0 ? `${condensing?.texts[i] ?? ''} ${condensing?.unit ?? ''}` : '',
    ),
    month: month?.shown.kind === 'value' ? month.shown.value : '',
    headers: ['', ...told.map((column) => titled(column?.label, column?.unit))],
  };
}

function numbers(column: BoundColumn | undefined): (number | undefined)[] {
  return (column?.values ?? []).map((value) => (typeof value === 'number' ? value : undefined));
}

function summary(data: SectionData): FigureSummary {
  const { headers } = data;
  if (data.layers.length === 0) return { line: 'No layers yet', tone: 'hold', headers, rows: [] };
  const rows = data.layers.map(({ name, texts }, i) => [`${i + 1} ${name}`, ...texts]);
  const when = data.month === '' ? '' : `${data.month}: `;
  if (data.pressure.values.slice(1).some((value) => value === undefined))
    return {
      line: 'Something is missing in the layers or the climate',
      tone: 'hold',
      headers,
      rows,
    };
  const wet = data.condensing.flatMap((amount, i) =>
    amount === '' ? [] : [`${data.layers[i]?.name ?? ''} (${amount})`],
  );
  return wet.length === 0
    ? {
        line: `${when}no water gathers by diffusion`,
        tone: 'ok',
        headers,
        rows,
      }
    : {
        line: `${when}water gathers in or behind ${wet.join(', ')}`,
        tone: 'fault',
        headers,
        rows,
      };
}

function drawings(data: SectionData, theme: FigureTheme): Drawing[] {
  if (data.layers.length === 0) return [];
  return [
    {
      label: 'layers to scale, inside on the left',
      layout: (width) => layout(data, theme, width),
    },
  ];
}

const FILM = 13;
const THIN = 3;
const LEFT = 44;
const RIGHT = 10;
const TOP = 34;
const PLOT = 150;
const BETWEEN = 30;
const LINE = 18;

function layout(data: SectionData, theme: FigureTheme, width: number): Layout {
  const edges = edgesOf(data.layers, LEFT, width - RIGHT);
  const bottom = TOP + 2 * PLOT + BETWEEN;
  const columns = width >= 520 ? 2 : 1;
  const rows = Math.ceil(data.layers.length / columns);
  const shapes: Shape[] = [
    { kind: 'text', x: LEFT, y: 12, text: 'inside', color: theme.soft },
    {
      kind: 'text',
      x: width - RIGHT,
      y: 12,
      text: 'outside',
      color: theme.soft,
      align: 'right',
    },
    ...bands(data, theme, edges, bottom),
    ...plot(theme, edges, TOP, [
      { trace: data.temperature, color: theme.ink, dashed: false, above: true },
      { trace: data.dewPoint, color: theme.chalk, dashed: true, above: false },
    ]),
    ...plot(theme, edges, TOP + PLOT + BETWEEN, [
      { trace: data.saturation, color: theme.ink, dashed: false, above: true },
      { trace: data.pressure, color: theme.chalk, dashed: true, above: false },
    ]),
    ...data.layers.map(({ name }, i): Shape => ({
      kind: 'text',
      x: LEFT + Math.floor(i / rows) * ((width - LEFT - RIGHT) / columns),
      y: bottom + 22 + (i % rows) * LINE,
      text: fitted(`${i + 1}  ${name}`, (width - LEFT - RIGHT) / columns - 8),
      color: data.condensing[i] ? theme.fault : theme.ink,
    })),
  ];
  return { height: bottom + 22 + rows * LINE, shapes };
}

function fitted(text: string, width: number): string {
  if (textWidth(text) <= width) return text;
  let shorter = text;
  while (shorter.length > 4 && textWidth(`${shorter}…`) > width) shorter = shorter.slice(0, -1);
  return `${shorter.trimEnd()}…`;
}

/** Where each layer begins and ends: films get a fixed width, sheets at least a line, the rest goes by thickness. */
function edgesOf(layers: readonly SectionLayer[], left: number, right: number): number[] {
  const total = layers.reduce((sum, { thickness }) => sum + (thickness ?? 0), 0);
  const fixed: number[] = layers.map(({ film, thickness }) =>
    film ? FILM : (thickness ?? 0) > 0 ? 0 : THIN,
  );
  const room = right - left - fixed.reduce((a, b) => a + b, 0);
  const wide = layers.map(({ thickness }) => (total > 0 ? ((thickness ?? 0) / total) * room : 0));
  const thin = wide.map((w, i) => (fixed[i] === 0 && w < THIN ? THIN - w : 0));
  const taken = thin.reduce((a, b) => a + b, 0);
  const edges = [left];
  let x = left;
  wide.forEach((w, i) => {
    x += (fixed[i] ?? 0) + (thin[i] ? THIN : w * (1 - taken / room));
    edges.push(x);
  });
  return edges;
}

function bands(data: SectionData, theme: FigureTheme, edges: readonly number[], bottom: number): Shape[] {
  const shapes: Shape[] = [];
  let free = 0;
  data.layers.forEach((layer, i) => {
    const [x, end] = [edges[i] ?? 0, edges[i + 1] ?? 0];
    const sheet = !layer.film && !((layer.thickness ?? 0) > 0);
    if (!layer.film)
      shapes.push({
        kind: 'rect',
        x,
        y: TOP - 6,
        width: end - x,
        height: bottom - TOP + 6,
        fill: sheet ? theme.chalk : wash(theme.soft, i % 2 === 0 ? 0.16 : 0.08),
      });
    const label = String(i + 1);
    const middle = (x + end) / 2;
    const half = textWidth(label, 12) / 2;
    // Numbers of thin layers would run together: one that finds no room is left to the list below.
    if (middle - half >= free) {
      shapes.push({
        kind: 'text',
        x: middle,
        y: TOP - 10,
        text: label,
        size: 12,
        color: theme.soft,
        align: 'center',
      });
      free = middle + half + 3;
    }
    if (data.condensing[i]) {
      shapes.push(
        {
          kind: 'line',
          points: [
            [end, TOP - 6],
            [end, bottom],
          ],
          stroke: theme.fault,
          strokeWidth: 2,
        },
        ...drop(end, bottom - 12, theme.fault),
      );
    }
  });
  return shapes;
}

/** A drop of water, so that colour is not the only sign. */
function drop(x: number, y: number, fill: string): Shape[] {
  const points: [number, number][] = [[x, y - 9]];
  for (let step = 0; step <= 8; step++) {
    const angle = (step / 8) * Math.PI;
    points.push([x + 5 * Math.cos(angle), y + 5 * Math.sin(angle)]);
  }
  return [{ kind: 'line', points, fill }];
}

interface Drawn {
  readonly trace: Trace;
  readonly color: string;
  readonly dashed: boolean;
  readonly above: boolean;
}

function plot(theme: FigureTheme, edges: readonly number[], top: number, lines: readonly Drawn[]): Shape[] {
  const values = lines.flatMap(({ trace }) => trace.values.filter((value) => value !== undefined));
  if (values.length === 0) return [];
  const range = linearRange(values, 4);
  const y = (value: number): number => top + PLOT - ((value - range.min) / (range.max - range.min)) * PLOT;
  const shapes: Shape[] = [];
  const right = edges[edges.length - 1] ?? LEFT;
  for (let tick = range.min; tick <= range.max + range.step * 1e-6; tick += range.step) {
    shapes.push(
      {
        kind: 'line',
        points: [
          [LEFT, y(tick)],
          [right, y(tick)],
        ],
        stroke: theme.hair,
        strokeWidth: 1,
      },
      {
        kind: 'text',
        x: LEFT - 6,
        y: y(tick) + 4,
        text: asDigits(tick, 6),
        size: 12,
        color: theme.soft,
        align: 'right',
      },
    );
  }
  const [unit] = lines.map(({ trace }) => trace.unit);
  if (unit)
    shapes.push({
      kind: 'text',
      x: 0,
      y: top - 10,
      text: unit,
      size: 12,
      color: theme.soft,
    });
  // Names stand in the widest layer, clear of membranes and steps.
  const wide = edges.map((edge, i) => (edges[i + 1] ?? edge) - edge);
  const widest = wide.indexOf(Math.max(...wide));
  for (const { trace, color, dashed, above } of lines) {
    const points = trace.values.flatMap((value, i): [number, number][] =>
      value === undefined ? [] : [[edges[i] ?? right, y(value)]],
    );
    if (points.length < 2) continue;
    shapes.push({
      kind: 'line',
      points,
      stroke: color,
      strokeWidth: 2,
      dashed,
    });
    const from = points[Math.max(points.length - edges.length + widest, 0)] ?? [LEFT, top];
    shapes.push({
      kind: 'text',
      x: from[0] + 8,
      y: from[1] + (above ? -8 : 18),
      text: trace.label,
      color: theme.ink,
      strong: !dashed,
    });
  }
  return shapes;
}

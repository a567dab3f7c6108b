/** One column against another: points with their ± as whiskers, and a line through them where it is wanted. */
import { counted } from '../../workbook/index.ts';
import { asDigits } from './digits.ts';
import { fixedWidth, still, wash } from './axes.ts';
import type { Bound, BoundColumn, FigureKind, FigureSummary, FigureTheme, Panel } from './kind.ts';
import type { Whisker } from './marks.ts';
import { inSentence, titled } from './sentence.ts';
import { linearRange } from './scale.ts';
import { NORMAL_95, spreadWords } from './spread.ts';

export interface MeasuredPoint {
  readonly x: number;
  readonly y: number;
  readonly xSpread?: number;
  readonly ySpread?: number;
  /** True where the ± cannot be told. */
  readonly xUntold?: true;
  readonly yUntold?: true;
}

export interface PointSeries {
  readonly label: string;
  readonly points: readonly MeasuredPoint[];
}

export interface PointsData {
  readonly x: { readonly label: string; readonly unit: string };
  readonly yUnit: string;
  readonly series: readonly PointSeries[];
  /** Level lines that the points are held against. */
  readonly targets: readonly { readonly label: string; readonly value: number }[];
}

export const points: FigureKind<PointsData> = { title: 'Points', resolve, panels, summary };

function resolve(bound: Bound): PointsData {
  const x = bound.column('x');
  const columns = bound.roles('y').flatMap((role) => bound.column(role) ?? []);
  return {
    x: { label: x?.label ?? '', unit: x?.unit ?? '' },
    yUnit: columns[0]?.unit ?? '',
    series: columns.map((y) => ({ label: y.label, points: pairs(x, y) })),
    targets: bound.roles('target').flatMap((role) => {
      const cell = bound.cell(role);
      return cell?.value === undefined ? [] : [{ label: cell.label, value: cell.value }];
    }),
  };
}

function pairs(x: BoundColumn | undefined, y: BoundColumn): MeasuredPoint[] {
  return (x?.values ?? []).flatMap((across, row): MeasuredPoint[] => {
    const up = y.values[row];
    if (typeof across !== 'number' || typeof up !== 'number') return [];
    const xSpread = x?.plusMinus[row];
    const ySpread = y.plusMinus[row];
    return [
      {
        x: across,
        y: up,
        ...(xSpread === undefined ? {} : { xSpread }),
        ...(ySpread === undefined ? {} : { ySpread }),
        ...(x?.untold?.[row] ? { xUntold: true as const } : {}),
        ...(y.untold?.[row] ? { yUntold: true as const } : {}),
      },
    ];
  });
}

function summary(data: PointsData): FigureSummary {
  const count = data.series.reduce((sum, series) => sum + series.points.length, 0);
  return {
    line: count === 0 ? 'No points yet' : counted(count, 'point'),
    ...(count === 0 ? { tone: 'hold' as const } : {}),
    headers: ['', titled(data.x.label, data.x.unit), data.yUnit],
    rows: data.series.flatMap((series) =>
      series.points.map((point) => [
        series.label,
        asDigits(point.x) + spreadWords(point.xSpread, point.xUntold),
        asDigits(point.y) + spreadWords(point.ySpread, point.yUntold),
      ]),
    ),
  };
}

function panels(data: PointsData, theme: FigureTheme): Panel[] {
  const colors = [theme.chalk, theme.ink, theme.ok, theme.hold, theme.fault];
  const colorOf = (at: number) => colors[at % colors.length] ?? theme.ink;
  const all = data.series.flatMap((series) => series.points);
  const x = linearRange(all.flatMap((point) => around(point.x, point.xSpread)));
  const y = linearRange([
    ...all.flatMap((point) => around(point.y, point.ySpread)),
    ...data.targets.map((target) => target.value),
  ]);
  const whiskers = data.series.flatMap((series, at) =>
    series.points.flatMap((point) => whiskersOf(point, colorOf(at))),
  );
  const first = data.series.length === 1 ? data.series[0]?.label : undefined;
  return [
    {
      height: 270,
      label: `${titled(first ?? '', data.yUnit)} against ${data.x.label}`,
      chart: {
        type: 'scatter',
        data: {
          datasets: data.series.map((series, at) => ({
            label: series.label,
            data: series.points.map(({ x: across, y: up }) => ({ x: across, y: up })),
            pointStyle: STYLES[at % STYLES.length] ?? 'circle',
            pointRadius: 4,
            // A point on the edge of the plot is drawn whole.
            clip: false as const,
            borderWidth: 1.5,
            borderColor: colorOf(at),
            backgroundColor: wash(colorOf(at), 0.5),
          })),
        },
        options: {
          ...still(theme),
          layout: { padding: { top: 18, right: 8, bottom: 16 } },
          scales: { x: axis(x, theme), y: { ...axis(y, theme), afterFit: fixedWidth } },
          plugins: {
            marks: { whiskers, bars: [] },
            direct: {
              font: theme.font,
              color: theme.soft,
              ground: theme.sheet,
              xTitle: titled(data.x.label, data.x.unit),
              yTitle: titled(first ?? '', data.yUnit),
              labels: [
                ...data.targets.map((target) => ({
                  text: inSentence(target.label),
                  x: 'left' as const,
                  y: target.value,
                  dx: 4,
                  dy: -9,
                  color: theme.ink,
                })),
                ...(data.series.length > 1 ? data.series : []).flatMap((series, at) => {
                  const last = series.points.at(-1);
                  return last
                    ? [{ text: series.label, x: last.x, y: last.y, dx: 8, dy: 0, color: colorOf(at) }]
                    : [];
                }),
              ],
              guides: data.targets.map((target) => ({
                from: ['left', target.value] as const,
                to: [x.max, target.value] as const,
                color: theme.ink,
                dotted: false,
              })),
              shades: [],
            },
          },
        },
      },
    },
  ];
}

/** Shapes as well as colours: a print in black keeps the series apart. */
const STYLES = ['circle', 'rectRot', 'triangle', 'rect', 'crossRot'] as const;

function around(value: number, spread: number | undefined): number[] {
  const half = NORMAL_95 * (spread ?? 0);
  return [value - half, value + half];
}

function whiskersOf(point: MeasuredPoint, color: string): Whisker[] {
  const along = (axisName: 'x' | 'y', value: number, spread: number | undefined, at: number): Whisker[] => {
    if (spread === undefined || !(spread > 0)) return [];
    const [low = value, high = value] = around(value, spread);
    return [{ along: axisName, at, low, high, color }];
  };
  return [...along('x', point.x, point.xSpread, point.y), ...along('y', point.y, point.ySpread, point.x)];
}

function axis(range: { min: number; max: number; step: number }, theme: FigureTheme) {
  return {
    type: 'linear' as const,
    min: range.min,
    max: range.max,
    border: { color: theme.rule },
    grid: { color: theme.hair, tickLength: 0 },
    ticks: {
      color: theme.soft,
      font: { family: theme.font, size: 12 },
      stepSize: range.step,
      padding: 6,
      maxRotation: 0,
    },
  };
}

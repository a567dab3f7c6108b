/** Whiskers and bars: what a scatter chart lacks for values with a ± and for amounts side by side. */
import type { Chart, ChartType, Plugin } from 'chart.js';

/** From `low` to `high` along one axis at a place of the other, with a short cross line at both ends. */
export interface Whisker {
  readonly at: number;
  readonly low: number;
  readonly high: number;
  readonly along: 'x' | 'y';
  readonly color: string;
}

/** A lying bar from `from` to `to`, centred at `at`; thickness in pixels. */
export interface Bar {
  readonly at: number;
  readonly from: number;
  readonly to: number;
  readonly thickness: number;
  readonly color: string;
}

export interface Marks {
  readonly whiskers: readonly Whisker[];
  readonly bars: readonly Bar[];
}

declare module 'chart.js' {
  // The type parameter must be written as Chart.js declares it.
  // eslint-disable-next-line @typescript-eslint/no-unused-vars
  interface PluginOptionsByType<TType extends ChartType> {
    marks: Marks;
  }
}

const CAP = 4;

export const marks: Plugin<'scatter'> = {
  id: 'marks',
  beforeDatasetsDraw(chart) {
    const drawing = marksOf(chart);
    if (!drawing) return;
    const { ctx } = chart;
    ctx.save();
    for (const bar of drawing.bars) drawBar(chart, bar);
    for (const whisker of drawing.whiskers) drawWhisker(chart, whisker);
    ctx.restore();
  },
};

/** The plain object as it was given: Chart.js's own view of it resolves every property anew. */
function marksOf(chart: Chart): Marks | undefined {
  return chart.config.options?.plugins?.marks as Marks | undefined;
}

const pixel = (chart: Chart, axis: 'x' | 'y', value: number) =>
  chart.scales[axis]?.getPixelForValue(value) ?? 0;

function drawBar(chart: Chart, bar: Bar): void {
  const { ctx, chartArea } = chart;
  const ends = [pixel(chart, 'x', bar.from), pixel(chart, 'x', bar.to)];
  const left = Math.max(chartArea.left, Math.min(...ends));
  const right = Math.min(chartArea.right, Math.max(...ends));
  ctx.fillStyle = bar.color;
  ctx.fillRect(left, pixel(chart, 'y', bar.at) - bar.thickness / 2, Math.max(right - left, 1), bar.thickness);
}

function drawWhisker(chart: Chart, { at, low, high, along, color }: Whisker): void {
  const { ctx } = chart;
  const across = along === 'x' ? 'y' : 'x';
  const place = pixel(chart, across, at);
  const from = pixel(chart, along, low);
  const to = pixel(chart, along, high);
  const point = (alongWay: number, beside: number): [number, number] =>
    along === 'x' ? [alongWay, place + beside] : [place + beside, alongWay];
  ctx.beginPath();
  ctx.strokeStyle = color;
  ctx.lineWidth = 1.4;
  ctx.setLineDash([]);
  for (const [start, end] of [
    [point(from, 0), point(to, 0)],
    [point(from, -CAP), point(from, CAP)],
    [point(to, -CAP), point(to, CAP)],
  ] as const) {
    ctx.moveTo(...start);
    ctx.lineTo(...end);
  }
  ctx.stroke();
}

/** Labels, guides and shades drawn at their place instead of a legend. */
import type { Chart, ChartType, Plugin } from 'chart.js';

export interface DirectLabel {
  readonly text: string;
  /** Data coordinates; `left` and `top` mean the edge of the plot. */
  readonly x: number | 'left';
  readonly y: number | 'top';
  readonly dx: number;
  readonly dy: number;
  readonly color: string;
  readonly strong?: boolean;
  readonly align?: 'left' | 'center' | 'right';
}

export interface Guide {
  readonly from: readonly [number | 'left', number | 'bottom' | 'top'];
  readonly to: readonly [number, number | 'bottom'];
  readonly color: string;
  readonly dotted: boolean;
}

export interface Shade {
  /** `-Infinity`: from the left edge. */
  readonly from: number;
  /** Absent: to the right edge. */
  readonly to?: number;
  readonly color: string;
}

export interface DirectDrawing {
  readonly font: string;
  readonly color: string;
  /** Colour of the paper, kept free around labels. */
  readonly ground: string;
  /** What the axes carry, written flat at their ends. */
  readonly xTitle?: string;
  readonly yTitle?: string;
  readonly labels: readonly DirectLabel[];
  readonly guides: readonly Guide[];
  readonly shades: readonly Shade[];
}

declare module 'chart.js' {
  // The type parameter must be written as Chart.js declares it.
  // eslint-disable-next-line @typescript-eslint/no-unused-vars
  interface PluginOptionsByType<TType extends ChartType> {
    direct: DirectDrawing;
  }
}

const SIZE = 12;

export const direct: Plugin<'scatter'> = {
  id: 'direct',
  beforeDatasetsDraw(chart) {
    const drawing = drawingOf(chart);
    if (!drawing) return;
    const { ctx, chartArea } = chart;
    ctx.save();
    for (const shade of drawing.shades) {
      const left = Number.isFinite(shade.from)
        ? Math.max(chartArea.left, xOf(chart, shade.from))
        : chartArea.left;
      const right =
        shade.to === undefined ? chartArea.right : Math.min(chartArea.right, xOf(chart, shade.to));
      if (right <= left) continue;
      ctx.fillStyle = shade.color;
      ctx.fillRect(left, chartArea.top, right - left, chartArea.bottom - chartArea.top);
    }
    for (const guide of drawing.guides) drawGuide(chart, guide);
    ctx.restore();
  },
  afterDatasetsDraw(chart) {
    const drawing = drawingOf(chart);
    if (!drawing) return;
    const { ctx, chartArea, width } = chart;
    ctx.save();
    for (const label of drawing.labels) drawLabel(chart, label, drawing);
    ctx.font = `${SIZE}px ${drawing.font}`;
    ctx.fillStyle = drawing.color;
    if (drawing.yTitle !== undefined) {
      ctx.textAlign = 'left';
      ctx.textBaseline = 'top';
      ctx.fillText(drawing.yTitle, 0, 0);
    }
    if (drawing.xTitle !== undefined) {
      ctx.textAlign = 'right';
      ctx.textBaseline = 'bottom';
      ctx.fillText(drawing.xTitle, Math.min(width, chartArea.right + 4), chart.height);
    }
    ctx.restore();
  },
};

/** The plain object as it was given: Chart.js's own view of it resolves every property anew. */
function drawingOf(chart: Chart): DirectDrawing | undefined {
  return chart.config.options?.plugins?.direct as DirectDrawing | undefined;
}

function xOf(chart: Chart, x: number | 'left'): number {
  return x === 'left' ? chart.chartArea.left : (chart.scales.x?.getPixelForValue(x) ?? 0);
}

function yOf(chart: Chart, y: number | 'top' | 'bottom'): number {
  if (y === 'top') return chart.chartArea.top;
  if (y === 'bottom') return chart.chartArea.bottom;
  return chart.scales.y?.getPixelForValue(y) ?? 0;
}

function drawGuide(chart: Chart, guide: Guide): void {
  const { ctx } = chart;
  ctx.beginPath();
  ctx.strokeStyle = guide.color;
  ctx.lineWidth = guide.dotted ? 1.2 : 1.6;
  ctx.setLineDash(guide.dotted ? [2, 3] : []);
  ctx.moveTo(xOf(chart, guide.from[0]), yOf(chart, guide.from[1]));
  ctx.lineTo(xOf(chart, guide.to[0]), yOf(chart, guide.to[1]));
  ctx.stroke();
}

function drawLabel(chart: Chart, label: DirectLabel, { font, ground }: DirectDrawing): void {
  const { ctx, chartArea } = chart;
  ctx.font = `${label.strong ? '650 ' : ''}${SIZE}px ${font}`;
  ctx.fillStyle = label.color;
  ctx.textBaseline = 'middle';
  const wanted = label.align ?? 'left';
  const width = ctx.measureText(label.text).width;
  let left = xOf(chart, label.x) + label.dx;
  if (wanted === 'center') left -= width / 2;
  if (wanted === 'right') left -= width;
  // A label that would leave the plot turns to the other side of its point.
  if (left + width > chartArea.right + 2 && wanted === 'left') left = xOf(chart, label.x) - label.dx - width;
  left = Math.max(0, Math.min(left, chart.width - width));
  const top = yOf(chart, label.y) + label.dy;
  ctx.textAlign = 'left';
  ctx.lineJoin = 'round';
  ctx.lineWidth = 4;
  ctx.setLineDash([]);
  ctx.strokeStyle = ground;
  ctx.strokeText(label.text, left, top);
  ctx.fillText(label.text, left, top);
}

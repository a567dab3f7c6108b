/** Chart.js with the parts our figures use and no others. Loaded when the first figure is drawn. */
import {
  Chart,
  Filler,
  LinearScale,
  LineElement,
  LogarithmicScale,
  PointElement,
  ScatterController,
  Tooltip,
} from 'chart.js';
import { direct } from './direct.ts';
import { marks } from './marks.ts';
import type { FigureChart } from './kind.ts';

Chart.register(
  ScatterController,
  PointElement,
  LineElement,
  LinearScale,
  LogarithmicScale,
  Filler,
  Tooltip,
  direct,
  marks,
);

export type Drawn = Chart<'scatter', { x: number; y: number }[]>;

export function draw(canvas: HTMLCanvasElement, chart: FigureChart): Drawn {
  return new Chart(canvas, chart);
}

/** Puts new data and options into a drawn figure without animation. */
export function redraw(drawn: Drawn, chart: FigureChart): void {
  const { datasets } = drawn.data;
  chart.data.datasets.forEach((next, index) => {
    const old = datasets[index];
    if (old) Object.assign(old, next);
    else datasets.push(next);
  });
  datasets.length = chart.data.datasets.length;
  if (chart.options) drawn.options = chart.options;
  drawn.update('none');
}

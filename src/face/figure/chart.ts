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
import { shared } from '../steady.ts';
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

/** A figure on its canvas. */
export class Drawn {
  readonly #chart: Chart<'scatter', { x: number; y: number }[]>;
  #shown: FigureChart;

  constructor(canvas: HTMLCanvasElement, shown: FigureChart) {
    this.#chart = new Chart(canvas, given(shown));
    this.#shown = shown;
  }

  /** Puts new data and options into the figure, without animation. */
  redraw(next: FigureChart): void {
    const last = this.#shown;
    this.#shown = next;
    // What is under the pointer is looked for again by a full update only.
    if (sameFrame(last, next) && this.#chart.getActiveElements().length === 0) this.#move(next);
    else this.#update(next);
  }

  destroy(): void {
    this.#chart.destroy();
  }

  #update(next: FigureChart): void {
    const { data, options } = given(next);
    const { datasets } = this.#chart.data;
    data.datasets.forEach((set, index) => {
      const old = datasets[index];
      if (old) Object.assign(old, set);
      else datasets.push(set);
    });
    datasets.length = data.datasets.length;
    if (options) this.#chart.options = options;
    this.#chart.update('none');
  }

  /** Axes, styles and room stay as they are, so only what is drawn in them is placed anew: a fraction of an update. */
  #move(next: FigureChart): void {
    const chart = this.#chart;
    Object.assign(chart.config.options?.plugins ?? {}, ownPlugins(next));
    for (const [index, { data }] of next.data.datasets.entries()) {
      const set = chart.data.datasets[index];
      if (set) set.data = data;
      const { controller } = chart.getDatasetMeta(index);
      controller.buildOrUpdateElements();
      controller.update('none');
    }
    chart.render();
  }
}

/** Chart.js writes into what it is given. */
function given(chart: FigureChart): FigureChart {
  return {
    ...chart,
    data: { datasets: chart.data.datasets.map((set) => ({ ...set })) },
    options: { ...chart.options, plugins: { ...chart.options?.plugins } },
  };
}

/** True where the figures differ in their points and in what our own plugins draw, and in nothing else. */
function sameFrame(last: FigureChart, next: FigureChart): boolean {
  const frame = ({ data, options }: FigureChart) => ({
    sets: data.datasets.map(({ data: points, ...style }) => ({ ...style, empty: points.length === 0 })),
    options: { ...options, plugins: { ...options?.plugins, direct: undefined, marks: undefined } },
  });
  const before = frame(last);
  return shared(before, frame(next)) === before;
}

function ownPlugins({ options }: FigureChart) {
  const { direct, marks } = options?.plugins ?? {};
  return { ...(direct ? { direct } : {}), ...(marks ? { marks } : {}) };
}

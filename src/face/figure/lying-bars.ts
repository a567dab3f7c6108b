/** The drawing that all figures of lying bars share. */
import { still, wash } from './axes.ts';
import type { FigureTheme, Panel } from './kind.ts';
import { inSentence } from './sentence.ts';
import { linearRange } from './scale.ts';

export interface LyingBar {
  readonly label: string;
  readonly value: number;
  /** Stands at the bar's end. */
  readonly text: string;
  readonly color: string;
  readonly low?: number;
  readonly high?: number;
}

const ROW = 24;
const THICKNESS = 12;
const LABEL_WIDTH = 136;
const LONGEST_LABEL = 19;

/** One panel whose height follows the number of bars. Bars start at zero; targets are upright lines. */
export function lyingBars(
  bars: readonly LyingBar[],
  targets: readonly { readonly label: string; readonly value: number }[],
  title: string,
  theme: FigureTheme,
): Panel {
  const range =
    bars.length === 0
      ? { min: 0, max: 1, step: 0.25 }
      : linearRange(
          [
            0,
            ...bars.flatMap((bar) => [bar.low ?? bar.value, bar.high ?? bar.value]),
            ...targets.map((t) => t.value),
          ],
          5,
        );
  const last = Math.max(bars.length - 1, 0);
  return {
    height: 58 + ROW * Math.max(bars.length, 1) + (targets.length > 0 ? 16 : 0),
    label: title,
    chart: {
      type: 'scatter',
      data: {
        datasets: [
          {
            label: title,
            data: bars.map((bar, at) => ({ x: bar.value, y: at, tip: `${bar.label}: ${bar.text}` })),
            pointRadius: 3,
            borderWidth: 0,
            backgroundColor: bars.map((bar) => bar.color),
          },
        ],
      },
      options: {
        ...still(theme),
        layout: { padding: { top: targets.length > 0 ? 18 : 4, right: 34, bottom: 16 } },
        scales: {
          x: {
            type: 'linear',
            min: range.min,
            max: range.max,
            border: { display: false },
            grid: { color: theme.hair, tickLength: 0 },
            ticks: {
              color: theme.soft,
              font: { family: theme.font, size: 12 },
              stepSize: range.step,
              padding: 6,
              maxRotation: 0,
            },
          },
          y: {
            type: 'linear',
            min: -0.5,
            max: last + 0.5,
            reverse: true,
            border: { color: theme.rule },
            grid: { display: false },
            afterFit: (scale: { width: number }) => {
              scale.width = LABEL_WIDTH;
            },
            afterBuildTicks: (axis: { ticks: { value: number }[] }) => {
              axis.ticks = bars.map((_, value) => ({ value }));
            },
            ticks: {
              color: theme.ink,
              font: { family: theme.font, size: 12 },
              padding: 6,
              autoSkip: false,
              callback: (value: number | string) => shortened(bars[Number(value)]?.label ?? ''),
            },
          },
        },
        plugins: {
          marks: {
            bars: bars.map((bar, at) => ({
              at,
              from: 0,
              to: bar.value,
              thickness: THICKNESS,
              color: wash(bar.color, 0.35),
            })),
            whiskers: bars.flatMap((bar, at) =>
              bar.low === undefined || bar.high === undefined
                ? []
                : [{ along: 'x' as const, at, low: bar.low, high: bar.high, color: bar.color }],
            ),
          },
          direct: {
            font: theme.font,
            color: theme.soft,
            ground: theme.sheet,
            xTitle: title,
            labels: [
              ...bars.map((bar, at) => ({
                text: bar.text,
                x: bar.value < 0 ? (bar.low ?? bar.value) : (bar.high ?? bar.value),
                y: at,
                dx: bar.value < 0 ? -8 : 8,
                align: bar.value < 0 ? ('right' as const) : ('left' as const),
                dy: 0,
                color: theme.ink,
              })),
              ...targets.map((target) => ({
                text: inSentence(target.label),
                x: target.value,
                y: 'top' as const,
                dx: 0,
                dy: -8,
                color: theme.ink,
                align: 'center' as const,
              })),
            ],
            guides: targets.map((target) => ({
              from: [target.value, 'top'] as const,
              to: [target.value, 'bottom'] as const,
              color: theme.ink,
              dotted: false,
            })),
            shades: [],
          },
        },
      },
    },
  };
}

function shortened(label: string): string {
  return label.length > LONGEST_LABEL ? `${label.slice(0, LONGEST_LABEL - 1)}…` : label;
}

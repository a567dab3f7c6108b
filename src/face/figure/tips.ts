/** What a figure says of the point under the pointer or the finger. */
import type { TooltipItem } from 'chart.js';
import { asDigits } from './digits.ts';
import type { FigureTheme, Panel } from './kind.ts';

/** A point may bring its own words; else it says its two values with the axes' titles. */
export interface TippedPoint {
  readonly x: number;
  readonly y: number;
  readonly tip?: string;
}

/** A panel whose points tell their values. */
export function withTips(panel: Panel, theme: FigureTheme): Panel {
  const { options } = panel.chart;
  return {
    ...panel,
    chart: {
      ...panel.chart,
      options: { ...options, plugins: { tooltip: tips(theme), ...options?.plugins } },
    },
  };
}

function tips(theme: FigureTheme) {
  return {
    enabled: true,
    displayColors: false,
    backgroundColor: theme.ink,
    titleColor: theme.sheet,
    bodyColor: theme.sheet,
    bodyFont: { family: theme.font, size: 13 },
    padding: 8,
    cornerRadius: 4,
    caretSize: 5,
    // Lines without points are drawn, not measured.
    filter: visible,
    callbacks: { title: untitled, label: wordsOf },
  };
}

function untitled(): string {
  return '';
}

function visible({ element }: TooltipItem<'scatter'>): boolean {
  const { radius } = element.options as { radius?: number };
  return radius !== 0;
}

function wordsOf(item: TooltipItem<'scatter'>): string {
  const point = item.raw as TippedPoint;
  if (point.tip !== undefined) return point.tip;
  const titles = item.chart.config.options?.plugins?.direct as
    { xTitle?: string; yTitle?: string } | undefined;
  const named = (title: string | undefined, value: number) => {
    const [name = '', unit = ''] = (title ?? '').split(', ');
    return [name, asDigits(value), unit].filter(Boolean).join(' ');
  };
  return [named(titles?.xTitle, point.x), named(titles?.yTitle, point.y)].join(', ');
}

/** What the figures' axes have in common. Functions have names here, so that an axis that stays as it is is seen to do so. */
import { localNumber } from '../locale.ts';
import { asDigits } from './digits.ts';
import type { FigureTheme } from './kind.ts';
import { logTicks, type LogRange } from './scale.ts';

/** Pixels left of the plot: equal in all panels, so that stacked panels line up. */
const AXIS_WIDTH = 44;

export function signed(value: number): string {
  const text = asDigits(Math.abs(value), 3);
  return value > 0 ? `+${text}` : value < 0 ? `−${text}` : text;
}

export function signedTick(value: number | string): string {
  return signed(Number(value));
}

export function fixedWidth(scale: { width: number }): void {
  scale.width = AXIS_WIDTH;
}

/** No extra room for the outermost numbers: stacked panels must end at the same place. */
export function evenSides(scale: { paddingLeft?: number; paddingRight?: number }): void {
  scale.paddingLeft = 0;
  scale.paddingRight = 0;
}

function placeLogTicks(axis: { min: number; max: number; ticks: { value: number }[] }): void {
  axis.ticks = logTicks(axis.min, axis.max).map((value) => ({ value }));
}

/** Made once: a format takes longer to make than a figure to draw. */
const SHORT = new Intl.NumberFormat('en-US', { maximumSignificantDigits: 3 });

function shortNumber(value: number | string): string {
  return localNumber(SHORT.format(Number(value)));
}

export function logAxis(range: LogRange, theme: FigureTheme) {
  return {
    type: 'logarithmic' as const,
    min: range.min,
    max: range.max,
    border: { display: false },
    grid: { color: theme.hair, tickLength: 0 },
    afterFit: evenSides,
    afterBuildTicks: placeLogTicks,
    ticks: {
      color: theme.soft,
      font: { family: theme.font, size: 12 },
      padding: 6,
      autoSkip: false,
      maxRotation: 0,
      callback: shortNumber,
    },
  };
}

/** What every figure has in common: it does not move, fills its box, and tells the value under the pointer. */
export function still(theme: FigureTheme) {
  return {
    animation: false as const,
    responsive: true,
    maintainAspectRatio: false,
    events: ['mousemove', 'mouseout', 'click', 'touchstart'] as (
      'mousemove' | 'mouseout' | 'click' | 'touchstart'
    )[],
    interaction: { mode: 'nearest' as const, intersect: false, axis: 'xy' as const },
    font: { family: theme.font, size: 12 },
  };
}

/** A see-through colour of a six-digit hexadecimal one. */
export function wash(color: string, opacity: number): string {
  const part = (at: number) => Number.parseInt(color.slice(at, at + 2), 16);
  return `rgba(${part(1)}, ${part(3)}, ${part(5)}, ${opacity})`;
}

/** Samples of what a figure's roles are bound to; and a configuration as data that can be compared. */
import type { FigureTheme } from '../../../src/face/figure/kind.ts';

export { bound, cell, column, untold, waiting } from '../../../src/face/figure/gallery/sample.ts';

export const theme: FigureTheme = {
  ink: '#111111',
  soft: '#222222',
  hair: '#333333',
  rule: '#444444',
  sheet: '#555555',
  chalk: '#666666',
  ok: '#00aa00',
  hold: '#aaaa00',
  fault: '#aa0000',
  font: 'Sheet',
};

/** Numbers to five digits, functions by the word, long runs of points by their ends: what is left is what the figure says. */
export function asData(panels: unknown): unknown {
  return JSON.parse(
    JSON.stringify(panels, (_key, value: unknown) => {
      if (typeof value === 'number') return Number(value.toPrecision(5));
      if (Array.isArray(value) && value.length > 12)
        return [value[0], `${value.length - 2} more`, value.at(-1)] as unknown;
      return typeof value === 'function' ? 'function' : value;
    }),
  );
}

/** What a figure's roles are bound to, written down for a test; and a configuration as data that can be compared. */
import type { Bound, BoundCell, BoundColumn, FigureTheme, Panel } from '../../../src/face/figure/kind.ts';

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

export function cell(label: string, value: number, unit: string, plusMinus?: number): BoundCell {
  const half = plusMinus === undefined ? {} : { plusMinus: String(plusMinus) };
  return {
    label,
    unit,
    value,
    shown: { kind: 'value', value: String(value), unit, ...half },
    ...(plusMinus === undefined ? {} : { plusMinus }),
  };
}

export function waiting(label: string, name: string): BoundCell {
  return { label, unit: '', shown: { kind: 'waiting', for: name } };
}

export function column(unit: string, values: BoundColumn['values']): BoundColumn {
  return { label: '', unit, values, texts: values.map(String) };
}

export function bound(cells: Record<string, BoundCell>, columns: Record<string, BoundColumn> = {}): Bound {
  return {
    cell: (role) => cells[role],
    column: (role) => columns[role],
    roles: (prefix) => Object.keys(cells).filter((role) => role.startsWith(prefix)),
    pascals: (_role, value) => value,
  };
}

/** Numbers to five digits, functions by the word, long runs of points by their ends: what is left is what the figure says. */
export function asData(panels: readonly Panel[]): unknown {
  return JSON.parse(
    JSON.stringify(panels, (_key, value: unknown) => {
      if (typeof value === 'number') return Number(value.toPrecision(5));
      if (Array.isArray(value) && value.length > 12)
        return [value[0], `${value.length - 2} more`, value.at(-1)] as unknown;
      return typeof value === 'function' ? 'function' : value;
    }),
  );
}

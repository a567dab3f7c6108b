/** A figure's roles bound to plain values: for the gallery page and for the tests, which draw the same samples. */
import type { Bound, BoundCell, BoundColumn, BoundSource } from '../kind.ts';

export interface Sample {
  /** Name of the kind in kinds.ts. */
  readonly kind: string;
  /** What this sample shows of the kind. */
  readonly shows: string;
  readonly bound: Bound;
}

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

/** A value whose ± cannot be told. */
export function untold(label: string, value: number, unit: string): BoundCell {
  return {
    label,
    unit,
    value,
    plusMinus: 0,
    shown: { kind: 'value', value: String(value), untold: true, unit },
  };
}

export function words(label: string, text: string): BoundCell {
  return { label, unit: '', shown: { kind: 'text', text } };
}

export function waiting(label: string, name: string): BoundCell {
  return { label, unit: '', shown: { kind: 'waiting', for: name } };
}

export function column(
  unit: string,
  values: BoundColumn['values'],
  plusMinus: BoundColumn['plusMinus'] = [],
  label = '',
): BoundColumn {
  return { label, unit, values, texts: values.map((value) => String(value ?? '')), plusMinus };
}

export function bound(
  cells: Readonly<Record<string, BoundCell>>,
  columns: Readonly<Record<string, BoundColumn>> = {},
  sources: readonly BoundSource[] = [],
): Bound {
  const names = [...Object.keys(cells), ...Object.keys(columns)];
  return {
    cell: (role) => cells[role],
    column: (role) => columns[role],
    roles: (prefix) => names.filter((role) => role.startsWith(prefix)),
    sources: () => sources,
    pascals: (_role, value) => value,
  };
}

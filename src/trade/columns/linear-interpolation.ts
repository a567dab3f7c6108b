import { defineFunction, fault, type Fault } from '../../engine/index.ts';

/** A typed limit converted from another unit may differ from the table's in its last digit. */
const ROUNDING = 1e-9;

interface Place {
  readonly at: number;
  /** Part of the way from row `at` to the next. */
  readonly part: number;
}

/**
 * The value at `x` on straight lines between the points of a table, whose first column rises. Any units; never
 * beyond the ends of the table.
 */
export function linearInterpolation(xs: readonly number[], ys: readonly number[], x: number): number | Fault {
  if (xs.length === 0) return NaN;
  const place = placeOf(xs, x);
  if ('fault' in place) return place;
  const low = ys[place.at] ?? NaN;
  if (place.part === 0) return low;
  return low + place.part * ((ys[place.at + 1] ?? NaN) - low);
}

function placeOf(xs: readonly number[], x: number): Place | Fault {
  const falls = xs.findIndex((value, i) => i > 0 && !(value > (xs[i - 1] ?? NaN)));
  if (falls > 0) {
    return fault(
      `The table’s first column does not rise from row ${falls} to row ${falls + 1}.`,
      'Put the rows in rising order, each value once.',
    );
  }
  const first = xs[0] ?? NaN;
  const last = xs.at(-1) ?? NaN;
  const room = ROUNDING * Math.max(Math.abs(first), Math.abs(last));
  if (x < first - room || x > last + room) {
    return fault(
      `The value lies ${x < first ? 'below the first' : 'above the last'} row of the table, which says nothing there.`,
      'Give a value inside the table, or type a further row with its source.',
    );
  }
  const at = Math.max(
    xs.findLastIndex((value) => value <= x),
    0,
  );
  const from = xs[at] ?? NaN;
  const to = xs[at + 1];
  return { at, part: to === undefined ? 0 : Math.max((x - from) / (to - from), 0) };
}

export const linearInterpolationFunction = defineFunction({
  name: 'linear_interpolation',
  summary: 'Reads a table between its rows, on straight lines.',
  source: 'Definition of linear interpolation.',
  limits: 'The first column rises from row to row. Nothing is read beyond the first and the last row.',
  parameters: [
    { name: 'x_values', type: { kind: 'generic', letter: 'X' }, column: true, summary: 'Rising' },
    { name: 'y_values', type: { kind: 'generic', letter: 'Y' }, column: true, summary: 'One for each' },
    { name: 'x', type: { kind: 'generic', letter: 'X' }, summary: 'Where to read' },
  ],
  result: { kind: 'generic', letter: 'Y' },
  example: {
    arguments: [[0.25, 0.33, 0.5, 0.66, 0.75, 1], [4, 3, 2, 1.5, 1.3, 1], 0.58],
    result: 1.75,
  },
  compute: linearInterpolation,
  partials: (xs: readonly number[], ys: readonly number[], x: number) => {
    const place = placeOf(xs, x);
    if ('fault' in place) return {};
    const { at, part } = place;
    const next = Math.min(at + 1, xs.length - 1);
    const wide = (xs[next] ?? NaN) - (xs[at] ?? NaN);
    const slope = next === at ? 0 : ((ys[next] ?? NaN) - (ys[at] ?? NaN)) / wide;
    const byX = xs.map((_, i) => (i === at ? -slope * (1 - part) : i === next ? -slope * part : 0));
    const byY = xs.map((_, i) => (i === at ? 1 - part : i === next ? part : 0));
    return { result: [byX, byY, slope] };
  },
});

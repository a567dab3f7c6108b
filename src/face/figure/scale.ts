/** Ends and ticks of an axis, chosen so that they stay put while values move a little. */

const STEPS = [1, 1.5, 2, 3, 4, 5, 6, 8];
/** A line's end that is 10 but for the last digits ends at 10. */
const ROUNDING = 1e-9;

export interface LogRange {
  readonly min: number;
  readonly max: number;
}

/** The log axis, its ends on even steps: room around `marked` values, none around a line's ends. */
export function logRange(marked: readonly number[], ends: readonly number[] = []): LogRange {
  const usable = (values: readonly number[]) => values.filter((value) => value > 0 && Number.isFinite(value));
  const lows = [
    ...usable(marked).map((value) => value * 0.97),
    ...usable(ends).map((value) => value * (1 + ROUNDING)),
  ];
  const highs = [
    ...usable(marked).map((value) => value * 1.03),
    ...usable(ends).map((value) => value * (1 - ROUNDING)),
  ];
  if (lows.length === 0) return { min: 10, max: 100 };
  const low = Math.min(...lows);
  const high = Math.max(...highs);
  const grid = logSteps(low / 10, high * 10);
  const min = grid.findLast((step) => step <= low) ?? low;
  const max = grid.find((step) => step >= high) ?? high;
  return { min, max };
}

/** Where the labelled lines of a log axis stand. */
export function logTicks(min: number, max: number): number[] {
  return thin(logSteps(min, max).filter((step) => step >= min && step <= max));
}

function logSteps(low: number, high: number): number[] {
  const steps: number[] = [];
  for (let decade = Math.floor(Math.log10(low)); decade <= Math.ceil(Math.log10(high)); decade++) {
    for (const step of STEPS) steps.push(Number((step * 10 ** decade).toPrecision(3)));
  }
  return steps;
}

/** At most eight labelled lines: first the odd steps go, then all but 1, 2, 5, then all but the decades. */
function thin(ticks: readonly number[]): number[] {
  const leading = (tick: number) => Number((tick / 10 ** Math.floor(Math.log10(tick) + 1e-9)).toPrecision(3));
  const kept = [STEPS, [1, 2, 3, 4, 6, 8], [1, 2, 3, 5], [1, 2, 5], [1]].map((allowed) =>
    ticks.filter((tick) => allowed.includes(leading(tick))),
  );
  return kept.find((few) => few.length <= 8) ?? kept.at(-1) ?? [];
}

/** An even linear axis around the values. */
export function linearRange(
  values: readonly number[],
  wanted = 6,
): { min: number; max: number; step: number } {
  const finite = values.filter(Number.isFinite);
  const low = finite.length === 0 ? 0 : Math.min(...finite);
  const high = finite.length === 0 ? 1 : Math.max(...finite);
  const span = high - low || Math.abs(high) || 1;
  const raw = span / wanted;
  const decade = 10 ** Math.floor(Math.log10(raw));
  const step = ([1, 2, 2.5, 5, 10].find((each) => each * decade >= raw) ?? 10) * decade;
  const round = (value: number) => Number(value.toPrecision(12));
  const min = Math.floor(low / step) * step;
  const max = Math.ceil(high / step) * step;
  // A single value that stands on a step still gets room on both sides.
  const room = max > min ? 0 : step;
  return { min: round(min - room), max: round(max + room), step };
}

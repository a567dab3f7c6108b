/**
 * Measuring: contenders take turns inside each round, other work runs before every turn, and a ratio is the median
 * of the ratios within rounds, so that a machine that is busy for a while slows both sides of it.
 */

export interface Contender {
  readonly name: string;
  /** One measured turn; `round` counts the warm-up too. Gives milliseconds where it measures itself. */
  turn(round: number): unknown;
}

export interface Goal {
  /** The contender that must be slower, and at least how many times; or at most how many times faster. */
  readonly against: string;
  readonly atLeast?: number;
  readonly atMost?: number;
}

export interface Plan {
  readonly title: string;
  readonly ours: string;
  readonly contenders: readonly Contender[];
  readonly goals?: readonly Goal[];
  /** Limits on our own milliseconds. */
  readonly under?: number;
  readonly rounds?: number;
  readonly warmUp?: number;
}

export interface Quartiles {
  readonly low: number;
  readonly middle: number;
  readonly high: number;
}

export function quantile(sorted: readonly number[], q: number): number {
  const at = (sorted.length - 1) * q;
  const low = sorted[Math.floor(at)]!;
  return low + (sorted[Math.ceil(at)]! - low) * (at - Math.floor(at));
}

export function quartiles(samples: readonly number[]): Quartiles {
  const sorted = [...samples].sort((a, b) => a - b);
  return { low: quantile(sorted, 0.25), middle: quantile(sorted, 0.5), high: quantile(sorted, 0.75) };
}

let kept = 0;

/** What a page does between two edits: makes and drops objects as a redraw does, sorts, writes and reads JSON. */
export function otherWork(): void {
  const nodes = Array.from({ length: 4000 }, (_, i) => ({
    name: `cell_${i}`,
    text: (i * 1.37).toFixed(3),
    style: { left: i % 80, top: (i / 80) | 0 },
  }));
  nodes.sort((a, b) => (a.text < b.text ? -1 : 1));
  const copy = JSON.parse(JSON.stringify(nodes)) as typeof nodes;
  const sorted = Float64Array.from(copy, (n) => Number(n.text)).sort();
  kept += sorted[sorted.length >> 1]!;
  if (!Number.isFinite(kept)) throw new Error('the other work went wrong');
}

export function timed(work: () => void): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

/** Runs the rounds, prints the table, and fails the process where a goal is missed. */
export function compare(plan: Plan): void {
  const { contenders } = plan;
  const rounds = plan.rounds ?? 15;
  const warmUp = plan.warmUp ?? 3;
  const samples = new Map<string, number[]>(contenders.map((c) => [c.name, []]));
  for (let round = 0; round < warmUp + rounds; round++)
    for (let k = 0; k < contenders.length; k++) {
      const contender = contenders[(k + round) % contenders.length]!;
      otherWork();
      let own: unknown;
      const whole = timed(() => (own = contender.turn(round)));
      if (round >= warmUp) samples.get(contender.name)!.push(typeof own === 'number' ? own : whole);
    }
  report(plan, samples);
}

export function report(plan: Plan, samples: ReadonlyMap<string, readonly number[]>): void {
  const { ours } = plan;
  const base = samples.get(ours)!;
  const lines: string[][] = [];
  for (const [name, list] of samples) {
    const ratios = list.map((ms, i) => ms / base[i]!);
    const goal = plan.goals?.find((g) => g.against === name);
    const line = [name, spread(quartiles(list), milliseconds)];
    if (name === ours) {
      line.push('1');
      if (plan.under !== undefined)
        line.push(`under ${plan.under} ms`, verdict(quartiles(list).middle <= plan.under));
    } else {
      const q = quartiles(ratios);
      // A contender that we may be slower than is shown the other way round: how many times its time we take.
      if (goal?.atMost === undefined) line.push(`${spread(q, number)} ×`);
      else
        line.push(`we take ${spread({ low: 1 / q.high, middle: 1 / q.middle, high: 1 / q.low }, number)} ×`);
      if (goal?.atLeast !== undefined) line.push(`≥ ${goal.atLeast} ×`, verdict(q.middle >= goal.atLeast));
      if (goal?.atMost !== undefined) line.push(`≤ ${goal.atMost} ×`, verdict(1 / q.middle <= goal.atMost));
    }
    lines.push(line);
  }
  print(plan.title, lines);
}

function verdict(reached: boolean): string {
  if (!reached) process.exitCode = 1;
  return reached ? 'yes' : 'NO';
}

/** A line for a measurement without contenders. */
export function reportAlone(
  title: string,
  rows: readonly { readonly name: string; readonly ms: readonly number[]; readonly under?: number }[],
): void {
  print(
    title,
    rows.map(({ name, ms, under }) => {
      const q = quartiles(ms);
      return [
        name,
        spread(q, milliseconds),
        '',
        ...(under === undefined ? [] : [`under ${under} ms`, verdict(q.middle <= under)]),
      ];
    }),
  );
}

function spread(q: Quartiles, shown: (x: number) => string): string {
  return `${shown(q.middle)} [${shown(q.low)}–${shown(q.high)}]`;
}

function milliseconds(ms: number): string {
  return ms >= 100 ? ms.toFixed(0) : ms >= 10 ? ms.toFixed(1) : ms >= 0.1 ? ms.toFixed(2) : ms.toFixed(4);
}

function number(x: number): string {
  return x >= 100 ? x.toFixed(0) : x >= 10 ? x.toFixed(1) : x.toFixed(2);
}

const HEAD = ['contender', 'median ms [quartiles]', 'ratio', 'goal', 'reached'];

export function print(title: string, lines: readonly (readonly string[])[]): void {
  const all = [HEAD, ...lines];
  const widths = HEAD.map((_, k) => Math.max(...all.map((line) => line[k]?.length ?? 0)));
  console.log(`\n${title}`);
  for (const line of all)
    console.log(
      `  ${HEAD.map((_, k) => (line[k] ?? '').padEnd(widths[k]!))
        .join('  ')
        .trimEnd()}`,
    );
}

/** Contenders must have calculated the same, or their times say nothing. */
export function agree(
  what: string,
  ours: ArrayLike<number>,
  theirs: ArrayLike<number>,
  by: string,
  names: (i: number) => string,
): void {
  if (ours.length !== theirs.length)
    throw new Error(`${what}: ${by} has ${theirs.length} values, not ${ours.length}`);
  for (let i = 0; i < ours.length; i++) {
    const a = ours[i]!;
    const b = theirs[i]!;
    if (!(Math.abs(a - b) <= 1e-9 * Math.max(Math.abs(a), Math.abs(b), 1e-300)))
      throw new Error(`${what}: ${names(i)} is ${a}, but ${b} by ${by}`);
  }
}

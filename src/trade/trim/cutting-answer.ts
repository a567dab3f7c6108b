import { fault, lengthInWords, numeral, type Fault } from '../../engine/index.ts';
import { planCost, planProblems, takenLength, type Plan } from './cutting-job.ts';
import type { CuttingRequest, Objective, PreparedJob } from './cutting-request.ts';
import { writePlan, type PlannedStick } from './plan-notation.ts';
import { firstFitPlan } from './quick-plan.ts';

/** A plan with what is known of the least possible, in the job's whole costs. */
export interface KnownPlan {
  readonly plan: Plan;
  /** Undefined: nothing is known yet. */
  readonly bound?: number;
}

const COIN = 10_000;

/** The record that `cutting_plan` gives: totals, what is proved, and the plan itself as text. */
export function cuttingAnswer(request: CuttingRequest, prepared: PreparedJob, known: KnownPlan) {
  const { job, stocks, unit } = prepared;
  const problems = planProblems(job, known.plan);
  if (problems.length > 0) throw new Error(`a plan that does not hold was made: ${problems.join('; ')}`);
  const sticks = plannedSticks(prepared, known.plan, request.keepLonger);
  const used = (onHand: boolean) =>
    known.plan
      .filter(({ pattern }) => stocks[pattern.stock]?.onHand === onHand)
      .reduce(
        (sum, { pattern, times }) => {
          const stock = stocks[pattern.stock];
          return {
            count: sum.count + times,
            length: sum.length + times * (stock?.nominal ?? 0),
            price: sum.price + times * (stock?.price ?? 0),
          };
        },
        { count: 0, length: 0, price: 0 },
      );
  const bought = used(false);
  const fromHand = used(true);
  const cut = prepared.marks.flat().reduce((sum, { length }) => sum + length, 0);
  const kept = sticks.filter((stick) => stick.keep !== undefined);
  const keptLength = kept.reduce((sum, stick) => sum + stick.left, 0);
  const total = bought.length + fromHand.length;
  const cost = planCost(job, known.plan);
  return {
    price: bought.price,
    sticks: bought.count,
    bought_length: bought.length,
    from_hand: fromHand.count,
    cut_length: cut,
    kept_offcuts: kept.length,
    kept_length: keptLength,
    waste: (total - cut - keptLength) / total,
    gap: known.bound === undefined ? NaN : cost > 0 ? (cost - known.bound) / cost : 0,
    first_fit_price: firstFitPrice(prepared),
    status: statusOf(prepared.objective, cost, known.bound, unit),
    plan: writePlan(sticks),
  };
}

/** Before the first piece nothing is wrong and nothing is known. */
export const NO_PLAN = {
  price: 0,
  sticks: 0,
  bought_length: 0,
  from_hand: 0,
  cut_length: 0,
  kept_offcuts: 0,
  kept_length: 0,
  waste: NaN,
  gap: 0,
  first_fit_price: 0,
  status: 'nothing to cut',
  plan: '',
};

export const NOT_ENOUGH: Fault = fault(
  'The sticks that there are do not give all the pieces.',
  'Raise the number of one of them, or leave “at most” blank for what can be bought.',
);

const LEAST: Readonly<Record<Objective, string>> = {
  price: 'least price, proved',
  length: 'least length, proved',
  sticks: 'fewest sticks, proved',
};

function statusOf(objective: Objective, cost: number, bound: number | undefined, unit: number): string {
  if (bound === undefined) return 'quick plan, not yet proved';
  if (cost <= bound) return LEAST[objective];
  const gap = cost - bound;
  const shown =
    objective === 'price'
      ? `$${numeral(gap / COIN, 2)}`
      : objective === 'length'
        ? lengthInWords(gap * unit)
        : `${gap} ${gap === 1 ? 'stick' : 'sticks'}`;
  return `within ${shown} of the least possible`;
}

/** First fit decreasing from the longest stock alone, as the saw does without a plan. NaN where that cannot be. */
function firstFitPrice(prepared: PreparedJob): number {
  const { job, stocks } = prepared;
  const longest = stocks.reduce(
    (best, stock, s) =>
      !stock.onHand && (best < 0 || (job.stocks[s]?.length ?? 0) > (job.stocks[best]?.length ?? 0))
        ? s
        : best,
    -1,
  );
  const stock = job.stocks[longest];
  const plan = stock && firstFitPlan({ ...job, stocks: [{ ...stock, limit: Infinity }] }, 0);
  if (!plan) return NaN;
  return plan.reduce((sum, { times }) => sum + times, 0) * (stocks[longest]?.price ?? 0);
}

/** Stick by stick, long pieces first, with the marks that each holds. */
function plannedSticks(prepared: PreparedJob, plan: Plan, keepLonger: number): PlannedStick[] {
  const { job, stocks, unit } = prepared;
  const next = job.pieces.map(() => 0);
  const sorted = plan
    .map((use) => ({
      ...use,
      longest: use.pattern.counts.findIndex((count) => count > 0),
      taken: takenLength(job, use.pattern.counts),
    }))
    .sort((a, b) => a.longest - b.longest || b.taken - a.taken);
  const sticks: PlannedStick[] = [];
  let kept = 0;
  for (const { pattern, times, taken } of sorted)
    for (let n = 0; n < times; n++) {
      const pieces: [string, number][] = [];
      pattern.counts.forEach((count, i) => {
        for (let k = 0; k < count; k++) {
          const at = next[i] ?? 0;
          next[i] = at + 1;
          const piece = prepared.marks[i]?.[at];
          if (piece) pieces.push([piece.mark, piece.length]);
        }
      });
      const room = (job.stocks[pattern.stock]?.length ?? 0) - taken;
      // To a tenth of a micrometre: the text should not show how doubles round.
      const left = Math.round(Math.max(0, room) * unit * 1e7) / 1e7;
      const keep = left > keepLonger && left > 0;
      if (keep) kept++;
      sticks.push({
        stock: stocks[pattern.stock]?.nominal ?? 0,
        onHand: stocks[pattern.stock]?.onHand ?? false,
        pieces,
        left,
        ...(keep ? { keep: `K${kept}` } : {}),
      });
    }
  return sticks;
}

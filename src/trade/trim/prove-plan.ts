/**
 * The least-cost cutting plan, proved. The cost hangs only on how many sticks of each length are taken, so the search
 * branches on those numbers: each branch has a bound by column generation; where the numbers are whole, a plan with
 * just those sticks is looked for by diving and by an integer program over all patterns that it could hold.
 *
 * P. C. Gilmore, R. E. Gomory, “A linear programming approach to the cutting-stock problem”, Operations Research 9
 * (1961); bounds by weak duality. From memory, not read here; the instances in tests/reference are the check.
 */
import { ColumnGeneration, SCALE, type Worths } from './column-generation.ts';
import { planCost, planProblems, tidied, type CuttingJob, type Pattern, type Plan } from './cutting-job.ts';
import { quickPlan } from './quick-plan.ts';
import { integerPlan, type Demand, type LinearSolution, type Solver } from './solver.ts';

export interface Proof {
  readonly plan: Plan;
  readonly cost: number;
  /** No plan costs less than this. */
  readonly bound: number;
  readonly optimal: boolean;
}

export interface ProofProgress extends Proof {
  readonly seconds: number;
}

export interface ProofLimits {
  readonly seconds: number;
  readonly progress?: (sofar: ProofProgress) => void;
  /** Milliseconds, rising. */
  readonly clock?: () => number;
}

/** Patterns in one integer program. */
const MOST_PATTERNS = 20_000;
/** Of the seconds left, the part that one integer program may take. */
const PART = 0.4;

/** Undefined where the stock does not suffice. Costs must be whole numbers. */
export function provePlan(solver: Solver, job: CuttingJob, limits: ProofLimits): Proof | undefined {
  const quick = quickPlan(job);
  if (!quick) return undefined;
  // Costs in their largest common step: a plan that is better is better by one at least.
  const step = job.stocks.map((stock) => stock.cost).reduce(commonStep, 0) || 1;
  const stocks = job.stocks.map((stock) => ({ ...stock, cost: stock.cost / step }));
  const progress = limits.progress;
  const scaled = (proof: Proof): Proof => ({ ...proof, cost: proof.cost * step, bound: proof.bound * step });
  const search = new Search(solver, { ...job, stocks }, quick, {
    ...limits,
    ...(progress && { progress: (sofar) => progress({ ...sofar, ...scaled(sofar) }) }),
  });
  return scaled(search.run());
}

/** A branch: between how many and how many sticks of each stock. */
interface Branch {
  readonly least: readonly number[];
  readonly most: readonly number[];
  /** No plan in it costs less. */
  readonly bound: number;
}

class Search {
  readonly #solver: Solver;
  readonly #job: CuttingJob;
  readonly #limits: ProofLimits;
  readonly #clock: () => number;
  readonly #start: number;
  readonly #demand: readonly number[];
  #best: Plan;
  #cost: number;
  #bound = 0;

  constructor(solver: Solver, job: CuttingJob, quick: Plan, limits: ProofLimits) {
    this.#solver = solver;
    this.#job = job;
    this.#limits = limits;
    this.#clock = limits.clock ?? (() => performance.now());
    this.#start = this.#clock();
    this.#demand = job.pieces.map((piece) => piece.demand);
    this.#best = quick;
    this.#cost = planCost(job, quick);
  }

  run(): Proof {
    const columns = ColumnGeneration.of(this.#solver, this.#job);
    if (!columns) return this.#proof();
    try {
      for (const { pattern } of this.#best) columns.master.add(pattern);
      this.#branches(columns);
      return this.#proof();
    } finally {
      columns.dispose();
    }
  }

  /** Best bound first. */
  #branches(columns: ColumnGeneration): void {
    const root: Branch = {
      least: this.#job.stocks.map(() => 0),
      most: this.#job.stocks.map((stock) => stock.limit),
      bound: 0,
    };
    const open = [root];
    /** Least bound of the branches that were given up. */
    let unsettled = Infinity;
    for (let branch = takeLeast(open); branch; branch = takeLeast(open)) {
      this.#bound = Math.min(branch.bound, unsettled, this.#cost);
      if (this.#done()) return;
      const demand: Demand = { pieces: this.#demand, least: branch.least, most: branch.most };
      const solution = columns.run(demand, () => this.#late());
      if (!solution) return;
      const worths = columns.worths(solution, demand);
      const bound = Math.max(branch.bound, Math.ceil(worths.bound / SCALE - 1e-9));
      this.#bound = Math.min(bound, leastOf(open), unsettled, this.#cost);
      this.#report();
      if (bound >= this.#cost) continue;
      this.#dive(columns, solution, demand);
      if (bound >= this.#cost) continue;
      const numbers = this.#sticks(columns, solution);
      const at = mostBroken(numbers);
      if (at >= 0) {
        const whole = Math.floor(numbers[at] ?? 0);
        open.push({ ...branch, most: branch.most.with(at, whole), bound });
        open.push({ ...branch, least: branch.least.with(at, whole + 1), bound });
        continue;
      }
      const counts = numbers.map((count) => Math.round(count));
      const settled = this.#settle(columns, counts);
      if (!settled) unsettled = Math.min(unsettled, bound);
      if (this.#late()) return;
      open.push(...around(branch, counts, bound));
    }
    this.#bound = Math.min(unsettled, this.#cost);
  }

  #sticks(columns: ColumnGeneration, solution: LinearSolution): number[] {
    const numbers = this.#job.stocks.map(() => 0);
    solution.uses.forEach((use, p) => {
      const stock = columns.master.patterns[p]?.stock ?? 0;
      numbers[stock] = (numbers[stock] ?? 0) + use;
    });
    return numbers;
  }

  /** Fixes sticks one lot after the other, always the surest, and finds what the rest should then be. */
  #dive(columns: ColumnGeneration, first: LinearSolution, from: Demand): void {
    const pieces = [...from.pieces];
    const least = [...from.least];
    const most = [...from.most];
    const fixed: { pattern: Pattern; times: number }[] = [];
    let solution: LinearSolution | undefined = first;
    while (solution?.covered) {
      this.#complete(columns, solution, { pieces, least, most }, fixed);
      if (this.#done()) return;
      const take = (p: number, times: number): void => {
        const pattern = columns.master.patterns[p];
        if (!pattern) return;
        fixed.push({ pattern, times });
        least[pattern.stock] = Math.max(0, (least[pattern.stock] ?? 0) - times);
        most[pattern.stock] = Math.max(0, (most[pattern.stock] ?? 0) - times);
        pattern.counts.forEach((count, i) => {
          pieces[i] = Math.max(0, (pieces[i] ?? 0) - count * times);
        });
      };
      let surest = -1;
      let any = false;
      for (const [p, use] of solution.uses.entries()) {
        const whole = Math.floor(use + 1e-6);
        if (whole > 0) take(p, whole);
        any ||= whole > 0;
        if (use > 1e-6 && use > (solution.uses[surest] ?? 0)) surest = p;
      }
      if (!any) {
        if (surest < 0) return;
        take(surest, 1);
      }
      if (pieces.every((count) => count === 0)) {
        this.#consider(fixed);
        return;
      }
      solution = columns.run({ pieces, least, most }, () => this.#late());
    }
  }

  /** A plan from the whole part of a linear solution, the rest cut by the quick rules. */
  #complete(columns: ColumnGeneration, solution: LinearSolution, demand: Demand, fixed: Plan): void {
    const rest = [...demand.pieces];
    const left = [...demand.most];
    const plan = [...fixed];
    solution.uses.forEach((use, p) => {
      const pattern = columns.master.patterns[p];
      const times = Math.floor(use + 1e-6);
      if (!pattern || times < 1) return;
      plan.push({ pattern, times });
      left[pattern.stock] = (left[pattern.stock] ?? 0) - times;
      pattern.counts.forEach((count, i) => {
        rest[i] = Math.max(0, (rest[i] ?? 0) - count * times);
      });
    });
    const quick = quickPlan({
      kerf: this.#job.kerf,
      pieces: this.#job.pieces.map((piece, i) => ({ length: piece.length, demand: rest[i] ?? 0 })),
      stocks: this.#job.stocks.map((stock, s) => ({ ...stock, limit: Math.max(0, left[s] ?? 0) })),
    });
    if (quick) this.#consider([...plan, ...quick]);
  }

  /** Whether there is a plan of just these sticks. True: it was found, or there is none. */
  #settle(columns: ColumnGeneration, counts: readonly number[]): boolean {
    const demand: Demand = { pieces: this.#demand, least: counts, most: counts };
    const cost = counts.reduce((sum, count, s) => sum + count * (this.#job.stocks[s]?.cost ?? 0), 0);
    const known = this.#integer(columns.master.patterns, demand, cost);
    if (known.plan) {
      this.#consider(known.plan);
      return true;
    }
    const solution = columns.run(demand, () => this.#late());
    if (!solution) return false;
    const worths: Worths = columns.worths(solution, demand);
    if (worths.bound / SCALE > cost + 1e-6) return true;
    const patterns = columns.patterns(worths, demand, cost, MOST_PATTERNS);
    if (!patterns) return false;
    const all = this.#integer(patterns, demand, cost);
    if (all.plan) this.#consider(all.plan);
    return all.settled;
  }

  #integer(patterns: readonly Pattern[], demand: Demand, cost: number) {
    const seconds = (this.#limits.seconds - this.#seconds()) * PART;
    if (seconds <= 0) return { settled: false };
    return integerPlan(this.#solver, this.#job, {
      patterns: patterns.filter((pattern) => (demand.most[pattern.stock] ?? 0) > 0),
      least: demand.least,
      most: demand.most,
      atLeast: 0,
      atMost: cost,
      seconds,
      progress: () => {
        this.#report();
      },
    });
  }

  #consider(plan: Plan): void {
    const tidy = tidied(this.#job, plan);
    const cost = planCost(this.#job, tidy);
    if (cost >= this.#cost || planProblems(this.#job, tidy).length > 0) return;
    this.#best = tidy;
    this.#cost = cost;
    this.#report();
  }

  #seconds(): number {
    return (this.#clock() - this.#start) / 1000;
  }

  #late(): boolean {
    return this.#seconds() >= this.#limits.seconds;
  }

  #done(): boolean {
    return this.#cost <= this.#bound || this.#late();
  }

  #proof(): Proof {
    const bound = Math.min(this.#bound, this.#cost);
    return { plan: this.#best, cost: this.#cost, bound, optimal: this.#cost <= bound };
  }

  #report(): void {
    this.#limits.progress?.({ ...this.#proof(), seconds: this.#seconds() });
  }
}

function takeLeast(open: Branch[]): Branch | undefined {
  let at = -1;
  open.forEach((branch, i) => {
    // Of equal ones the youngest: it is the deepest, and finds plans.
    if (at < 0 || branch.bound <= (open[at]?.bound ?? Infinity)) at = i;
  });
  return at < 0 ? undefined : open.splice(at, 1)[0];
}

function leastOf(open: readonly Branch[]): number {
  return open.reduce((least, branch) => Math.min(least, branch.bound), Infinity);
}

/** The number that is farthest from whole, or -1. */
function mostBroken(numbers: readonly number[]): number {
  let at = -1;
  let most = 1e-5;
  numbers.forEach((count, s) => {
    const off = Math.abs(count - Math.round(count));
    if (off > most) {
      at = s;
      most = off;
    }
  });
  return at;
}

/** What is left of a branch when one set of numbers is taken out of it. */
function around(branch: Branch, counts: readonly number[], bound: number): Branch[] {
  const parts: Branch[] = [];
  let { least, most } = branch;
  counts.forEach((count, s) => {
    if (count > (least[s] ?? 0)) parts.push({ least, most: most.with(s, count - 1), bound });
    if (count < (most[s] ?? 0)) parts.push({ least: least.with(s, count + 1), most, bound });
    least = least.with(s, count);
    most = most.with(s, count);
  });
  return parts;
}

function commonStep(a: number, b: number): number {
  let [x, y] = [a, b];
  while (y > 0) [x, y] = [y, x % y];
  return x;
}

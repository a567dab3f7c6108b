import type { CuttingJob, Pattern } from './cutting-job.ts';
import { KnapsackTable } from './knapsack.ts';
import { RestrictedMaster, type Demand, type LinearSolution, type Solver } from './solver.ts';

/** Whole worths, in `SCALE` parts of a cost, of which no pattern is worth more than its stick costs. */
export interface Worths {
  readonly pieces: readonly number[];
  /** What a stick of each stock is worth beside its pieces: its cost less the best pattern. */
  readonly stocks: readonly number[];
  /** No plan for the demand costs less than this: weak duality, in whole numbers. */
  readonly bound: number;
}

/** Worths are held as whole numbers of this part of a cost. */
export const SCALE = 2 ** 20;
/** Cells of the knapsack table: 240 MB. */
const MOST_CELLS = 30_000_000;

/**
 * The cutting patterns of a job, made as a linear program asks for them (column generation). A pattern never holds a
 * piece more often than it is needed, without which the bound is lower.
 */
export class ColumnGeneration {
  readonly master: RestrictedMaster;
  readonly #job: CuttingJob;
  readonly #table: KnapsackTable;
  readonly #rooms: readonly number[];
  readonly #demand: readonly number[];

  private constructor(solver: Solver, job: CuttingJob, table: KnapsackTable, rooms: readonly number[]) {
    this.master = new RestrictedMaster(solver, job);
    this.#job = job;
    this.#table = table;
    this.#rooms = rooms;
    this.#demand = job.pieces.map((piece) => piece.demand);
  }

  /** Undefined where the lengths are too many and too fine for the table of the knapsack. */
  static of(solver: Solver, job: CuttingJob): ColumnGeneration | undefined {
    // Lengths in their largest common measure keep the table small.
    const taken = job.pieces.map((piece) => piece.length + job.kerf);
    const measure = taken.reduce(commonMeasure, 0) || 1;
    const rooms = job.stocks.map((stock) => Math.floor((stock.length + job.kerf) / measure));
    const capacity = Math.max(...rooms);
    if ((taken.length + 1) * (capacity + 1) > MOST_CELLS) return undefined;
    const weights = taken.map((each) => each / measure);
    const bounds = job.pieces.map((piece) => piece.demand);
    return new ColumnGeneration(solver, job, new KnapsackTable(weights, bounds, capacity), rooms);
  }

  /** Adds patterns until none is missing; undefined when `stop` says so or the program cannot be solved. */
  run(demand: Demand, stop: () => boolean): LinearSolution | undefined {
    for (;;) {
      const solution = this.master.solve(demand);
      if (!solution || stop()) return undefined;
      const worths = solution.pieceWorth.map((worth) => Math.round(worth * SCALE));
      this.#table.solve(worths, demand.pieces);
      let added = false;
      for (const [s, room] of this.#rooms.entries()) {
        const worth = ((this.#job.stocks[s]?.cost ?? 0) - (solution.stockWorth[s] ?? 0)) * SCALE;
        if ((demand.most[s] ?? 0) < 1 || this.#table.best(room) <= worth + SCALE * 1e-5) continue;
        if (this.master.add({ stock: s, counts: this.#table.counts(room, worths, demand.pieces) }))
          added = true;
      }
      if (!added) return solution;
    }
  }

  /** What the prices of a linear solution prove, free of rounding errors. */
  worths(solution: LinearSolution, demand: Demand): Worths {
    const { stocks } = this.#job;
    let pieces = solution.pieceWorth.map((worth) => Math.floor(worth * SCALE));
    for (;;) {
      this.#table.solve(pieces, demand.pieces);
      // What can be bought without end must not be worth more than it costs.
      let factor = 1;
      stocks.forEach((stock, s) => {
        const most = this.#table.best(this.#rooms[s] ?? 0);
        const cost = stock.cost * SCALE;
        if (demand.most[s] === Infinity && most > cost) factor = Math.min(factor, cost / most);
      });
      if (factor === 1) break;
      pieces = pieces.map((worth) => Math.max(0, Math.floor(worth * factor) - 1));
    }
    let bound = pieces.reduce((sum, worth, i) => sum + worth * (demand.pieces[i] ?? 0), 0);
    const spare = stocks.map((stock, s) => {
      const worth = stock.cost * SCALE - this.#table.best(this.#rooms[s] ?? 0);
      const count = (worth > 0 ? demand.least[s] : demand.most[s]) ?? 0;
      if (count > 0 && count < Infinity) bound += worth * count;
      return worth;
    });
    return { pieces, stocks: spare, bound };
  }

  /**
   * Every full pattern that a plan can hold which costs at most `most`; undefined where there are more than `limit`.
   */
  patterns(worths: Worths, demand: Demand, most: number, limit: number): Pattern[] | undefined {
    this.#table.solve(worths.pieces, this.#demand);
    const within = most * SCALE - worths.bound;
    const found: Pattern[] = [];
    for (const [s, stock] of this.#job.stocks.entries()) {
      if ((demand.most[s] ?? 0) < 1) continue;
      const spare = worths.stocks[s] ?? 0;
      const held = spare > 0 ? (demand.least[s] ?? 0) > 0 : (demand.most[s] ?? 0) < Infinity;
      // One stick of a pattern costs more than the bound by what the stick costs beyond the worth of its pieces.
      const least = stock.cost * SCALE - (held ? spare : 0) - within;
      const counts = this.#table.patterns(this.#rooms[s] ?? 0, worths.pieces, least, limit - found.length);
      if (!counts) return undefined;
      for (const each of counts) found.push({ stock: s, counts: each });
    }
    return found;
  }

  dispose(): void {
    this.master.dispose();
  }
}

function commonMeasure(a: number, b: number): number {
  let [x, y] = [a, b];
  while (y > 0) [x, y] = [y, x % y];
  return x;
}

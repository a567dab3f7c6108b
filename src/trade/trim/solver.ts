/**
 * Linear and integer programs over cutting patterns, solved by HiGHS (MIT licence) in WebAssembly. The one place that
 * knows the package; it is loaded when a plan is first to be proved, not before.
 */
import type { Highs, Model } from 'highs';
import type { CuttingJob, Pattern, Plan } from './cutting-job.ts';

export type Solver = Highs;

/** `wasm` is the address of `highs.wasm` where the package cannot find it by itself. */
export async function loadSolver(wasm?: string): Promise<Solver> {
  const { default: load } = await import('highs');
  return load(wasm === undefined ? {} : { locateFile: () => wasm });
}

const OPTIMAL = 7;
const INFEASIBLE = 8;
const INTEGER = 1;
/** What a piece costs that no pattern covers, in sticks. */
const BEYOND = 1000;

export interface LinearSolution {
  readonly cost: number;
  /** Worth of one more of each piece. */
  readonly pieceWorth: readonly number[];
  /** Worth of one more stick of each stock, where its number is held. */
  readonly stockWorth: readonly number[];
  /** How often each pattern is used, in the order in which they were added. */
  readonly uses: readonly number[];
  /** True: the patterns cover the demand. */
  readonly covered: boolean;
}

/** What is to be cut, and between how many and how many sticks of each stock are to be used. */
export interface Demand {
  readonly pieces: readonly number[];
  readonly least: readonly number[];
  readonly most: readonly number[];
}

/**
 * The linear program over the patterns known so far: cover the demand at least cost. A piece that no pattern can
 * cover is bought at a cost beyond any stick, so that there is always a solution and always a price for each piece.
 */
export class RestrictedMaster {
  readonly patterns: Pattern[] = [];
  readonly #job: CuttingJob;
  readonly #model: Model;
  readonly #keys = new Set<string>();
  #asked: Demand | undefined;

  constructor(solver: Solver, job: CuttingJob) {
    this.#job = job;
    this.#model = solver.createModel();
    this.#model.options.set({ output_flag: false, presolve: 'off' });
    const none = { indices: [], values: [] };
    const beyond = BEYOND * Math.max(1, ...job.stocks.map((stock) => stock.cost));
    for (const { demand } of job.pieces) this.#model.addRow(demand, Infinity, none);
    for (const stock of job.stocks) this.#model.addRow(0, stock.limit, none);
    job.pieces.forEach((_, i) => this.#model.addCol(beyond, 0, Infinity, { indices: [i], values: [1] }));
  }

  /** False: it was there already. */
  add(pattern: Pattern): boolean {
    const key = `${pattern.stock}:${pattern.counts.join()}`;
    if (this.#keys.has(key)) return false;
    this.#keys.add(key);
    this.patterns.push(pattern);
    const { indices, values } = entries(pattern);
    indices.push(this.#job.pieces.length + pattern.stock);
    values.push(1);
    this.#model.addCol(this.#job.stocks[pattern.stock]?.cost ?? 0, 0, Infinity, { indices, values });
    return true;
  }

  solve(demand: Demand): LinearSolution | undefined {
    const pieces = this.#job.pieces.length;
    if (demand !== this.#asked) {
      demand.pieces.forEach((count, i) => this.#model.changeRowBounds(i, count, Infinity));
      demand.least.forEach((least, s) =>
        this.#model.changeRowBounds(pieces + s, least, demand.most[s] ?? Infinity),
      );
    }
    this.#asked = demand;
    this.#model.run();
    if (this.#model.getModelStatus() !== OPTIMAL) return undefined;
    const { rowDual, colValue } = this.#model.getSolution();
    return {
      cost: this.#model.getObjectiveValue(),
      pieceWorth: Array.from(rowDual.subarray(0, pieces), (dual) => Math.max(0, dual)),
      stockWorth: [...rowDual.subarray(pieces)],
      uses: [...colValue.subarray(pieces)],
      covered: colValue.subarray(0, pieces).every((bought) => bought < 1e-7),
    };
  }

  dispose(): void {
    this.#model.dispose();
  }
}

function entries(pattern: Pattern): { indices: number[]; values: number[] } {
  const indices: number[] = [];
  const values: number[] = [];
  pattern.counts.forEach((count, i) => {
    if (count === 0) return;
    indices.push(i);
    values.push(count);
  });
  return { indices, values };
}

export interface IntegerQuestion {
  readonly patterns: readonly Pattern[];
  /** How many sticks of each stock: from, to. */
  readonly least: readonly number[];
  readonly most: readonly number[];
  /** Only plans from this cost to that are asked for. */
  readonly atLeast: number;
  readonly atMost: number;
  readonly seconds: number;
  readonly progress: () => void;
}

/**
 * The cheapest plan of whole sticks from these patterns, within two costs. `settled` says that the question was
 * answered: without a plan there is none at that cost.
 */
export function integerPlan(
  solver: Solver,
  job: CuttingJob,
  question: IntegerQuestion,
): { readonly plan?: Plan; readonly settled: boolean } {
  const { patterns, atLeast, atMost } = question;
  const pieces = job.pieces.length;
  const stocks = job.stocks.length;
  // Beside the patterns, how many sticks of each stock: the cost hangs on those alone, and they are branched on.
  const indices: number[] = [];
  const values: number[] = [];
  const starts = [0];
  for (const pattern of patterns) {
    const column = entries(pattern);
    indices.push(...column.indices, pieces + pattern.stock);
    values.push(...column.values, 1);
    starts.push(indices.length);
  }
  job.stocks.forEach((stock, s) => {
    indices.push(pieces + s, pieces + stocks);
    values.push(-1, stock.cost);
    starts.push(indices.length);
  });
  const numCols = patterns.length + stocks;
  const model = solver.createModel({
    numCols,
    numRows: pieces + stocks + 1,
    colCost: [...patterns.map(() => 0), ...job.stocks.map((stock) => stock.cost)],
    colLower: [...patterns.map(() => 0), ...question.least],
    colUpper: [...patterns.map((p) => mostUses(job, p)), ...question.most],
    rowLower: [...job.pieces.map((piece) => piece.demand), ...job.stocks.map(() => 0), atLeast],
    rowUpper: [...job.pieces.map(() => Infinity), ...job.stocks.map(() => 0), atMost],
    matrix: { format: 'csc', numRows: pieces + stocks + 1, numCols, starts, indices, values },
    integrality: new Array<0 | 1>(numCols).fill(INTEGER),
  });
  try {
    // Costs are whole numbers: a gap under one is none.
    model.options.set({
      output_flag: false,
      time_limit: question.seconds,
      mip_rel_gap: 0,
      mip_abs_gap: 0.99,
    });
    model.run({
      [solver.constants.callbackType.mipLogging]: () => {
        question.progress();
      },
    });
    const status = model.getModelStatus();
    if (status === INFEASIBLE) return { settled: true };
    const { colValue } = model.getSolution();
    const uses = patterns.map((pattern, p) => ({ pattern, times: Math.round(colValue[p] ?? 0) }));
    const plan = uses.filter(({ times }) => times > 0);
    const found = covers(job, plan);
    return { settled: status === OPTIMAL && found, ...(found ? { plan } : {}) };
  } finally {
    model.dispose();
  }
}

/** More sticks of a pattern than this cut nothing that is asked for. */
function mostUses(job: CuttingJob, pattern: Pattern): number {
  let most = 0;
  pattern.counts.forEach((count, i) => {
    if (count > 0) most = Math.max(most, Math.ceil((job.pieces[i]?.demand ?? 0) / count));
  });
  return Math.min(most, job.stocks[pattern.stock]?.limit ?? 0);
}

function covers(job: CuttingJob, plan: Plan): boolean {
  return job.pieces.every(
    (piece, i) =>
      plan.reduce((sum, { pattern, times }) => sum + times * (pattern.counts[i] ?? 0), 0) >= piece.demand,
  );
}

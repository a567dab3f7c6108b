/**
 * Cutting plans against published instances: the three-length example credited to Gilmore and Gomory (1961), the four
 * widths of a 1983 linear-programming textbook (p. 195), and the paper-mill example of the encyclopaedia article on the
 * cutting stock problem (13 widths from 5600 mm, 73 rolls proved). The rest are constructed; their optima were proved
 * by an independent integer program (SciPy 1.11 milp).
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { planCost, planProblems, type CuttingJob } from '../../src/trade/trim/cutting-job.ts';
import { provePlan, type Proof } from '../../src/trade/trim/prove-plan.ts';
import { firstFitPlan, quickPlan } from '../../src/trade/trim/quick-plan.ts';
import { loadSolver, type Solver } from '../../src/trade/trim/solver.ts';

let solver: Solver;
beforeAll(async () => {
  solver = await loadSolver();
});

type Pair = readonly [length: number, demand: number];

function jobOf(pieces: readonly Pair[], stocks: readonly Pair[], kerf = 0): CuttingJob {
  return {
    kerf,
    pieces: [...pieces].sort((a, b) => b[0] - a[0]).map(([length, demand]) => ({ length, demand })),
    stocks: stocks.map(([length, cost]) => ({ length, cost, limit: Infinity })),
  };
}

/** Sixteenths of an inch; the stick costs its feet. */
function feet(pieces: readonly Pair[], lengths: readonly number[], kerf: number): CuttingJob {
  return jobOf(
    pieces.map(([inches, demand]) => [inches * 16, demand]),
    lengths.map((ft) => [ft * 192, ft]),
    kerf * 16,
  );
}

function one(capacity: number, pieces: readonly Pair[]): CuttingJob {
  return jobOf(pieces, [[capacity, 1]]);
}

function prove(job: CuttingJob): Proof {
  const proof = provePlan(solver, job, { seconds: 20 });
  if (!proof) throw new Error('no plan');
  expect(planProblems(job, proof.plan)).toEqual([]);
  expect(planCost(job, proof.plan)).toBe(proof.cost);
  return proof;
}

const singles = (lengths: readonly number[]): Pair[] => lengths.map((length) => [length, 1]);
const PAPER: Pair[] = [
  [1380, 22],
  [1520, 25],
  [1560, 12],
  [1710, 14],
  [1820, 18],
  [1880, 18],
  [1930, 20],
  [2000, 10],
  [2050, 12],
  [2100, 14],
  [2140, 16],
  [2150, 18],
  [2200, 20],
];
const LP_1983: Pair[] = [
  [45, 97],
  [36, 610],
  [31, 395],
  [14, 211],
];
const FFD_A = [114, 102, 86, 73, 71, 58, 56, 49, 48, 42, 30, 28];
const FFD_B = [115, 109, 92, 91, 89, 88, 83, 76, 72, 54, 49, 24];
const SIX: Pair[] = [
  [84.25, 6],
  [37.5, 3],
  [62, 4],
  [48, 4],
  [28.75, 2],
  [100, 2],
];
const ROOM: Pair[] = [
  [83.6875, 4],
  [39.375, 2],
  [55.375, 4],
  [43.375, 4],
];
const FIVE = [8, 10, 12, 14, 16];

const CASES: readonly (readonly [name: string, job: CuttingJob, optimum: number])[] = [
  [
    'three priced lengths (1961)',
    jobOf(
      [
        [2, 20],
        [3, 10],
        [4, 20],
      ],
      [
        [5, 6],
        [6, 7],
        [9, 10],
      ],
    ),
    170,
  ],
  ['four widths from 100 (1983 textbook, p. 195)', one(100, LP_1983), 453],
  ['paper mill, 13 widths from 5600', one(5600, PAPER), 73],
  ['where first fit decreasing needs one more, a', one(192, singles(FFD_A)), 4],
  ['where first fit decreasing needs one more, b', one(192, singles(FFD_B)), 5],
  [
    'where pricing must not use a piece more than needed',
    one(132, [
      [44, 2],
      [33, 3],
      [12, 6],
    ]),
    3,
  ],
  ['four of 24 in from 8 ft without kerf', feet([[24, 4]], [8], 0), 8],
  ['four of 24 in from 8 ft with a kerf of 1/8 in', feet([[24, 4]], [8], 0.125), 16],
  ['eight of 48 in without kerf', feet([[48, 8]], FIVE, 0), 32],
  ['eight of 48 in with a kerf of 1/8 in', feet([[48, 8]], FIVE, 0.125), 38],
  ['casing of a door and a window, twice, least feet', feet(ROOM, FIVE, 0.125), 68],
  ['the same from 16 ft', feet(ROOM, [16], 0.125), 80],
  ['six lengths without kerf', feet(SIX, [8, 12, 16], 0), 116],
  ['six lengths with a kerf of 1/8 in', feet(SIX, [8, 12, 16], 0.125), 116],
];

describe('least-cost plans', () => {
  it.each(CASES)('%s', (_name, job, optimum) => {
    const proof = prove(job);
    expect(proof.cost).toBe(optimum);
    expect(proof.bound).toBe(optimum);
    expect(proof.optimal).toBe(true);
  });
});

describe('first-fit decreasing', () => {
  it.each([
    ['a', one(192, singles(FFD_A)), 5],
    ['b', one(192, singles(FFD_B)), 6],
    ['four widths from 100', one(100, LP_1983), 485],
    ['paper mill', one(5600, PAPER), 82],
  ] as const)('needs the published number of sticks: %s', (_name, job, sticks) => {
    const plan = firstFitPlan(job, 0);
    expect(plan && planProblems(job, plan)).toEqual([]);
    expect(plan && planCost(job, plan)).toBe(sticks);
    const quick = quickPlan(job);
    expect(quick && planCost(job, quick)).toBeLessThanOrEqual(sticks);
  });
});

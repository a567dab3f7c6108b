/**
 * 200 invented trim jobs, the same each time: how many plans are proved in 10 s of one core, how far the rest may be
 * from the least, and what planning saves against the saw without a plan and against a tenth more than the pieces.
 */
import { createRequire } from 'node:module';
import { planCost, planProblems, type CuttingJob } from '../../src/trade/trim/cutting-job.ts';
import { provePlan } from '../../src/trade/trim/prove-plan.ts';
import { firstFitPlan, quickPlan } from '../../src/trade/trim/quick-plan.ts';
import { loadSolver } from '../../src/trade/trim/solver.ts';
import { trimJob } from './cutting-jobs.ts';
import { quantile } from './rounds.ts';

const JOBS = 200;
const SECONDS = 10;

/** Time of this process alone: what else the machine does is no part of it. */
const busy = () => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

/** The longest stock: what is bought without a plan. */
function longest(job: CuttingJob): number {
  return job.stocks.reduce(
    (best, stock, s) => (stock.length > (job.stocks[best]?.length ?? 0) ? s : best),
    0,
  );
}

/** A tenth more than the pieces, in the longest stock; nothing says that the pieces can be cut from it. */
function tenPercent(job: CuttingJob): number {
  const stock = job.stocks[longest(job)];
  const length = job.pieces.reduce((sum, piece) => sum + piece.length * piece.demand, 0);
  return stock ? Math.ceil((length * 1.1) / stock.length) * stock.cost : NaN;
}

const percent = (part: number) => `${(part * 100).toFixed(2)} %`;

export async function run(): Promise<void> {
  // The bench runs from a bundle: the WebAssembly stands in the package.
  const solver = await loadSolver(createRequire(import.meta.url).resolve('highs/runtime'));
  const jobs = Number(process.env.CUTTING_JOBS ?? JOBS);
  const gaps: number[] = [];
  const seconds: number[] = [];
  const savedQuick: number[] = [];
  const savedFirstFit: number[] = [];
  const savedTen: number[] = [];
  let proved = 0;
  let tenTooLittle = 0;
  for (let seed = 0; seed < jobs; seed++) {
    const job = trimJob(seed);
    const quick = quickPlan(job);
    const firstFit = firstFitPlan(job, longest(job));
    const start = busy();
    const proof = provePlan(solver, job, { seconds: SECONDS, clock: busy });
    const took = (busy() - start) / 1000;
    if (!quick || !firstFit || !proof) throw new Error(`job ${seed} has no plan`);
    const problems = planProblems(job, proof.plan);
    if (problems.length > 0) throw new Error(`job ${seed}: ${problems.join('; ')}`);
    if (proof.cost > planCost(job, quick)) throw new Error(`job ${seed} is worse than its quick plan`);
    if (proof.optimal) proved++;
    else gaps.push(1 - proof.bound / proof.cost);
    seconds.push(took);
    savedQuick.push(1 - proof.cost / planCost(job, quick));
    savedFirstFit.push(1 - proof.cost / planCost(job, firstFit));
    savedTen.push(1 - proof.cost / tenPercent(job));
    if (tenPercent(job) < proof.cost) tenTooLittle++;
    if (process.env.CUTTING_TOLD)
      console.log(
        seed,
        proof.optimal ? 'proved' : percent(1 - proof.bound / proof.cost),
        took.toFixed(1),
        's',
      );
  }
  const mean = (list: readonly number[]) => list.reduce((a, b) => a + b, 0) / Math.max(1, list.length);
  const sorted = [...seconds].sort((a, b) => a - b);
  console.log(`
  ${jobs} jobs: 10 to 40 lengths, 30 to 300 pieces, 2 to 6 stock lengths, kerf, price least
  proved within ${SECONDS} s of one core   ${proved} (${percent(proved / jobs)})
  gap of the others              mean ${percent(mean(gaps))}, worst ${percent(Math.max(0, ...gaps))}
  seconds                        half under ${quantile(sorted, 0.5).toFixed(1)}, nine in ten under ${quantile(sorted, 0.9).toFixed(1)}
  saved against the quick plan   mean ${percent(mean(savedQuick))}
  against first fit, longest     mean ${percent(mean(savedFirstFit))}
  against length + 10 %          mean ${percent(mean(savedTen))}; in ${tenTooLittle} jobs a tenth more is too little`);
  if (proved < 0.9 * jobs) process.exitCode = 1;
}

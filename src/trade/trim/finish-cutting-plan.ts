import { isFault, type Answer, type Argument } from '../../engine/index.ts';
import { cuttingAnswer, NO_PLAN, NOT_ENOUGH } from './cutting-answer.ts';
import { cuttingRequest, type CuttingArguments } from './cutting-plan.ts';
import { prepareJob } from './cutting-request.ts';
import { provePlan, type Proof } from './prove-plan.ts';
import { loadSolver, type Solver } from './solver.ts';

export interface FinishTools {
  /** Longest time to take. */
  readonly seconds: number;
  /** Address of the solver's WebAssembly, where the package cannot find it by itself. */
  readonly wasm?: string;
  /** Told from time to time: the best so far, and in words how far the work is. */
  readonly progress?: (sofar: Answer, words: string) => void;
}

let solver: Promise<Solver> | undefined;

/** Works a cutting plan out to its end: the least possible, proved, or the best found in the time. */
export async function finishCuttingPlan(values: readonly Argument[], tools: FinishTools): Promise<Answer> {
  const request = cuttingRequest(values as unknown as CuttingArguments);
  const prepared = prepareJob(request);
  if (isFault(prepared)) return { result: prepared, full: true };
  if (prepared.job.pieces.length === 0) return { result: NO_PLAN, full: true };
  solver ??= loadSolver(tools.wasm);
  const loaded = await solver;
  const answer = ({ plan, bound }: Proof) => cuttingAnswer(request, prepared, { plan, bound });
  let told = -Infinity;
  let shown = Infinity;
  const proof = provePlan(loaded, prepared.job, {
    seconds: tools.seconds,
    progress: (sofar) => {
      if (!tools.progress || sofar.bound <= 0) return;
      // Often enough to see that it moves, seldom enough to cost nothing.
      if (sofar.seconds - told < 0.2 && sofar.cost >= shown) return;
      told = sofar.seconds;
      shown = sofar.cost;
      const result = answer(sofar);
      tools.progress({ result, full: false }, result.status);
    },
  });
  return proof ? { result: answer(proof), full: true } : { result: NOT_ENOUGH, full: true };
}

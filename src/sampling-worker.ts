/** Runs a sampled check beside the page: the workbook comes as text, progress and the result go back. */
import { FunctionLibrary, sampling } from './engine/index.ts';
import { tradeFunctions } from './trade/index.ts';
import { checkSample, readWorkbook, Workbook, type SampledCheck } from './workbook/index.ts';

export interface SamplingTask {
  readonly text: string;
  readonly name: string;
  readonly draws: number;
  readonly seed: number;
}

export type SamplingMessage =
  { readonly progress: number } | { readonly check: SampledCheck } | { readonly problem: string };

const DRAWS_A_STEP = 250;

function answer(message: SamplingMessage): void {
  postMessage(message);
}

function check(task: SamplingTask): SamplingMessage {
  const opened = readWorkbook(task.text);
  if ('code' in opened) return { problem: opened.found };
  const workbook = new Workbook(opened.document, new FunctionLibrary(tradeFunctions));
  // Before any draw: drawing changes what the budget would be taken from.
  const budget = workbook.budget(task.name);
  const run = sampling(workbook, [task.name], task.draws, task.seed);
  if (!budget || !run) return { problem: `${task.name} has no value to check.` };
  while (run.done < task.draws) {
    run.draw(DRAWS_A_STEP);
    answer({ progress: run.done / task.draws });
  }
  const [sample] = run.finish();
  return sample ? { check: checkSample(budget, sample) } : { problem: 'Nothing was drawn.' };
}

addEventListener('message', (event: MessageEvent<SamplingTask>) => {
  answer(check(event.data));
});

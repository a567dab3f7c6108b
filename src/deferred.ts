/** Has deferred functions finished in a worker, which stays for the next one: the solver takes a while to load. */
import type { Answer, DeferredTask } from './engine/index.ts';
import type { DeferredMessage, DeferredOrder } from './deferred-worker.ts';

interface Running {
  readonly result: Promise<Answer | { readonly problem: string }>;
  cancel(): void;
}

/** Longest time for one answer. */
const SECONDS = 30;

let idle: Worker | undefined;

export function finish(task: DeferredTask, told: (sofar: Answer, words: string) => void): Running {
  const worker = idle ?? new Worker(new URL('./deferred-worker.ts', import.meta.url), { type: 'module' });
  idle = undefined;
  const result = new Promise<Answer | { readonly problem: string }>((resolve) => {
    worker.onmessage = (event: MessageEvent<DeferredMessage>) => {
      const message = event.data;
      if ('sofar' in message) {
        told(message.sofar, message.words);
        return;
      }
      idle = worker;
      resolve('answer' in message ? message.answer : message);
    };
    worker.onerror = () => {
      worker.terminate();
      resolve({ problem: 'The solver could not be run here; the quick plan stands.' });
    };
  });
  const order: DeferredOrder = { name: task.name, arguments: task.arguments, seconds: SECONDS };
  worker.postMessage(order);
  return {
    result,
    cancel() {
      if (idle === worker) return;
      worker.terminate();
    },
  };
}

/** Finishes deferred functions beside the page: arguments come, the best so far and the full answer go back. */
import wasm from 'highs/runtime?url';
import type { Answer, Argument } from './engine/index.ts';
import { finishers } from './trade/index.ts';

export interface DeferredOrder {
  readonly name: string;
  readonly arguments: readonly Argument[];
  readonly seconds: number;
}

export type DeferredMessage =
  | { readonly sofar: Answer; readonly words: string }
  | { readonly answer: Answer }
  | { readonly problem: string };

function tell(message: DeferredMessage): void {
  postMessage(message);
}

async function answer(order: DeferredOrder): Promise<DeferredMessage> {
  const finisher = finishers[order.name];
  if (!finisher) return { problem: `${order.name} has no longer way to its answer.` };
  try {
    const found = await finisher(order.arguments, {
      seconds: order.seconds,
      wasm,
      progress: (sofar, words) => {
        tell({ sofar, words });
      },
    });
    return { answer: found };
  } catch (error) {
    return { problem: `The quick answer stands: ${error instanceof Error ? error.message : String(error)}` };
  }
}

addEventListener('message', (event: MessageEvent<DeferredOrder>) => {
  void answer(event.data).then(tell);
});

/** The short way round the demo: where each step leads and what it says there. */
import type { Session } from '../session.svelte.ts';

export interface TourStep {
  readonly title: string;
  readonly words: string;
  /** Undefined where the step only tells. */
  readonly go?: (session: Session) => Promise<void>;
}

export const TOUR: readonly TourStep[] = [
  {
    title: 'Type a reading',
    words:
      'What a person typed has a dotted line under it. Type over a reading: fit, result and figures follow at once, and Undo takes it back.',
    go: (session) => session.goTo('readings.fan_pressure', 0),
  },
  {
    title: 'Open any number',
    words:
      'Every other number comes from a formula that stands under it, with what it reads, what reads it, and where its ± comes from.',
    go: (session) => session.goTo('ach50'),
  },
  {
    title: 'Is it good enough?',
    words:
      'The title block always says the result, the target and how sure the margin is; the list of worksheets says how each of them stands.',
  },
  {
    title: 'Try before you build',
    words:
      'A scenario tries other values beside your own and tells whether the difference is more than its ±. “Solve” finds the input that meets a target.',
    go: (session) => {
      session.page = 'what-if';
      return Promise.resolve();
    },
  },
  {
    title: 'Begin your own job',
    words:
      'New asks a job for its own figures only. Everything is kept on this device; files, links and paper go where you send them.',
  },
];

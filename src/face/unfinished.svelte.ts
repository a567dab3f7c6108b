/**
 * Answers that take seconds: which are wanted on the sheet that is shown, which one is being worked out beside the
 * page, and what was stopped. One after the other; what an edit makes unwanted is given up at once.
 */
import type { Answer, DeferredTask } from '../engine/index.ts';
import { saidByFunction } from './display.ts';
import { standingOf } from './outline.ts';
import type { Session } from './session.svelte.ts';
import type { Desk, RunningAnswer } from './view.ts';

/** An edit is often followed by another. */
const PAUSE = 300;

export interface Progress {
  readonly key: string;
  /** Whose answer it is: the row's first word, or the cell's label. */
  readonly label: string;
  readonly words: string;
  readonly began: number;
}

export class Unfinished {
  readonly #session: Session;
  readonly #desk: Desk;
  readonly #stopped = new Set<string>();
  #work: RunningAnswer | undefined;
  #best: Answer | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;

  now = $state.raw<Progress>();
  /** How many wait for their turn. */
  waiting = $state(0);
  /** How many were stopped and are not proved. */
  stopped = $state(0);
  problem = $state('');

  constructor(session: Session, desk: Desk) {
    this.#session = session;
    this.#desk = desk;
  }

  /** Looks at what is wanted, a moment from now. */
  follow(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      this.#next();
    }, PAUSE);
  }

  /** Gives up everything: the page goes to another workbook. */
  leave(): void {
    clearTimeout(this.#timer);
    this.#give();
  }

  /** Keeps the best found so far and goes no further. */
  stop(): void {
    const { now } = this;
    const best = this.#best;
    this.#give();
    if (now && best) this.#session.workbook.answer(now.key, best);
    for (const task of this.#wanted()) this.#stopped.add(task.key);
    this.#session.announcement = 'Stopped. The best plan so far stands.';
    this.#next();
  }

  goOn(): void {
    this.#stopped.clear();
    this.problem = '';
    this.#next();
  }

  #wanted(): DeferredTask[] {
    const session = this.#session;
    if (session.page !== 'sheet') return [];
    return session.workbook
      .unfinished()
      .filter((task) => standingOf(session.outline, task.where)?.sheet.id === session.sheet?.id);
  }

  #give(): void {
    this.#work?.cancel();
    this.#work = undefined;
    this.#best = undefined;
    this.now = undefined;
  }

  /** False: nothing is left to begin. */
  #next(): boolean {
    const wanted = this.#wanted();
    const keys = new Set(wanted.map((task) => task.key));
    if (this.now && !keys.has(this.now.key)) this.#give();
    const open = wanted.filter((task) => !this.#stopped.has(task.key));
    this.stopped = wanted.length - open.length;
    const [first] = open;
    this.waiting = Math.max(0, open.length - 1);
    if (first && !this.#work) void this.#begin(first);
    return first !== undefined;
  }

  async #begin(task: DeferredTask): Promise<void> {
    const progress = { key: task.key, label: this.#label(task), began: performance.now() };
    this.now = { ...progress, words: 'looking for the least' };
    const work = this.#desk.finish(task, (sofar, words) => {
      if (this.#work !== work) return;
      this.#best = sofar;
      const said = saidByFunction(words, this.#session.system);
      if (said !== this.now?.words) this.now = { ...progress, words: said };
    });
    this.#work = work;
    const answer = await work.result;
    if (this.#work !== work) return;
    this.#give();
    if ('problem' in answer) {
      this.problem = answer.problem;
      for (const each of this.#wanted()) this.#stopped.add(each.key);
    } else this.#session.workbook.answer(task.key, answer);
    if (!this.#next()) this.#session.announcement = 'The plans of this sheet are worked out.';
  }

  #label(task: DeferredTask): string {
    const [table = ''] = task.where.split('.');
    const item = standingOf(this.#session.outline, task.where)?.item;
    if (item?.kind !== 'table' || task.row === undefined) return this.#session.label(task.where);
    const [first] = item.columns;
    const state = first && this.#session.workbook.columnState(table, first.name, task.row);
    return state?.state === 'value' ? String(state.value) : `row ${task.row + 1}`;
  }
}

/** What the title block says: result, target, margin; with words, because colour is never the only sign. */
import { oneSided95, textParts } from '../workbook/index.ts';
import { doubtWord, sampledText, show, type Shown } from './display.ts';
import { saidShortly } from './said.ts';
import type { Session } from './session.svelte.ts';
import type { CellState } from './view.ts';

export interface HeadlinePart {
  readonly label: string;
  readonly value: string;
  /** ± and unit. */
  readonly soft: string;
}

export interface HeadlineMargin {
  readonly label: string;
  readonly value: string;
  readonly word: string;
  readonly tone: 'ok' | 'hold' | 'fault' | '';
}

export interface Headline {
  readonly result: HeadlinePart;
  readonly target: HeadlinePart;
  readonly margin: HeadlineMargin;
}

/** `isTogether`: what is said of all targets together goes before the word of the first. */
export function headlineOf(session: Session, isTogether = true): Headline | undefined {
  const block = session.titleBlock;
  if (!block) return undefined;
  return {
    result: part(session, block.result),
    target: part(session, block.target),
    margin: saidOf(session, isTogether ? block.says : undefined, marginOf(session, block.margin)),
  };
}

interface ShownCell {
  readonly state: CellState;
  readonly shown: Shown;
  /** What sampling found where the ± does not hold. */
  readonly sampled: string | undefined;
}

function shownOf(session: Session, name: string): ShownCell {
  const item = session.standing(name)?.item;
  const rule = item?.kind === 'cell' && item.name === name ? item : { unit: '' };
  const state = session.state(name);
  return {
    state,
    shown: show(state, rule, session.system),
    sampled: sampledText(session.sampled(name), rule, state, session.system),
  };
}

function part(session: Session, name: string): HeadlinePart {
  const label = session.label(name);
  const { state, shown, sampled } = shownOf(session, name);
  if (shown.kind === 'value') {
    const plusMinus = sampled === undefined && shown.plusMinus !== undefined ? `± ${shown.plusMinus} ` : '';
    const soft = [`${plusMinus}${shown.unit}`, sampled ?? doubtWord(state)].filter(Boolean).join(', ');
    return { label, value: shown.value, soft };
  }
  return { label, value: none(shown), soft: '' };
}

function none(shown: Shown): string {
  if (shown.kind === 'text') return shown.text;
  if (shown.kind === 'faulty') return 'fault';
  return shown.kind === 'waiting' ? 'waits' : 'not yet';
}

/** One target met says nothing of the others: what is said of all together goes before it. */
function saidOf(session: Session, says: string | undefined, margin: HeadlineMargin): HeadlineMargin {
  if (says === undefined || margin.word === '') return margin;
  const { text, standing } = saidShortly(session, says);
  // A target that is a fault is not met, whatever is said of the first.
  const isHeldUp =
    margin.tone === 'ok' &&
    textParts(says).some(
      (part) => part.kind === 'name' && /fault|waiting|invalid/.test(session.state(part.name).state),
    );
  if (standing !== 'asking' && !isHeldUp) return margin;
  return { ...margin, word: text || 'not all known', tone: margin.tone === 'fault' ? 'fault' : 'hold' };
}

/** A margin is what is left to the target: negative means over it. */
function marginOf(session: Session, name: string): HeadlineMargin {
  const label = session.label(name);
  const { state, shown } = shownOf(session, name);
  if (shown.kind !== 'value' || state.state !== 'value' || typeof state.value !== 'number') {
    return { label, value: none(shown), word: '', tone: shown.kind === 'faulty' ? 'fault' : '' };
  }
  const under = state.value >= 0;
  const value = `${shown.value.replace(/^[−-]/, '')} ${under ? 'under' : 'over'}`;
  if (shown.untold) return { label, value, word: '± not told', tone: 'hold' };
  // The rule of the worksheets' verdicts: what is said has a chance of 95 % at least.
  const budget = state.plusMinus === undefined ? undefined : session.workbook.budget(name);
  if (budget && Math.abs(state.value) < oneSided95(budget))
    return { label, value, word: 'too close to call', tone: 'hold' };
  return { label, value, word: under ? 'met' : 'not met', tone: under ? 'ok' : 'fault' };
}

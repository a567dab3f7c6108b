/** What the title block says: result, target, margin; with words, because colour is never the only sign. */
import { show, type Shown } from './display.ts';
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

export function headlineOf(session: Session): Headline | undefined {
  const block = session.document.titleBlock;
  if (!block) return undefined;
  return {
    result: part(session, block.result),
    target: part(session, block.target),
    margin: saidOf(session, block.says, marginOf(session, block.margin)),
  };
}

function shownOf(session: Session, name: string): { state: CellState; shown: Shown } {
  const item = session.outline.byName.get(name)?.item;
  const state = session.state(name);
  return { state, shown: show(state, item?.kind === 'cell' ? item : { unit: '' }, session.system) };
}

function part(session: Session, name: string): HeadlinePart {
  const label = session.label(name);
  const { shown } = shownOf(session, name);
  if (shown.kind === 'value') {
    const plusMinus = shown.plusMinus === undefined ? '' : `± ${shown.plusMinus} `;
    return { label, value: shown.value, soft: `${plusMinus}${shown.unit}` };
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
  if (standing !== 'asking') return margin;
  return { ...margin, word: text, tone: margin.tone === 'fault' ? 'fault' : 'hold' };
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
  // Closer than twice its uncertainty: the sign is not decided by the measurement.
  const close = state.plusMinus !== undefined && Math.abs(state.value) < 2 * state.plusMinus;
  if (close)
    return { label, value, word: under ? 'met, but within its ±' : 'not met, within its ±', tone: 'hold' };
  return { label, value, word: under ? 'met' : 'not met', tone: under ? 'ok' : 'fault' };
}

/** The short way round a workbook: where each step leads and what it says there. */
import { readEntry } from '../../engine/index.ts';
import { itemsOf, type WorkbookDocument } from '../../workbook/index.ts';
import type { Session } from '../session.svelte.ts';

export interface TourStep {
  readonly title: string;
  readonly words: string;
  /** Undefined where the step only tells. */
  readonly go?: (session: Session) => Promise<void>;
}

export const TOUR: readonly TourStep[] = [
  {
    title: 'Type a value',
    words:
      'What a person typed has a dotted line under it. Type over it: results and figures follow at once, and Undo takes it back.',
    go: async (session) => {
      const { outline, document } = session;
      const name = outline.byName.has('readings') ? 'readings.fan_pressure' : firstTyped(document);
      if (name !== undefined) await session.goTo(name, 0);
    },
  },
  {
    title: 'Open any number',
    words:
      'Every other number comes from a formula that stands under it, with what it reads, what reads it, and where its ± comes from.',
    go: async (session) => {
      const name = session.document.titleBlock?.result ?? firstCalculated(session.document);
      if (name !== undefined) await session.goTo(name);
    },
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
      'New asks a job for its own figures only. Everything is kept on this device; files, links and paper go where you send them. Help leads here again.',
  },
];

function isFormula(text: string): boolean {
  return text !== '' && !('literal' in readEntry(text, undefined));
}

/** A column with a typed number in its first row, or a cell with one. */
function firstTyped(document: WorkbookDocument): string | undefined {
  for (const item of itemsOf(document)) {
    if (item.kind === 'cell' && item.type === 'number' && item.text !== '' && !isFormula(item.text))
      return item.name;
    if (item.kind !== 'table') continue;
    const typed = item.columns.find(
      ({ id, type, formula }) =>
        type === 'number' && formula === undefined && item.rows[0]?.entries[id] !== undefined,
    );
    if (typed) return `${item.name}.${typed.name}`;
  }
  return undefined;
}

function firstCalculated(document: WorkbookDocument): string | undefined {
  for (const item of itemsOf(document))
    if (item.kind === 'cell' && item.type === 'number' && isFormula(item.text)) return item.name;
  return undefined;
}

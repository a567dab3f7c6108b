/** Which verdicts ask for something. The workbook says it, cell by cell and column by column (`settled`). */
import type { Cell, Column } from '../workbook/index.ts';

/** Settled: nothing is left to do. Asking: something is. Empty: no verdict, or none yet. */
export type Standing = 'settled' | 'asking' | '';

export function standingOfText(of: Pick<Cell | Column, 'settled'>, text: string): Standing {
  if (of.settled === undefined || text === '') return '';
  return of.settled.some((words) => begins(text, words)) ? 'settled' : 'asking';
}

/** “met” stands for itself and for “met, continuous”, not for “met but for one room”. */
function begins(text: string, words: string): boolean {
  return text.startsWith(words) && /^(?:$|[,:;])/u.test(text.slice(words.length));
}

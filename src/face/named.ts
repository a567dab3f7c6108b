import type { Cell } from '../workbook/index.ts';
import type { Session } from './session.svelte.ts';

const COLUMN = /(?<![\p{L}\p{N}_.])\p{L}[\p{L}\p{N}_]*\.\p{L}[\p{L}\p{N}_]*/gu;

/** What the engine says of columns by their names, as people call them: “Tests, Indoor is empty in row 1”. */
export function named(session: Pick<Session, 'label'>, words: string): string {
  return words.replace(COLUMN, (name) => session.label(name));
}

/** What stands in the place of a blank that gives no reason. A number is never none: that would be read as nought. */
export function noneOf({ text, type }: Pick<Cell, 'text' | 'type'>): string {
  if (text === '') return 'not typed yet';
  return type === 'number' ? 'not known yet' : 'none';
}

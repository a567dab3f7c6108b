/** A name touched on the sheet goes into the formula that is being edited, where a name may stand. */
import type { Session } from '../session.svelte.ts';

export interface Inserted {
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

const OPERATOR_BEFORE = /(?:^\s*=|[-+*/^(,<>=?:−×·]|(?<![\p{L}\p{N}_])(?:and|or|not))\s*$/u;

/**
 * `name` at the caret, after an operator, a bracket or a comma; in the place of the name put there last. Undefined
 * where a name would make no formula, so that the touch means what it says: go there.
 */
export function withName(
  text: string,
  caret: number,
  name: string,
  last: Inserted | undefined,
  empty: boolean,
): Inserted | undefined {
  const put = (start: number, end: number) => ({
    text: text.slice(0, start) + name + text.slice(end),
    start,
    end: start + name.length,
  });
  if (last?.end === caret && last.text === text) return put(last.start, last.end);
  return nameCanBegin(text.slice(0, caret), empty) ? put(caret, caret) : undefined;
}

/** Whether a name may stand behind what is written; `empty`: also where that is nothing. */
export function nameCanBegin(before: string, empty: boolean): boolean {
  return before.trim() === '' ? empty : OPERATOR_BEFORE.test(before);
}

/** Lets presses on cells and headings of a sheet reach the formula, before they select anything. */
export function pickNames(node: HTMLElement, session: Session) {
  let taken = false;
  const press = (event: MouseEvent) => {
    taken = false;
    if (event.button !== 0 || !session.picking || !(event.target instanceof Element)) return;
    if (event.target.closest('.editor, .panel, dialog')) return;
    const cell = event.target.closest<HTMLElement>('[data-name]')?.dataset.name;
    const column = event.target.closest<HTMLElement>('[data-column]')?.dataset.column;
    const table = event.target.closest<HTMLElement>('[data-table]')?.dataset.table;
    const name = cell ?? column;
    if (name === undefined || !session.picking.take(name, cell === undefined ? table : undefined)) return;
    taken = true;
    event.preventDefault();
    event.stopPropagation();
  };
  const click = (event: MouseEvent) => {
    if (!taken) return;
    taken = false;
    event.preventDefault();
    event.stopPropagation();
  };
  node.addEventListener('mousedown', press, true);
  node.addEventListener('click', click, true);
  return {
    destroy() {
      node.removeEventListener('mousedown', press, true);
      node.removeEventListener('click', click, true);
    },
  };
}

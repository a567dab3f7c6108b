/** What stands in the place of a blank that gives no reason. */
import { children, isDiagnostic, NOT_KNOWN, type Expression } from '../engine/index.ts';
import type { Cell } from '../workbook/index.ts';
import { treeOf } from './formula-tree.ts';
import type { Session } from './session.svelte.ts';

type Asked = Pick<Session, 'standing' | 'state' | 'columnState'> & {
  readonly workbook: Pick<Session['workbook'], 'library'>;
};

/** Only a list that was looked through is “none”: a number would be read as nought, a verdict as passed. */
export function noneOf(session: Asked, { text, type }: Pick<Cell, 'text' | 'type'>): string {
  if (text === '') return 'not typed yet';
  return type !== 'number' && isLookedThrough(session, text) ? 'none' : NOT_KNOWN;
}

/** Whether the formula ends in names gathered from rows, and all that it goes by is there. */
function isLookedThrough(session: Asked, text: string, seen = new Set<string>()): boolean {
  const tree = treeOf(text);
  if (isDiagnostic(tree)) return false;
  const ends = (e: Expression, isGuarded = false): boolean => {
    // A condition says in words of its own where rows are wanting.
    if (e.kind === 'conditional')
      return (
        areThere(session, e.condition, true) &&
        [e.then, e.otherwise].every((end) => isSaid(end) || ends(end, true))
      );
    if (e.kind === 'call')
      return session.workbook.library.get(e.name)?.gathers === true && areThere(session, e, isGuarded);
    const name = e.kind === 'path' ? e.parts.join('.') : '';
    const item = name === '' || seen.has(name) ? undefined : session.standing(name)?.item;
    return item?.kind === 'cell' && isLookedThrough(session, item.text, seen.add(name));
  };
  return ends(tree);
}

const isSaid = (e: Expression) => e.kind === 'text' && e.value !== '';

/** Whether every cell that is read has a value, and every column one in some row unless cells alone matter. */
function areThere(session: Asked, e: Expression, cellsOnly: boolean, canDoWithout = false): boolean {
  if (e.kind !== 'path') {
    const without = canDoWithout || (e.kind === 'call' && (e.name === 'otherwise' || e.name === 'is_blank'));
    return children(e).every((child) => areThere(session, child, cellsOnly, without));
  }
  const [first = '', column] = e.parts;
  const item = session.standing(first)?.item;
  if (item?.kind !== 'table') return canDoWithout || session.state(e.parts.join('.')).state === 'value';
  if (cellsOnly) return true;
  if (column === undefined || canDoWithout) return item.rows.length > 0;
  return item.rows.some((_, row) => session.columnState(item.name, column, row).state === 'value');
}

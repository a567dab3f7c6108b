/** How the house was prepared for the test: without it the result is of no known house. */
import type { Session } from '../session.svelte.ts';
import { standingOf } from '../outline.ts';

type Line = readonly [label: string, value: string];

/** What was left undone, and what was remarked; nothing where no table of that name is there. */
export function preparationLines(session: Session): Line[] {
  const table = standingOf(session.outline, 'preparation')?.item;
  if (table?.kind !== 'table') return [];
  const said = (column: string, row: number): string => {
    const state = session.columnState('preparation', column, row);
    return state.state === 'value' && typeof state.value === 'string' ? state.value : '';
  };
  const parts = table.rows.map((_, row) => ({
    part: said('part', row),
    done: said('done', row),
    remark: said('remark', row),
  }));
  if (parts.every(({ done, remark }) => done === '' && remark === '')) return [['Done', 'not written down']];
  const open = parts.filter(({ done }) => done !== 'yes' && done !== 'none here').map(({ part }) => part);
  const remarks = parts.filter(({ remark }) => remark !== '').map(({ part, remark }): Line => [part, remark]);
  return [['Not done', open.join(', ') || 'none'], ...remarks];
}

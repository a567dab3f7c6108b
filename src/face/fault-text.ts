/** What a fault says, with numbers and units as the screen has them, like the cell in which it stands. */
import { show } from './display.ts';
import type { Session } from './session.svelte.ts';
import type { Fault } from './view.ts';

export function faultText(session: Pick<Session, 'workbook' | 'system'>, fault: Fault): string {
  const { where, row, inText, message } = fault;
  if (inText) return message;
  const [table = '', column] = where.split('.');
  // A formula that is wrong as a whole is told with points, as it is written.
  if (column !== undefined && row === undefined) return message;
  const state =
    column === undefined || row === undefined
      ? session.workbook.state(where)
      : session.workbook.columnState(table, column, row);
  const shown = show(state, { unit: '' }, session.system);
  return shown.kind === 'faulty' ? shown.message : message;
}

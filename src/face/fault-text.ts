/** What a fault says, with numbers and units as the screen has them, like the cell in which it stands. */
import type { UnitSystem } from '../engine/index.ts';
import { show } from './display.ts';
import type { Fault, WorkbookView } from './view.ts';

interface Screen {
  readonly workbook: Pick<WorkbookView, 'state' | 'columnState'>;
  readonly system: UnitSystem;
}

export function faultText({ workbook, system }: Screen, fault: Fault): string {
  const { where, row, inText, message } = fault;
  if (inText) return message;
  const [table = '', column] = where.split('.');
  // A formula that is wrong as a whole is told with points, as it is written.
  if (column !== undefined && row === undefined) return message;
  const state =
    column === undefined || row === undefined
      ? workbook.state(where)
      : workbook.columnState(table, column, row);
  const shown = show(state, { unit: '' }, system);
  return shown.kind === 'faulty' ? shown.message : message;
}

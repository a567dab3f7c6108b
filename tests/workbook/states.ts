import type { CellState } from '../../src/engine/index.ts';
import type { Item } from '../../src/workbook/document.ts';
import { itemsOf } from '../../src/workbook/locate.ts';
import type { Workbook } from '../../src/workbook/workbook.ts';

/** Name of a cell or column to its states: one, or one a row with the footer behind. */
export function statesOf(
  workbook: Workbook,
  items: Iterable<Item> = itemsOf(workbook.document),
): Map<string, CellState[]> {
  const states = new Map<string, CellState[]>();
  for (const item of items) {
    if (item.kind === 'cell') states.set(item.name, [workbook.state(item.name)]);
    if (item.kind !== 'table') continue;
    for (const { name, footer } of item.columns)
      states.set(`${item.name}.${name}`, [
        ...item.rows.map((_, row) => workbook.columnState(item.name, name, row)),
        ...(footer === undefined ? [] : [workbook.footer(item.name, name)]),
      ]);
  }
  return states;
}

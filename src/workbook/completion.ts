/** What could be meant by the beginning of a name: cells, columns, functions, those of a fitting kind first. */
import { BUILTINS, parseUnit, type CellState, type FunctionLibrary } from '../engine/index.ts';
import { describeState } from './describe.ts';
import type { WorkbookDocument } from './document.ts';
import { findItem, findTable, itemsOf } from './locate.ts';

/** Where a text is being typed: a named cell, or a column, by id. */
export type Place = { readonly cell: string } | { readonly table: string; readonly column: string };

/** What completion asks of a workbook. */
interface Source {
  readonly document: WorkbookDocument;
  readonly library: FunctionLibrary;
  state(name: string): CellState;
}

export interface Completion {
  readonly name: string;
  readonly label: string;
  /** Value with unit, or what a function takes. */
  readonly detail: string;
}

const MOST = 12;

interface Candidate extends Completion {
  readonly rank: number;
}

export function complete(workbook: Source, prefix: string, where: Place): Completion[] {
  const { document } = workbook;
  const lower = prefix.toLowerCase();
  const wanted = wantedDimension(workbook, where);
  const found: Candidate[] = [];
  const dot = prefix.indexOf('.');
  const offer = (name: string, label: string, detail: () => string, state?: CellState): void => {
    const at = name.toLowerCase().indexOf(lower);
    const inLabel = lower.length > 1 && dot < 0 && label.toLowerCase().includes(lower);
    if (at !== 0 && !(at > 0 && name[at - 1] === '_') && !inLabel) return;
    const fits =
      wanted !== undefined &&
      state?.state === 'value' &&
      state.type.kind === 'quantity' &&
      state.type.dimension === wanted;
    // The person's own names before functions.
    const kind = fits ? 0 : name.endsWith('(') ? 2 : 1;
    found.push({ name, label, detail: detail(), rank: (at === 0 ? 0 : 3) + kind });
  };
  if ('table' in where) {
    const own = findTable(document, where.table);
    for (const column of own?.columns ?? [])
      if (column.id !== where.column) offer(column.name, column.label, () => 'this row');
  }
  for (const item of itemsOf(document)) {
    if (item.kind === 'cell') {
      if ('cell' in where && item.id === where.cell) continue;
      const state = workbook.state(item.name);
      offer(item.name, item.label, () => describeState(state, item.unit, document.units), state);
    } else if (item.kind === 'table') {
      if (dot < 0) offer(item.name, item.label, () => `table, ${item.rows.length} rows`);
      for (const column of item.columns)
        if (dot > 0) offer(`${item.name}.${column.name}`, column.label, () => 'a whole column');
    }
  }
  if (dot < 0) {
    for (const [name, builtin] of BUILTINS) offer(`${name}(`, builtin.summary, () => builtin.signature);
    for (const f of workbook.library.all())
      offer(`${f.name}(`, f.summary, () => `${f.name}(${f.parameters.map((p) => p.name).join(', ')})`);
  }
  found.sort((a, b) => a.rank - b.rank || a.name.localeCompare(b.name));
  return found.slice(0, MOST).map(({ name, label, detail }) => ({ name, label, detail }));
}

function wantedDimension(workbook: Source, where: Place): number | undefined {
  let unitText: string | undefined;
  if ('cell' in where) {
    const cell = findItem(workbook.document, where.cell);
    if (cell?.kind === 'cell') unitText = cell.unit;
  } else
    unitText = findTable(workbook.document, where.table)?.columns.find((c) => c.id === where.column)?.unit;
  if (unitText === undefined || unitText === '') return undefined;
  const unit = parseUnit(unitText);
  return 'problem' in unit ? undefined : unit.dimension;
}

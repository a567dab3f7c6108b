/** What could be meant by the beginning of a name: cells, columns, functions, those of a fitting kind first. */
import { BUILTINS, parseUnit, type CellState, type FunctionLibrary } from '../engine/index.ts';
import { describeState } from './describe.ts';
import type { WorkbookDocument } from './document.ts';
import { findItem, findTable, itemsOf } from './locate.ts';

/** Where a text is being typed: a named cell, or a column, by id. */
export type Place =
  | { readonly cell: string }
  /** `formula`: what is typed is to become the column's formula, whatever the column is now. */
  | { readonly table: string; readonly column: string; readonly formula?: true };

/** … or a text, where names stand in braces: cells, fields of records and columns, and no functions. */
export type CompletionPlace = Place | { readonly text: string };

/** What completion asks of a workbook. */
interface Source {
  readonly document: WorkbookDocument;
  readonly library: FunctionLibrary;
  state(name: string): CellState;
  columnState(table: string, column: string, row: number): CellState;
}

export interface Completion {
  readonly name: string;
  readonly label: string;
  /** Value with unit, or what a function takes. */
  readonly detail: string;
}

const MOST = 12;
/** Rows of the own table that are looked at for what a column holds. */
const ROWS = 20;

interface Candidate extends Completion {
  readonly rank: number;
}

/** `system`: the units on the screen, in which values are told. */
export function complete(
  workbook: Source,
  prefix: string,
  where: CompletionPlace,
  system: 'us' | 'si' = workbook.document.units,
): Completion[] {
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
    for (const column of own?.columns ?? []) {
      if (!own || column.id === where.column) continue;
      // The first row that holds something shows what kind the column is of.
      const row = own.rows.findIndex((_, at) => at < ROWS && valueIn(workbook, own.name, column.name, at));
      const state = row < 0 ? undefined : workbook.columnState(own.name, column.name, row);
      const detail = () => (state ? `this row, as ${describeState(state, column.unit, system)}` : 'this row');
      offer(column.name, column.label, detail, state);
    }
  }
  for (const item of itemsOf(document)) {
    if (item.kind === 'cell') {
      if ('cell' in where && item.id === where.cell) continue;
      const state = workbook.state(item.name);
      offer(item.name, item.label, () => describeState(state, item.unit, system), state);
      if (dot > 0 && state.state === 'value' && state.type.kind === 'record')
        for (const field of state.type.fields.keys()) {
          const name = `${item.name}.${field}`;
          const part = workbook.state(name);
          offer(name, item.label, () => describeState(part, '', system), part);
        }
    } else if (item.kind === 'table') {
      if (dot < 0 && !('text' in where))
        offer(item.name, item.label, () => `table, ${item.rows.length} rows`);
      for (const column of item.columns)
        if (dot > 0) offer(`${item.name}.${column.name}`, column.label, () => 'a whole column');
    }
  }
  if (dot < 0 && !('text' in where)) {
    for (const [name, builtin] of BUILTINS) offer(`${name}(`, builtin.summary, () => builtin.signature);
    for (const f of workbook.library.all())
      offer(`${f.name}(`, f.summary, () => `${f.name}(${f.parameters.map((p) => p.name).join(', ')})`);
  }
  found.sort((a, b) => a.rank - b.rank || a.name.localeCompare(b.name));
  return found.slice(0, MOST).map(({ name, label, detail }) => ({ name, label, detail }));
}

function valueIn(workbook: Source, table: string, column: string, row: number): boolean {
  return workbook.columnState(table, column, row).state === 'value';
}

function wantedDimension(workbook: Source, where: CompletionPlace): number | undefined {
  let unitText: string | undefined;
  if ('cell' in where) {
    const cell = findItem(workbook.document, where.cell);
    if (cell?.kind === 'cell') unitText = cell.unit;
  } else if ('table' in where)
    unitText = findTable(workbook.document, where.table)?.columns.find((c) => c.id === where.column)?.unit;
  if (unitText === undefined || unitText === '') return undefined;
  const unit = parseUnit(unitText);
  return 'problem' in unit ? undefined : unit.dimension;
}

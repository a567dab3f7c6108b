/** What could be meant by the beginning of a name: cells, columns, functions, those of a fitting kind first. */
import { BUILTINS, parseUnit, type CellState, type FunctionLibrary, type Type } from '../engine/index.ts';
import { describeState } from './describe.ts';
import type { WorkbookDocument } from './document.ts';
import { findItem, findTable, placeOfItem } from './locate.ts';
import { wantedAt, wantedBy, type Wanted } from './wanted.ts';

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
  typeIn(text: string, where: Place): Type | undefined;
}

export interface Completion {
  readonly name: string;
  readonly label: string;
  /** Value with unit, or what a function takes. */
  readonly detail: string;
}

const MOST = 12;
/** Where no letter has been typed the list itself is looked through. */
const MOST_UNTYPED = 60;
/** Rows of the own table that are looked at for what a column holds. */
const ROWS = 20;

interface Candidate {
  readonly name: string;
  readonly label: string;
  readonly detail: () => string;
  readonly rank: number;
  /** 0 in the own table, 1 on the own worksheet, 2 elsewhere. */
  readonly away: number;
}

/**
 * `system`: the units on the screen, in which values are told. `before`: the formula as far as the name that is
 * begun. Without a letter of it the names that fit come first, near ones before others, in the order of the workbook.
 */
export function complete(
  workbook: Source,
  prefix: string,
  where: CompletionPlace,
  system: 'us' | 'si' = workbook.document.units,
  before = '',
): Completion[] {
  const { document } = workbook;
  const lower = prefix.toLowerCase();
  const untyped = lower === '' && !('text' in where);
  const wanted = 'text' in where ? undefined : wantedIn(workbook, where, before);
  const found: Candidate[] = [];
  const dot = prefix.indexOf('.');
  let away = 0;
  const offer = (name: string, label: string, detail: () => string, state?: CellState): void => {
    const at = name.toLowerCase().indexOf(lower);
    const inLabel = lower.length > 1 && dot < 0 && label.toLowerCase().includes(lower);
    if (at !== 0 && !(at > 0 && name[at - 1] === '_') && !inLabel) return;
    const type = state && 'type' in state ? state.type : undefined;
    const fits = wanted !== undefined && wantedBy(type) === wanted;
    // The person's own names before functions; where all are listed, numbers before words and tables.
    const other = name.endsWith('(') || (untyped && type?.kind !== 'quantity');
    const kind = fits ? 0 : other ? 2 : 1;
    found.push({ name, label, detail, rank: (at === 0 ? 0 : 3) + kind, away });
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
  const home =
    'text' in where ? undefined : placeOfItem(document, 'cell' in where ? where.cell : where.table);
  for (const { item, sheet } of placedItems(document)) {
    away = sheet === home?.sheet ? 1 : 2;
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
  if (dot < 0 && !untyped && !('text' in where)) {
    for (const [name, builtin] of BUILTINS) offer(`${name}(`, builtin.summary, () => builtin.signature);
    for (const f of workbook.library.all())
      offer(`${f.name}(`, f.summary, () => `${f.name}(${f.parameters.map((p) => p.name).join(', ')})`);
  }
  found.sort((a, b) => a.rank - b.rank || (untyped ? a.away - b.away : a.name.localeCompare(b.name)));
  return found
    .slice(0, untyped ? MOST_UNTYPED : MOST)
    .map(({ name, label, detail }) => ({ name, label, detail: detail() }));
}

function* placedItems({ sheets }: WorkbookDocument) {
  for (const [sheet, { sections }] of sheets.entries())
    for (const { items } of sections) for (const item of items) yield { item, sheet };
}

function valueIn(workbook: Source, table: string, column: string, row: number): boolean {
  return workbook.columnState(table, column, row).state === 'value';
}

function wantedIn(workbook: Source, where: Place, before: string): Wanted | undefined {
  const kinds = { library: workbook.library, typeOf: (text: string) => workbook.typeIn(text, where) };
  return wantedAt(before, wantedAsWhole(workbook, where), kinds);
}

function wantedAsWhole({ document }: Source, where: Place): Wanted | undefined {
  const holder =
    'cell' in where
      ? findItem(document, where.cell)
      : findTable(document, where.table)?.columns.find((column) => column.id === where.column);
  if (!holder || !('unit' in holder) || holder.unit === '') return undefined;
  const unit = parseUnit(holder.unit);
  return 'problem' in unit ? undefined : unit.dimension;
}

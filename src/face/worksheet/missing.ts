/**
 * Why a calculated result is blank: what it rests on that nobody has typed or chosen yet. Names that a formula can do
 * without, `otherwise(barometer, …)` or `is_blank(barometer)`, are not waited for.
 */
import type { Cell, Column, Table } from '../../workbook/index.ts';
import type { Session } from '../session.svelte.ts';
import { shownValue } from '../shown-rows.ts';
import type { CellState } from '../view.ts';

export interface Missing {
  /** Of a cell, a table or a column. */
  readonly name: string;
  /** The row in which it is missing; undefined where it is missing in all, or is no column. */
  readonly row?: number;
}

/** What `name`, a cell or in one row a column, waits for, nearest first. */
export function missingFor(session: Session, name: string, row?: number): Missing[] {
  const found = new Map<string, Missing>();
  const seen = new Set<string>();
  const queue: Missing[] = [row === undefined ? { name } : { name, row }];
  for (let at = queue.shift(); at; at = queue.shift()) {
    const formula = formulaOf(session, at.name);
    for (const read of session.workbook.precedents(at.name)) {
      if (seen.has(read) || canDoWithout(formula, read, at.name)) continue;
      seen.add(read);
      const next = stepTo(session, read, tableOf(read) === tableOf(at.name) ? at.row : undefined);
      if (next === undefined) continue;
      if (next.typed) found.set(next.place.name, next.place);
      else queue.push(next.place);
    }
  }
  return [...found.values()];
}

const tableOf = (name: string) => (name.includes('.') ? name.split('.')[0] : undefined);

function stepTo(session: Session, name: string, row: number | undefined) {
  const [first = '', second = ''] = name.split('.');
  const item = session.outline.byName.get(first)?.item;
  if (item?.kind === 'cell') return ofCell(session, item);
  const column = item?.columns.find((each) => each.name === second);
  return item && column ? ofColumn(session, item, column, row) : undefined;
}

function ofCell(session: Session, { name, text }: Cell) {
  return isWanting(session.state(name)) ? { place: { name }, typed: text === '' } : undefined;
}

function ofColumn(session: Session, table: Table, column: Column, row: number | undefined) {
  const name = `${table.name}.${column.name}`;
  if (table.rows.length === 0) return { place: { name: table.name }, typed: true };
  const isBlank = (at: number) => isWanting(session.columnState(table.name, column.name, at));
  if (row !== undefined) {
    const typed = column.formula === undefined;
    return isBlank(row) ? { place: { name, row }, typed } : undefined;
  }
  // In some rows something may well be blank: only what is in none is missing.
  if (column.formula === undefined)
    return table.rows.every(({ entries }) => (entries[column.id] ?? '') === '')
      ? { place: { name }, typed: true }
      : undefined;
  const first = table.rows.findIndex((_, at) => isBlank(at));
  if (first < 0) return undefined;
  // A row of what is shown goes before another: the result is of that test.
  const shown = shownWords(session);
  const own = table.rows.findIndex(
    ({ entries }, at) => Object.values(entries).some((text) => shown.has(text)) && isBlank(at),
  );
  return { place: { name, row: own < 0 ? first : own }, typed: false };
}

/** The words by which tables show some of their rows, such as the name of a test. */
function shownWords(session: Session): ReadonlySet<string> {
  const words = new Set<string>();
  for (const { item } of session.outline.byName.values()) {
    const value = item.kind === 'table' ? shownValue(session, item) : undefined;
    if (value !== undefined) words.add(value);
  }
  return words;
}

/** A record, as a fit is one, has a value though none of its fields may have one: what it reads tells. */
function isWanting(state: CellState): boolean {
  return state.state === 'blank' || (state.state === 'value' && state.type.kind === 'record');
}

function formulaOf(session: Session, name: string): string {
  const [first = '', second] = name.split('.');
  const item = session.outline.byName.get(first)?.item;
  if (item?.kind === 'cell') return item.text;
  return item?.columns.find((each) => each.name === second)?.formula ?? '';
}

function canDoWithout(formula: string, read: string, reader: string): boolean {
  const [table, column] = read.split('.');
  const name = table === tableOf(reader) ? `(?:${table ?? ''}\\.)?${column ?? ''}` : read.replace('.', '\\.');
  return new RegExp(`\\b(?:otherwise|is_blank)\\(\\s*${name}\\b`, 'u').test(formula);
}

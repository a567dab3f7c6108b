/**
 * The typed entry that a fault of a calculation comes from: a person can change that, and not a formula, least of all
 * one in a column that is not shown.
 */
import { children, isDiagnostic, type Expression, type Span } from '../engine/index.ts';
import { treeOf } from './formula-tree.ts';
import type { OutlineOfSheets } from './outline.ts';
import type { WorkbookView } from './view.ts';

/** Of the session. */
interface Asked {
  readonly workbook: Pick<WorkbookView, 'state' | 'columnState'>;
  readonly outline: OutlineOfSheets;
}

interface Labels {
  label(name: string): string;
}

export interface Entry {
  /** Of a cell, or `table.column`. */
  readonly name: string;
  readonly row?: number;
}

/** Undefined where what is wrong was typed there, or where more than one entry may be to blame. */
export function blamed(session: Asked, name: string, row: number | undefined): Entry | undefined {
  const place = placeOf(session, name, row);
  if (place?.formula === undefined || place.state.state !== 'fault') return undefined;
  const seen = new Set<string>();
  let entry = soleEntry(session, name, row, place.formula, place.state.span);
  while (entry && !seen.has(entry.name)) {
    seen.add(entry.name);
    const next = placeOf(session, entry.name, entry.row);
    if (next?.formula === undefined) return next && entry;
    entry = soleEntry(session, entry.name, entry.row, next.formula);
  }
  return undefined;
}

/** What a result waits for, `tests.density, row 3`, as a place to go to and in people's words. */
export function awaited(session: Asked & Labels, text: string): Entry & { readonly words: string } {
  const [, name = text, number] = /^(.*), row (\d+)$/u.exec(text) ?? [];
  const row = number === undefined ? undefined : Number(number) - 1;
  const entry = blamed(session, name, row) ?? { name, ...(row === undefined ? {} : { row }) };
  return { ...entry, words: entryWords(session, entry) };
}

/** “Tests, Indoor, row 3”. */
export function entryWords(session: Labels, { name, row }: Entry): string {
  return session.label(name) + (row === undefined ? '' : `, row ${row + 1}`);
}

/** The state of a cell or of a place in a table, with its formula where it is calculated. */
function placeOf({ workbook, outline }: Asked, name: string, row: number | undefined) {
  const [first = '', second] = name.split('.');
  const item = outline.byName.get(first)?.item;
  if (item?.kind === 'cell' && second === undefined) {
    const state = workbook.state(name);
    const isTyped = state.state === 'value' && state.typed;
    return { state, formula: isTyped ? undefined : item.text };
  }
  const column = item?.kind === 'table' ? item.columns.find((each) => each.name === second) : undefined;
  if (item?.kind !== 'table' || !column || row === undefined) return undefined;
  const isTyped = item.rows[row]?.entries[column.id] !== undefined;
  return {
    state: workbook.columnState(item.name, column.name, row),
    formula: isTyped ? undefined : column.formula,
  };
}

/** What a formula reads within a stretch of it, where that is one place that has something. */
function soleEntry(
  session: Asked,
  reader: string,
  row: number | undefined,
  formula: string,
  within?: Span,
): Entry | undefined {
  const tree = treeOf(formula);
  if (isDiagnostic(tree)) return undefined;
  const entries = pathsIn(tree, within).map((path): Entry => {
    const own = `${reader.split('.')[0] ?? ''}.${path}`;
    return row !== undefined && placeOf(session, own, row) ? { name: own, row } : { name: path };
  });
  const places = entries.map((entry) => placeOf(session, entry.name, entry.row));
  if (places.includes(undefined)) return undefined;
  const having = entries.filter((_, at) => places[at]?.state.state !== 'blank');
  return new Set(having.map(({ name }) => name)).size === 1 ? having[0] : undefined;
}

function pathsIn(e: Expression, within?: Span): readonly string[] {
  if (e.kind !== 'path') return children(e).flatMap((child) => pathsIn(child, within));
  return within && (e.start < within.start || e.end > within.end) ? [] : [e.parts.join('.')];
}

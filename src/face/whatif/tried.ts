/** What a scenario tries, in people's words, and the entries of tables that it could try. */
import type { Cell, Column, Override, Row, Scenario, Table } from '../../workbook/index.ts';
import { asText, ownUnit, show, shownUnit } from '../display.ts';
import { textToOpen, type Units } from '../entry.ts';
import type { CellState, Place } from '../view.ts';
import type { Session } from '../session.svelte.ts';

/** Ids of a table, a row and a column. */
export interface EntryPlace {
  table: string;
  row: string;
  column: string;
}

export const NOWHERE: Readonly<EntryPlace> = { table: '', row: '', column: '' };

export type TriedPlace = { readonly cell: string } | Readonly<EntryPlace>;

export interface Tried {
  readonly key: string;
  readonly place: TriedPlace;
  readonly label: string;
  /** What the workbook itself has there, as the screen says it. */
  readonly now: string;
  /** As a field opens it. */
  readonly text: string;
  /** Of a number; words have none, and no comma that could be a decimal point. */
  readonly units: Units | undefined;
  /** The texts of a choice; none where anything may be typed. */
  readonly choices: readonly string[];
  readonly problem: string;
}

/** The values of a scenario; one whose place is gone is left out, as it is from the result. */
export function triedIn(session: Session, scenario: Scenario): Tried[] {
  return scenario.overrides.flatMap((override) => {
    const found = 'cell' in override ? ofCell(session, override) : ofEntry(session, override);
    return found === undefined ? [] : [found];
  });
}

function ofCell(
  session: Session,
  { cell: id, text }: Extract<Override, { cell: string }>,
): Tried | undefined {
  const cell = session.outline.byId.get(id)?.item;
  if (cell?.kind !== 'cell') return undefined;
  const units = unitsOn(session, cell, session.state(cell.name));
  return {
    key: id,
    place: { cell: id },
    label: columnTitle(cell, units),
    now: numberNow(session, cell.text, session.state(cell.name), cell),
    text: textToOpen(text, units),
    units,
    choices: cell.type === 'choice' ? session.choices(cell) : [],
    problem: cell.type === 'number' ? wrongWith(session, text, { cell: id }) : '',
  };
}

function ofEntry(session: Session, override: Extract<Override, { table: string }>): Tried | undefined {
  const entry = entryAt(session, override);
  if (!entry) return undefined;
  const { table, row, column } = entry;
  const place = { table: table.id, row: row.id, column: column.id };
  const { text } = override;
  const state = session.columnState(table.name, column.name, table.rows.indexOf(row));
  const units = unitsOn(session, column, state);
  const typed = row.entries[column.id];
  return {
    key: `${table.id} ${row.id} ${column.id}`,
    place,
    label: entryTitle(entry, columnTitle(column, units)),
    now:
      typed === undefined
        ? column.formula === undefined
          ? 'blank'
          : 'calculated'
        : numberNow(session, typed, state, column),
    text: textToOpen(text, units),
    units,
    choices: column.type === 'choice' ? session.choices(column) : [],
    problem: column.type === 'number' ? wrongWith(session, text, { table: table.id, column: column.id }) : '',
  };
}

/** With what to type instead; empty where nothing is wrong. */
function wrongWith(session: Session, text: string, where: Place): string {
  const { message, suggestion } = session.workbook.check(text, where) ?? {};
  return [message, suggestion].filter((words) => words !== undefined).join('; ');
}

/** The unit of the place, and the one on the screen. */
export function unitsOn(session: Session, of: Cell | Column, state: CellState): Units | undefined {
  if (of.type !== 'number') return undefined;
  const shown = shownUnit(of, 'type' in state ? state.type : undefined, session.system);
  return { own: of.unit, shown: shown?.text ?? of.unit };
}

function columnTitle({ label, name }: Pick<Column, 'label' | 'name'>, units: Units | undefined): string {
  const unit = ownUnit(units?.shown ?? '')?.symbol ?? '';
  return `${label || name}${unit === '' ? '' : ` (${unit})`}`;
}

/** A value in the unit on the screen; a formula and words as they were typed. */
function numberNow(session: Session, text: string, state: CellState, of: Cell | Column): string {
  const isNumber = of.type === 'number' && state.state === 'value' && state.typed;
  return isNumber ? asText(show(state, { ...of, text }, session.system)) : text;
}

/** Rows by the texts typed in them, as many as tell them apart, else by the first and their number. */
export function rowTitles(table: Table): ReadonlyMap<string, string> {
  const named = table.columns.filter(({ type, formula }) => type !== 'number' && formula === undefined);
  const texts = table.rows.map(({ entries }) => named.flatMap(({ id }) => entries[id] ?? []).filter(Boolean));
  const seen = new Map<string, number>();
  const titles = texts.map((words) => words.map((_, last) => words.slice(0, last + 1).join(', ')));
  for (const title of titles.flatMap((all) => [...new Set(all)])) seen.set(title, (seen.get(title) ?? 0) + 1);
  return new Map(
    table.rows.map(({ id }, at) => {
      const alone = titles[at]?.find((title) => seen.get(title) === 1);
      return [id, alone ?? [texts[at]?.[0], `row ${at + 1}`].filter(Boolean).join(', ')];
    }),
  );
}

/** One entry of a table, as the document has it now. */
export interface Entry {
  readonly table: Table;
  readonly row: Row;
  readonly column: Column;
}

/** Undefined where any part of the place is gone. */
export function entryAt(session: Session, place: Readonly<EntryPlace>): Entry | undefined {
  const table = session.outline.byId.get(place.table)?.item;
  if (table?.kind !== 'table') return undefined;
  const row = table.rows.find(({ id }) => id === place.row);
  const column = table.columns.find(({ id }) => id === place.column);
  return row && column && { table, row, column };
}

/** The entry in people's words; `column`: what its column is called. */
export function entryTitle({ table, row }: Entry, column: string): string {
  return `${table.label || table.name}: ${rowTitles(table).get(row.id) ?? ''}, ${column}`;
}

/** Tables with rows and such columns. */
export function tablesToTry(session: Session, columnsOf: (table: Table) => readonly Column[]): Table[] {
  return [...session.outline.byId.values()].flatMap(({ item }) =>
    item.kind === 'table' && item.rows.length > 0 && columnsOf(item).length > 0 ? [item] : [],
  );
}

/** Typed columns, and calculated ones that somebody typed over. */
export function columnsToTry(table: Table): Column[] {
  return table.columns.filter(
    ({ id, hidden, formula }) =>
      hidden !== true &&
      (formula === undefined || table.rows.some(({ entries }) => entries[id] !== undefined)),
  );
}

/** Those of them that hold numbers. */
export function numbersToTry(table: Table): Column[] {
  return columnsToTry(table).filter(({ type }) => type === 'number');
}

/** Rows of a table that are on the screen: all, or those that belong to the value of the cell that chooses. */
import type { Column, Table } from '../workbook/index.ts';
import { blamed } from './blamed.ts';
import { saidIn, show } from './display.ts';
import type { Session } from './session.svelte.ts';
import { standingOfText } from './verdict.ts';

interface Chosen {
  readonly wanted: string | undefined;
  readonly version: number;
  readonly rows: number[];
}

/** What the words said of a row hang on besides what is in it: the same while entries change. */
export type TableShape = Pick<Table, 'name' | 'columns' | 'reasonColumn'>;

/** Characters of a word that needs no line of its own. */
const SHORT = 12;

/** The last answer for each table as it stands: the grid and every figure ask for the same rows. */
const answers = new WeakMap<Table, Chosen>();

/** Row indices in the table's order. */
export function shownRows(session: Session, table: Table): number[] {
  const wanted = shownValue(session, table);
  const version = table.shownBy ? session.version(`${table.name}.${table.shownBy.column}`) : 0;
  const known = answers.get(table);
  if (known?.wanted === wanted && known?.version === version) return known.rows;
  const rows = chosenRows(session, table, wanted);
  answers.set(table, { wanted, version, rows });
  return rows;
}

function chosenRows(session: Session, table: Table, wanted: string | undefined): number[] {
  const all = table.rows.map((_, row) => row);
  if (wanted === undefined || !table.shownBy) return all;
  const { column } = table.shownBy;
  return all.filter((row) => {
    const state = session.workbook.columnState(table.name, column, row);
    return state.state === 'value' && state.value === wanted;
  });
}

/** The text by which rows are chosen, when the table has such a cell and it holds one. */
export function shownValue(session: Session, table: Table): string | undefined {
  if (!table.shownBy) return undefined;
  const state = session.state(table.shownBy.cell);
  return state.state === 'value' && typeof state.value === 'string' ? state.value : undefined;
}

/**
 * Columns of the grid, those that hold words about the row last. The column that chooses the rows says the same in
 * each and is left out, where one is chosen; calculated words stand beside the row, where they have room.
 */
export function shownColumns(session: Session, table: Table): Column[] {
  const chooser = table.shownBy?.column;
  const isChosen = shownValue(session, table) !== undefined;
  const shown = table.columns.filter((column) => {
    if (isRemark(column)) return false;
    if (column.name !== chooser) return column.hidden !== true;
    // Rows of all kinds stand together: each says which it is, if there is anything to say.
    return !isChosen && (column.choices === undefined || session.choices(column).length > 0);
  });
  return [
    ...shown.filter((column) => column.name !== table.reasonColumn),
    ...shown.filter((column) => column.name === table.reasonColumn),
  ];
}

/** A calculated text: it says something about its row. */
export function isRemark(column: Column): boolean {
  return column.type === 'text' && column.formula !== undefined;
}

/**
 * What the calculated texts of a row say that none of the columns shown says already; with what it is about where
 * several say something, or where it is a word or a number alone.
 */
export function remarksOf(
  session: Session,
  table: TableShape,
  columns: readonly Column[],
  row: number,
  /** Said elsewhere already. */
  word = '',
): string[] {
  const remarks = remarkColumns(table);
  // Most rows have nothing to say, and what their other columns say is not looked at for it.
  const texts = remarks.map((column) => textOf(session, table, column, row));
  if (texts.every((text) => text === '' || text === word)) return [];
  const said = new Set(['', word, ...columns.map((column) => textOf(session, table, column, row))]);
  const several = remarks.filter((column) => column.name !== table.reasonColumn).length > 1;
  return remarks.flatMap((column, at) => {
    const remark = texts[at] ?? '';
    if (said.has(remark)) return [];
    said.add(remark);
    // A verdict speaks for itself.
    const named =
      column.name !== table.reasonColumn &&
      column.settled === undefined &&
      (several || !/\p{L}+\s+\p{L}+/u.test(remark));
    return [named ? `${(column.label || column.name).toLowerCase()}: ${remark}` : remark];
  });
}

/** Whether a verdict on the row asks for something; what is well and what is only told stays quiet. */
export function asksForSomething(session: Session, table: TableShape, row: number): boolean {
  return remarkColumns(table).some(
    (column) => standingOfText(column, textOf(session, table, column, row)) === 'asking',
  );
}

/** A verdict short enough to stand beside its row as it is: that nothing is left to do. */
export function settledWord(session: Session, table: TableShape, row: number): string {
  for (const column of remarkColumns(table)) {
    const text = textOf(session, table, column, row);
    if (text.length <= SHORT && standingOfText(column, text) === 'settled') return text;
  }
  return '';
}

interface Looked {
  readonly reasonColumn: string | undefined;
  readonly remarks: readonly Column[];
  /** Shown columns first. */
  readonly byPlace: readonly Column[];
}

/** For each list of columns: every row of a table asks for the same. */
const looked = new WeakMap<readonly Column[], Looked>();

function lookedFor({ columns, reasonColumn }: TableShape): Looked {
  const known = looked.get(columns);
  if (known && known.reasonColumn === reasonColumn) return known;
  const found: Looked = {
    reasonColumn,
    remarks: columns.filter(
      (column) => isRemark(column) && (column.hidden !== true || column.name === reasonColumn),
    ),
    byPlace: [
      ...columns.filter((column) => column.hidden !== true),
      ...columns.filter((column) => column.hidden === true),
    ],
  };
  looked.set(columns, found);
  return found;
}

function remarkColumns(table: TableShape): readonly Column[] {
  return lookedFor(table).remarks;
}

function textOf(session: Session, table: TableShape, column: Pick<Column, 'name'>, row: number): string {
  const state = session.columnState(table.name, column.name, row);
  return saidIn(state, session.system);
}

/** Columns of which some row may be faulty; those that are shown first. */
export function faultyColumns(session: Session, table: TableShape): Column[] {
  return lookedFor(table).byPlace.filter((column) => session.hasFaults(table.name, column.name));
}

/** The first fault of a row, in a column that is shown or, where none of those is faulty, in one behind them. */
export function faultOf(
  session: Session,
  table: TableShape,
  row: number,
  faulty: readonly Column[] = faultyColumns(session, table),
): string {
  for (const column of faulty) {
    const state = session.columnState(table.name, column.name, row);
    if (state.state !== 'invalid' && state.state !== 'fault') continue;
    const shown = show(state, column, session.system);
    if (shown.kind !== 'faulty') return '';
    return `${labelOfFault(session, table, column, row)}: ${shown.message}`;
  }
  return '';
}

/** The entry that is to be changed, where it can be told. */
function labelOfFault(session: Session, table: TableShape, column: Column, row: number): string {
  const entry = blamed(session, `${table.name}.${column.name}`, row);
  if (entry === undefined) return column.label || column.name;
  const [first, second] = entry.name.split('.');
  const own = first === table.name ? table.columns.find(({ name }) => name === second) : undefined;
  return own ? own.label || own.name : session.label(entry.name);
}

/** Why a row is struck through, if it is. */
export function reasonOf(session: Session, table: TableShape, row: number): string {
  return table.reasonColumn === undefined ? '' : textOf(session, table, { name: table.reasonColumn }, row);
}

/** A template at work, asked and typed into by names as a person would. */
import { readFileSync } from 'node:fs';
import { fromSI, FunctionLibrary, parseUnit, type CellState } from '../../src/engine/index.ts';
import { tradeFunctions } from '../../src/trade/index.ts';
import { readCsv } from '../../src/workbook/file/csv.ts';
import { importEdit, readWorkbook, tablesOf, Workbook, namesOf } from '../../src/workbook/index.ts';

export function templateText(file: string): string {
  return readFileSync(new URL(`../../templates/${file}`, import.meta.url), 'utf8');
}

export class Open {
  readonly workbook: Workbook;

  constructor(file: string) {
    const opened = readWorkbook(templateText(file));
    if ('code' in opened) throw new Error(`${file}: ${opened.found}`);
    this.workbook = new Workbook(opened.document, new FunctionLibrary(tradeFunctions));
  }

  #table(name: string) {
    for (const table of tablesOf(this.workbook.document)) if (table.name === name) return table;
    throw new Error(`no table ${name}`);
  }

  #apply(edit: Parameters<Workbook['apply']>[0]): void {
    const done = this.workbook.apply(edit);
    if ('problem' in done) throw new Error(done.problem);
  }

  type(name: string, text: string): void {
    const cell = namesOf(this.workbook.document).get(name);
    if (cell?.kind !== 'cell') throw new Error(`no cell ${name}`);
    this.#apply({ kind: 'set-cell', cell: cell.id, patch: { text } });
  }

  /** Types in the row whose first text column says `key`, or in the row of that number, from 0. */
  enter(tableName: string, key: string | number, column: string, text: string): void {
    const table = this.#table(tableName);
    const row = typeof key === 'number' ? key : this.row(tableName, key);
    const to = table.columns.find((c) => c.name === column);
    const id = table.rows[row]?.id;
    if (id === undefined || to === undefined) throw new Error(`no ${column} in row ${row} of ${tableName}`);
    this.#apply({ kind: 'set-entries', table: table.id, entries: [{ row: id, column: to.id, text }] });
  }

  row(tableName: string, key: string): number {
    const table = this.#table(tableName);
    const [first] = table.columns;
    return table.rows.findIndex((row) => row.entries[first?.id ?? ''] === key);
  }

  /** The row in which these columns hold these texts. */
  rowWhere(tableName: string, entries: Readonly<Record<string, string>>): number {
    const { columns, rows } = this.#table(tableName);
    const id = (name: string) => columns.find((column) => column.name === name)?.id ?? '';
    return rows.findIndex((row) =>
      Object.entries(entries).every(([name, text]) => row.entries[id(name)] === text),
    );
  }

  /** Rows of `readings` that belong to a test. */
  rowsOf(test: string): number[] {
    const table = this.#table('readings');
    return table.rows.flatMap((row, i) => (row.entries.test === test ? [i] : []));
  }

  import(tableName: string, csv: string): void {
    const table = this.#table(tableName);
    const reading = readCsv(csv, table);
    if (reading.problems.length > 0) throw new Error(JSON.stringify(reading.problems));
    this.#apply(importEdit(this.workbook.document, table, reading, 'replace'));
  }

  state(name: string): CellState {
    return this.workbook.state(name);
  }

  number(name: string, unit: string): number {
    return inUnit(name, this.state(name), unit);
  }

  text(name: string): string {
    return asText(name, this.state(name));
  }

  /** One row's value: the row of `key`, or the row of that number. */
  at(name: string, key: string | number, unit: string): number {
    return inUnit(`${name} of ${key}`, this.stateAt(name, key), unit);
  }

  textAt(name: string, key: string | number): string {
    return asText(`${name} of ${key}`, this.stateAt(name, key));
  }

  stateAt(name: string, key: string | number): CellState {
    const [table = '', column = '', field] = name.split('.');
    const row = typeof key === 'number' ? key : this.row(table, key);
    return this.workbook.columnState(table, column, row, field);
  }
}

function inUnit(name: string, state: CellState, unitText: string): number {
  if (state.state !== 'value' || typeof state.value !== 'number')
    throw new Error(`${name} is no number: ${JSON.stringify(state)}`);
  const unit = parseUnit(unitText);
  if ('problem' in unit) throw new Error(unit.problem);
  return fromSI(state.value, unit);
}

function asText(name: string, state: CellState): string {
  if (state.state === 'blank') return '';
  if (state.state !== 'value' || typeof state.value !== 'string')
    throw new Error(`${name} is no text: ${JSON.stringify(state)}`);
  return state.value;
}

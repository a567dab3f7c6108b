/** Rows from a CSV file or a pasted block with headings: matched and shown before anything changes. */
import type { Table } from '../../workbook/index.ts';
import { insertRows, newRow, removeRows, together } from '../edits.ts';
import { chooseFile, fileName, saveFile } from '../files.ts';
import type { Session } from '../session.svelte.ts';
import { shownRows, shownValue } from '../shown-rows.ts';
import type { TableImport } from '../view.ts';

export interface FoundRows extends TableImport {
  readonly from: string;
}

export class Importing {
  readonly session: Session;
  readonly #table: () => Table;
  found = $state.raw<FoundRows>();

  constructor(session: Session, table: () => Table) {
    this.session = session;
    this.#table = table;
  }

  get table(): Table {
    return this.#table();
  }

  async chooseCsv(): Promise<void> {
    const file = await chooseFile('.csv,.tsv,.txt,text/csv,text/plain');
    if (file) this.read(await file.text(), file.name);
  }

  read(text: string, from: string): void {
    this.found = { ...this.session.desk.readTable(text, this.table), from };
  }

  /** Adds the rows, or puts them in the place of those shown, as one step. */
  apply(replace: boolean): void {
    const { found, table, session } = this;
    this.found = undefined;
    if (!found) return;
    const belonging = this.#belonging();
    const rows = found.rows.map(({ entries }) => newRow({ ...belonging, ...entries }));
    const edits = [insertRows(table, table.rows.length, rows)];
    const old = replace ? shownRows(session, table) : [];
    if (old.length > 0) edits.push(removeRows(table, old));
    session.apply(together(`import ${found.from}`, edits));
    session.announcement = `${rows.length} rows from ${found.from}`;
  }

  saveCsv(): void {
    const { table, session } = this;
    const name = fileName(`${session.document.title} ${table.label || table.name}`, 'csv');
    saveFile(name, 'text/csv', session.desk.writeTable(session.workbook, table));
    session.announcement = `Saved as ${name}`;
  }

  /** A file without the column that chooses the rows belongs to the rows shown now. */
  #belonging(): Record<string, string> {
    const value = shownValue(this.session, this.table);
    const chooser = this.table.columns.find((column) => column.name === this.table.shownBy?.column);
    return value === undefined || !chooser ? {} : { [chooser.id]: value };
  }
}

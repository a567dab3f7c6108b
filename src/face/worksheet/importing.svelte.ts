/** Rows from a CSV file or a pasted block with headings: matched and shown before anything changes. */
import { csvFiles, type CsvReading, type Table } from '../../workbook/index.ts';
import { plainText } from '../display.ts';
import { chooseFile, fileName, saveFile } from '../keeping/files.ts';
import type { Session } from '../session.svelte.ts';

export interface FoundRows extends CsvReading {
  /** Name of the file. */
  readonly from: string;
  readonly text: string;
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
    if (file) await this.read(await file.text(), file.name);
  }

  async read(text: string, from: string, decimalComma = false): Promise<void> {
    const { readCsv } = await csvFiles();
    this.found = { ...readCsv(text, this.table, { decimalComma }), from, text };
  }

  /** The person said that the commas in the file's numbers are decimal points. */
  async readCommasAsPoints(): Promise<void> {
    if (this.found) await this.read(this.found.text, this.found.from, true);
  }

  /** Adds the rows, or puts them in the place of those shown, as one step. */
  async apply(how: 'append' | 'replace'): Promise<void> {
    const { found, table, session } = this;
    if (!found) return;
    // First: where it does not come the rows are still there.
    const { typeRows } = await import('./type-rows.ts');
    if (this.found !== found) return;
    this.found = undefined;
    typeRows(session, table, found, how);
  }

  async saveCsv(): Promise<void> {
    const { table, session } = this;
    const name = fileName(`${session.document.title} ${table.label || table.name}`, 'csv');
    const places = new Map(table.rows.map((row, at) => [row.id, at]));
    const { writeCsv } = await csvFiles();
    const text = writeCsv(table, (row, column) =>
      plainText(session.workbook.columnState(table.name, column.name, places.get(row.id) ?? 0), column),
    );
    saveFile(name, 'text/csv', text);
    session.announcement = `Saved as ${name}`;
  }
}

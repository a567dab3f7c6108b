/** Rows from a CSV file or a pasted block with headings: matched and shown before anything changes. */
import { csvFiles, type CsvReading, type Table } from '../../workbook/index.ts';
import { plainText } from '../display.ts';
import { chooseFile, fileName, saveFile } from '../keeping/files.ts';
import { signs } from '../locale.ts';
import type { Session } from '../session.svelte.ts';
import { choicesElsewhere } from './word-choices.ts';

interface Answers {
  /** The person says that the commas in the file's numbers are decimal points; undefined while nothing is said. */
  readonly decimalComma?: boolean;
  /** Id of the column that the person gave to a heading, by its place; '' leaves it out. */
  readonly assigned: ReadonlyMap<number, string>;
}

export interface FoundRows extends CsvReading, Answers {
  /** Name of the file. */
  readonly from: string;
  readonly text: string;
  /** Why the rows could not be kept. */
  readonly refused?: string;
}

const NOTHING_SAID: Answers = { assigned: new Map() };

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

  /** Undefined where nothing was chosen or all is well; else why the file could not be read. */
  async chooseCsv(): Promise<string | undefined> {
    const file = await chooseFile('.csv,.tsv,.txt,text/csv,text/plain');
    if (!file) return undefined;
    const { rowsIn } = await import('../keeping/rows-file.ts');
    const rows = await rowsIn(file);
    if ('problem' in rows) return rows.problem;
    await this.read(rows.text, file.name);
    return undefined;
  }

  async read(text: string, from: string, answers: Answers = NOTHING_SAID): Promise<void> {
    const { readCsv } = await csvFiles();
    const { table, session } = this;
    const options = { assigned: answers.assigned, allowed: choicesElsewhere(session) };
    const decimalComma = answers.decimalComma ?? false;
    const reading = readCsv(text, table, { ...options, decimalComma });
    // Where the person writes commas for decimal points a file that can be read so is; it is shown first anyway.
    const isTheirs = reading.askDecimalComma && answers.decimalComma === undefined && signs.decimal === ',';
    if (isTheirs) await this.read(text, from, { ...answers, decimalComma: true });
    else this.found = { ...reading, ...answers, from, text };
  }

  /** The person said whether the commas in the file's numbers are decimal points. */
  async readCommas(asPoints: boolean): Promise<void> {
    const { found } = this;
    if (found) await this.read(found.text, found.from, { assigned: found.assigned, decimalComma: asPoints });
  }

  /** The person said to which column what stands under a heading goes; '' leaves it out. */
  async assign(heading: number, column: string): Promise<void> {
    const { found } = this;
    if (!found) return;
    const { decimalComma } = found;
    const assigned = new Map(found.assigned).set(heading, column);
    const answers = decimalComma === undefined ? { assigned } : { assigned, decimalComma };
    await this.read(found.text, found.from, answers);
  }

  /** Adds the rows, or puts them in the place of those shown, as one step. */
  async apply(how: 'append' | 'replace'): Promise<void> {
    const { found, table, session } = this;
    if (!found) return;
    // First: where it does not come the rows are still there.
    const { typeRows } = await import('./type-rows.ts');
    if (this.found !== found) return;
    const refused = typeRows(session, table, found, how);
    this.found = refused === undefined ? undefined : { ...found, refused };
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

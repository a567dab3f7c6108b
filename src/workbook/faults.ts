/** Everything that is wrong in a workbook, where it stands. An entry changes little of it: the rest is remembered. */
import { saidInLine, type CellState, type Engine } from '../engine/index.ts';
import type { Cell, Table, WorkbookDocument } from './document.ts';
import { faultsInTexts } from './live-text.ts';

export interface WorkbookFault {
  readonly where: string;
  readonly label: string;
  readonly message: string;
  /** Row, where it stands in a table. */
  readonly row?: number;
  /** True: it stands in a text, and `where` is the id of what the text belongs to. */
  readonly inText?: true;
}

const NONE: readonly WorkbookFault[] = [];

export class Faults {
  readonly #engine: Engine;
  /** By the name of the cell or table. */
  readonly #found = new Map<string, readonly WorkbookFault[]>();
  /** Names in it that are to be looked at again. */
  readonly #stale = new Set<string>();
  #inTexts: readonly WorkbookFault[] | undefined;
  /** All, as long as none is another. */
  #all: readonly WorkbookFault[] | undefined;
  /** Cells whose fields the texts name. */
  readonly #askedFields = new Set<string>();

  constructor(engine: Engine) {
    this.#engine = engine;
  }

  /** What these names say may be other than before; without names, everything may. */
  forget(names?: Iterable<string>): void {
    if (names === undefined) {
      this.#found.clear();
      this.#inTexts = this.#all = undefined;
      return;
    }
    for (const name of names) {
      const [first = ''] = name.split('.', 1);
      this.#stale.add(first);
      if (this.#askedFields.has(first)) this.#inTexts = this.#all = undefined;
    }
  }

  /** In reading order, those in texts last; what only waits for another is not counted. */
  list(document: WorkbookDocument, named: ReadonlyMap<string, Cell | Table>): readonly WorkbookFault[] {
    for (const name of this.#stale) {
      const item = this.#found.has(name) ? named.get(name) : undefined;
      if (!item) continue;
      const found = this.#ofItem(item);
      if (found !== NONE || this.#found.get(name) !== NONE) this.#all = undefined;
      this.#found.set(name, found);
    }
    this.#stale.clear();
    if (this.#all) return this.#all;
    const all: WorkbookFault[] = [];
    for (const [name, item] of named) {
      let found = this.#found.get(name);
      if (!found) {
        found = this.#ofItem(item);
        this.#found.set(name, found);
      }
      all.push(...found);
    }
    this.#inTexts ??= this.#ofTexts(document, named);
    this.#all = [...all, ...this.#inTexts];
    return this.#all;
  }

  #ofItem(item: Cell | Table): readonly WorkbookFault[] {
    return item.kind === 'table' ? this.#ofTable(item) : this.#ofCell(item.name, item.label || item.name);
  }

  /** Of the record that a cell holds. */
  fields(name: string): readonly string[] {
    const state = this.#engine.read(name);
    return 'type' in state && state.type?.kind === 'record' ? [...state.type.fields.keys()] : [];
  }

  #ofCell(name: string, label: string): readonly WorkbookFault[] {
    if (this.#engine.isSound(name)) return NONE;
    const message = wrong(this.#engine.read(name));
    return message === undefined ? NONE : [{ where: name, label, message }];
  }

  #ofTable(table: Table): readonly WorkbookFault[] {
    const found: WorkbookFault[] = [];
    for (const column of table.columns) {
      if (!this.#engine.hasFaults(table.name, column.name)) continue;
      const where = `${table.name}.${column.name}`;
      const label = `${table.label}: ${column.label}`;
      const whole = this.#engine.read(where);
      if (whole.state === 'invalid') {
        found.push({ where, label, message: saidInLine(whole.diagnostic) });
        continue;
      }
      for (let row = 0; row < table.rows.length; row++) {
        const message = wrong(this.#engine.readRow(table.name, column.name, row));
        if (message !== undefined) found.push({ where, label: `${label}, row ${row + 1}`, message, row });
      }
    }
    return found.length === 0 ? NONE : found;
  }

  #ofTexts(document: WorkbookDocument, named: ReadonlyMap<string, Cell | Table>): WorkbookFault[] {
    this.#askedFields.clear();
    const fields = (name: string) => {
      this.#askedFields.add(name);
      return this.fields(name);
    };
    return [...faultsInTexts(document, named, fields)].map(({ text, message, suggestion }) => ({
      where: text.id,
      label: text.label,
      message: [message, suggestion].filter(Boolean).join(' '),
      inText: true,
    }));
  }
}

function wrong(state: CellState): string | undefined {
  if (state.state === 'invalid') return saidInLine(state.diagnostic);
  return state.state === 'fault' ? state.fault : undefined;
}

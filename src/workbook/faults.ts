/** Everything that is wrong in a workbook, where it stands. An entry changes little of it: the rest is remembered. */
import { saidInLine, type CellState, type Engine } from '../engine/index.ts';
import type { Table, WorkbookDocument } from './document.ts';
import { faultsInTexts } from './live-text.ts';
import { itemsOf } from './locate.ts';

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
  #inTexts: readonly WorkbookFault[] | undefined;
  /** Cells whose fields the texts name. */
  readonly #askedFields = new Set<string>();

  constructor(engine: Engine) {
    this.#engine = engine;
  }

  /** What these names say may be other than before; without names, everything may. */
  forget(names?: Iterable<string>): void {
    if (names === undefined) {
      this.#found.clear();
      this.#inTexts = undefined;
      return;
    }
    for (const name of names) {
      const [first = ''] = name.split('.', 1);
      this.#found.delete(first);
      if (this.#askedFields.has(first)) this.#inTexts = undefined;
    }
  }

  /** In reading order, those in texts last; what only waits for another is not counted. */
  list(document: WorkbookDocument): WorkbookFault[] {
    const all: WorkbookFault[] = [];
    for (const item of itemsOf(document)) {
      if (item.kind !== 'cell' && item.kind !== 'table') continue;
      let found = this.#found.get(item.name);
      if (!found) {
        found =
          item.kind === 'table' ? this.#ofTable(item) : this.#ofCell(item.name, item.label || item.name);
        this.#found.set(item.name, found);
      }
      if (found.length > 0) all.push(...found);
    }
    this.#inTexts ??= this.#ofTexts(document);
    return [...all, ...this.#inTexts];
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
      const where = `${table.name}.${column.name}`;
      const label = `${table.label}: ${column.label}`;
      const whole = this.#engine.read(where);
      if (whole.state === 'invalid') {
        found.push({ where, label, message: saidInLine(whole.diagnostic) });
        continue;
      }
      if (!this.#engine.hasFaults(table.name, column.name)) continue;
      for (let row = 0; row < table.rows.length; row++) {
        const message = wrong(this.#engine.readRow(table.name, column.name, row));
        if (message !== undefined) found.push({ where, label: `${label}, row ${row + 1}`, message, row });
      }
    }
    return found.length === 0 ? NONE : found;
  }

  #ofTexts(document: WorkbookDocument): WorkbookFault[] {
    this.#askedFields.clear();
    const fields = (name: string) => {
      this.#askedFields.add(name);
      return this.fields(name);
    };
    return [...faultsInTexts(document, fields)].map(({ text, message, suggestion }) => ({
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

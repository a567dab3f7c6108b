/**
 * Choices that come from a column of a table: the texts that stand there now. Cells and columns that choose from it
 * are told again when it changes, so that a text which is not in it any more is a fault where it stands.
 */
import type { CellState, Changes, Engine } from '../engine/index.ts';
import type { Cell, Item, Table, WorkbookDocument } from './document.ts';
import { feed } from './feed.ts';
import { itemsOf, tablesOf } from './locate.ts';

export class ChoiceLists {
  readonly #engine: Engine;
  readonly #lists = new Map<string, readonly string[]>();
  /** Places that nobody looked at yet. */
  readonly #asked = new Set<string>();

  /** Lists of typed texts are known from the document, before anything is calculated. */
  constructor(engine: Engine, document: WorkbookDocument) {
    this.#engine = engine;
    const tables = new Map([...tablesOf(document)].map((table) => [table.name, table]));
    for (const item of itemsOf(document))
      for (const place of placesOf(item)) {
        const [name = '', wanted] = place.split('.');
        const table = tables.get(name);
        const column = table?.columns.find((each) => each.name === wanted);
        if (!table || !column || column.formula !== undefined || column.type === 'number') continue;
        const texts = table.rows.map((row) => row.entries[column.id]?.trim() ?? '');
        this.#lists.set(place, [...new Set(texts.filter((text) => text !== ''))]);
      }
  }

  readonly listOf = (place: string): readonly string[] | undefined => {
    const list = this.#lists.get(place);
    if (list === undefined) this.#asked.add(place);
    return list;
  };

  /** After a recalculation: recalculates again where a list is another than before, and gives all that changed. */
  follow(document: WorkbookDocument, changes: Changes): Changes {
    const changed = new Set<string>();
    for (const place of [...this.#lists.keys(), ...this.#asked]) {
      const mayDiffer = this.#asked.has(place) || changes.names.has(place);
      if (mayDiffer && this.#renew(document, place)) changed.add(place);
    }
    this.#asked.clear();
    if (changed.size === 0) return changes;
    for (const item of itemsOf(document))
      if (placesOf(item).some((place) => changed.has(place)))
        feed(this.#engine, item as Cell | Table, this.listOf);
    return together(changes, this.#engine.recalculate());
  }

  /** True: the list is another than it was. */
  #renew(document: WorkbookDocument, place: string): boolean {
    const [name = '', column = ''] = place.split('.');
    const table = [...tablesOf(document)].find((each) => each.name === name);
    const known = this.#lists.get(place);
    if (!table?.columns.some((each) => each.name === column)) return this.#lists.delete(place);
    const texts = table.rows.flatMap((_, row) => textOf(this.#engine.readRow(name, column, row)));
    const list = [...new Set(texts)];
    if (known?.length === list.length && known.every((text, k) => text === list[k])) return false;
    this.#lists.set(place, list);
    return true;
  }
}

function placesOf(item: Item): string[] {
  if (item.kind !== 'cell' && item.kind !== 'table') return [];
  const choices = item.kind === 'cell' ? [item.choices] : item.columns.map((column) => column.choices);
  return choices.filter((each) => typeof each === 'string');
}

function textOf(state: CellState): string[] {
  return state.state === 'value' && typeof state.value === 'string' && state.value !== ''
    ? [state.value]
    : [];
}

function together(a: Changes, b: Changes): Changes {
  const rows = new Map(a.rows);
  for (const [name, [from, to]] of b.rows) {
    const known = rows.get(name);
    rows.set(name, known ? [Math.min(known[0], from), Math.max(known[1], to)] : [from, to]);
  }
  return { names: new Set([...a.names, ...b.names]), rows };
}

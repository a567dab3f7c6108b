/**
 * Choices that come from a column of a table: the texts that are typed there now. Cells and columns that choose from it
 * are told again when it changes, so that a text which is not in it any more is a fault where it stands.
 */
import type { Changes, Engine } from '../engine/index.ts';
import type { Cell, Item, Table, WorkbookDocument } from './document.ts';
import { feed } from './feed.ts';
import { itemsOf, tablesOf } from './locate.ts';

export class ChoiceLists {
  readonly #engine: Engine;
  readonly #lists = new Map<string, readonly string[]>();
  /** Every place that something chooses from, or did, whether there is a list or not. */
  readonly #places = new Set<string>();

  constructor(engine: Engine, document: WorkbookDocument) {
    this.#engine = engine;
    for (const item of itemsOf(document)) for (const place of placesOf(item)) this.#places.add(place);
    const tables = tablesByName(document);
    for (const place of this.#places) this.#renew(tables, place);
  }

  readonly listOf = (place: string): readonly string[] | undefined => {
    this.#places.add(place);
    return this.#lists.get(place);
  };

  /** After a recalculation: recalculates again where a list is another than before, and gives all that changed. */
  follow(document: WorkbookDocument, changes: Changes): Changes {
    const inQuestion = [...this.#places].filter(
      (place) => !this.#lists.has(place) || changes.names.has(place),
    );
    if (inQuestion.length === 0) return changes;
    const tables = tablesByName(document);
    const changed = new Set(inQuestion.filter((place) => this.#renew(tables, place)));
    if (changed.size === 0) return changes;
    for (const item of itemsOf(document))
      if (placesOf(item).some((place) => changed.has(place)))
        feed(this.#engine, item as Cell | Table, this.listOf);
    return together(changes, this.#engine.recalculate());
  }

  /** True: the list is another than it was. */
  #renew(tables: ReadonlyMap<string, Table>, place: string): boolean {
    const known = this.#lists.get(place);
    const list = listFrom(tables, place);
    if (list === undefined) return this.#lists.delete(place);
    if (known?.length === list.length && known.every((text, k) => text === list[k])) return false;
    this.#lists.set(place, list);
    return true;
  }
}

function tablesByName(document: WorkbookDocument): Map<string, Table> {
  return new Map([...tablesOf(document)].map((table) => [table.name, table]));
}

/** Of typed texts alone: a computed column may hang on the very choice that is made from it. */
function listFrom(tables: ReadonlyMap<string, Table>, place: string): readonly string[] | undefined {
  const [name = '', wanted] = place.split('.');
  const table = tables.get(name);
  const column = table?.columns.find((each) => each.name === wanted);
  if (!table || !column || column.formula !== undefined || column.type === 'number') return undefined;
  const texts = table.rows.map((row) => row.entries[column.id]?.trim() ?? '');
  return [...new Set(texts.filter((text) => text !== ''))];
}

function placesOf(item: Item): string[] {
  if (item.kind !== 'cell' && item.kind !== 'table') return [];
  const choices = item.kind === 'cell' ? [item.choices] : item.columns.map((column) => column.choices);
  return choices.filter((each) => typeof each === 'string');
}

function together(a: Changes, b: Changes): Changes {
  const rows = new Map(a.rows);
  for (const [name, [from, to]] of b.rows) {
    const known = rows.get(name);
    rows.set(name, known ? [Math.min(known[0], from), Math.max(known[1], to)] : [from, to]);
  }
  return { names: new Set([...a.names, ...b.names]), rows };
}

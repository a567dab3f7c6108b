/**
 * A choice whose words are typed anew in the list that it comes from: a room by another name. What had chosen it
 * chooses it still, and what is compared with it in a formula is compared with it still, so that nobody goes round
 * the worksheets after it. One entry, a pasted block, a fill and an imported file are followed alike.
 */
import type { Cell, Column, Override, Row, Scenario, Table, WorkbookDocument } from './document.ts';
import type { Edit, EntryChange } from './edit-kinds.ts';
import { itemsOf, tablesOf } from './locate.ts';
import { linksWith, quotedEdits, type Link } from './quoted-choice.ts';
import { renamedWords, type RowChange } from './renamed-words.ts';

export interface Following {
  readonly edits: readonly Edit[];
  /** How many cells and entries follow. */
  readonly places: number;
  /** How many formulas quote the new words. */
  readonly formulas: number;
  /** The words that were typed anew, by the old ones. */
  readonly words: ReadonlyMap<string, string>;
}

const NOTHING: Following = { edits: [], places: 0, formulas: 0, words: new Map() };

/** What follows when these entries become these texts. */
export function followEntries(
  document: WorkbookDocument,
  table: Table,
  changes: readonly EntryChange[],
  added: readonly Row[] = [],
): Following {
  // Most entries are numbers, and tables may be long.
  const words = new Set(table.columns.flatMap(({ id, type }) => (type === 'number' ? [] : [id])));
  if (!changes.some(({ column }) => words.has(column))) return NOTHING;
  const byRow = new Map<string, EntryChange[]>();
  for (const change of changes) byRow.set(change.row, [...(byRow.get(change.row) ?? []), change]);
  const pairs = table.rows.flatMap((row): RowChange[] => {
    const own = byRow.get(row.id);
    if (own === undefined) return [];
    const texts = Object.fromEntries(own.map(({ column, text = '' }) => [column, text]));
    return [{ before: row.entries, after: { ...row.entries, ...texts } }];
  });
  const others = table.rows.filter(({ id }) => !byRow.has(id)).map(({ entries }) => entries);
  const typed = new Set(changes.map(({ row, column }) => `${row} ${column}`));
  return follow(document, table, pairs, [...others, ...added.map(({ entries }) => entries)], (row, column) =>
    typed.has(`${row} ${column}`),
  );
}

/** The same where rows come in the place of others: one by one, where nothing but the words differs. */
export function followRows(
  document: WorkbookDocument,
  table: Table,
  gone: readonly Row[],
  rows: readonly Row[],
): Following {
  const isSame = gone.length === rows.length;
  const pairs = gone.flatMap(({ entries }, at): RowChange[] => {
    const after = rows[at]?.entries;
    return isSame && after !== undefined ? [{ before: entries, after, anotherRow: true }] : [];
  });
  const going = new Set(gone.map(({ id }) => id));
  const others = table.rows.filter(({ id }) => !going.has(id)).map(({ entries }) => entries);
  const fresh = isSame ? [] : rows.map(({ entries }) => entries);
  return follow(document, table, pairs, [...others, ...fresh], (row) => going.has(row));
}

/** `others`: rows that stay, or come, besides. `typed`: entries that are typed by the same deed. */
function follow(
  document: WorkbookDocument,
  table: Table,
  pairs: readonly RowChange[],
  others: readonly Row['entries'][],
  typed: (row: string, column: string) => boolean,
): Following {
  const edits: Edit[] = [];
  const words = new Map<string, string>();
  let places = 0;
  let formulas = 0;
  let { scenarios } = document;
  for (const column of table.columns) {
    const renamed = renamedWords(table, column, pairs, others);
    if (renamed.size === 0) continue;
    const list = `${table.name}.${column.name}`;
    const links = linksOf(document, list, column);
    if (links === undefined) continue;
    const lists = listsFrom(document, list, links);
    const isOfList = membersOf(lists, links);
    const choosing = new Set<string>();
    /** As formulas name them. */
    const named = new Set(lists);
    for (const item of itemsOf(document)) {
      if (item.kind === 'cell' && isOfList(item, item.name)) {
        choosing.add(item.id);
        named.add(item.name);
        const to = renamed.get(item.text.trim());
        if (to === undefined) continue;
        edits.push({ kind: 'set-cell', cell: item.id, patch: { text: to } });
        places++;
      }
      if (item.kind !== 'table') continue;
      const columns = item.columns.filter((each) => isOfList(each, `${item.name}.${each.name}`));
      for (const each of columns) {
        choosing.add(`${item.id} ${each.id}`);
        named.add(`${item.name}.${each.name}`);
      }
      const entries = columns.flatMap((each) =>
        item.rows.flatMap((other): EntryChange[] => {
          const to = renamed.get(other.entries[each.id]?.trim() ?? '');
          const isTyped = item.id === table.id && typed(other.id, each.id);
          return to === undefined || isTyped ? [] : [{ row: other.id, column: each.id, text: to }];
        }),
      );
      if (entries.length > 0) edits.push({ kind: 'set-entries', table: item.id, entries });
      places += entries.length;
    }
    for (const [from, to] of renamed) words.set(from, to);
    scenarios = scenarios?.map((each) => following(each, choosing, renamed));
    // Who chooses another in a list has given nothing a new name, so only words that are typed freely are quoted anew.
    const quoted = column.type === 'text' ? quotedEdits(document, named, choosing, renamed) : [];
    edits.push(...quoted);
    formulas += quoted.length;
  }
  if (scenarios?.some((each, at) => each !== document.scenarios?.[at]))
    edits.push({ kind: 'set-document', patch: { scenarios } });
  return { edits, places, formulas, words };
}

/**
 * What formulas say of a list; nothing where the column is none: nobody chooses from it or looks anything up in it, so
 * that its words tell no rows apart. What is compared with words that nobody chooses may be any other.
 */
function linksOf(document: WorkbookDocument, list: string, { name }: Column): readonly Link[] | undefined {
  const links = linksWith(document, name);
  const isChosen = [...itemsOf(document)].some((item) =>
    item.kind === 'cell'
      ? item.choices === list
      : item.kind === 'table' && item.columns.some(({ choices }) => choices === list),
  );
  if (isChosen) return links;
  const lookedUp = links.filter(({ how }) => how === 'looked up');
  return lookedUp.some((link) => link.list === list) ? lookedUp : undefined;
}

/** The list and those whose entries are of it: what they name is followed from there as well. */
function listsFrom(document: WorkbookDocument, first: string, links: readonly Link[]): ReadonlySet<string> {
  const lists = new Set([first]);
  for (let known = 0; known < lists.size;) {
    known = lists.size;
    const isOfList = membersOf(lists, links);
    for (const { name, columns } of tablesOf(document))
      for (const column of columns) {
        const called = `${name}.${column.name}`;
        if (column.formula === undefined && isOfList(column, called)) lists.add(called);
      }
  }
  return lists;
}

/**
 * What chooses from a list; and words that are typed freely and looked up in it or compared with it, as the room
 * beyond a door, which may be no room.
 */
function membersOf(lists: ReadonlySet<string>, links: readonly Link[]) {
  const linked = new Set(links.flatMap(({ list, by }) => (by !== undefined && lists.has(list) ? [by] : [])));
  return ({ type, choices }: Pick<Cell | Column, 'type' | 'choices'>, name: string): boolean =>
    type === 'choice'
      ? typeof choices === 'string' && lists.has(choices)
      : type === 'text' && linked.has(name);
}

/** The scenario itself where it tries none of them. */
function following(
  scenario: Scenario,
  choosing: ReadonlySet<string>,
  renamed: ReadonlyMap<string, string>,
): Scenario {
  const newText = (override: Override) =>
    choosing.has('cell' in override ? override.cell : `${override.table} ${override.column}`)
      ? renamed.get(override.text.trim())
      : undefined;
  if (!scenario.overrides.some((each) => newText(each) !== undefined)) return scenario;
  return {
    ...scenario,
    overrides: scenario.overrides.map((each) => ({ ...each, text: newText(each) ?? each.text })),
  };
}

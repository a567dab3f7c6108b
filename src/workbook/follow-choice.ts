/**
 * A choice whose words are typed anew in the list that it comes from: a room by another name. What had chosen it
 * chooses it still, so that nobody goes round the worksheets after it.
 */
import type { Cell, Override, Scenario, Table, WorkbookDocument } from './document.ts';
import type { Edit, EntryChange } from './edit-kinds.ts';
import { itemsOf, tablesOf } from './locate.ts';

export interface Following {
  readonly edits: readonly Edit[];
  /** How many cells and entries follow. */
  readonly places: number;
}

const NOTHING: Following = { edits: [], places: 0 };

/** What follows when the entry becomes this text. Words that stand twice, or stand already, are no new name. */
export function followChoice(
  document: WorkbookDocument,
  table: Table,
  { row, column: id, text = '' }: EntryChange,
): Following {
  const column = table.columns.find((each) => each.id === id);
  const from = table.rows.find((each) => each.id === row)?.entries[id]?.trim() ?? '';
  const to = text.trim();
  if (!column || column.type === 'number' || column.formula !== undefined) return NOTHING;
  if (from === '' || to === '' || from === to) return NOTHING;
  const others = table.rows.filter((each) => each.id !== row).map(({ entries }) => entries[id]?.trim());
  if (others.includes(from) || others.includes(to)) return NOTHING;

  const lists = listsFrom(document, `${table.name}.${column.name}`);
  const edits: Edit[] = [];
  const choosing = new Set<string>();
  let places = 0;
  for (const item of itemsOf(document)) {
    if (item.kind === 'cell' && chooses(item, lists)) {
      choosing.add(item.id);
      if (item.text.trim() !== from) continue;
      edits.push({ kind: 'set-cell', cell: item.id, patch: { text: to } });
      places++;
    }
    if (item.kind !== 'table') continue;
    const columns = item.columns.filter((each) => chooses(each, lists));
    for (const each of columns) choosing.add(`${item.id} ${each.id}`);
    const entries = columns.flatMap((each) =>
      item.rows
        .filter((other) => other.entries[each.id]?.trim() === from)
        .map((other): EntryChange => ({ row: other.id, column: each.id, text: to })),
    );
    if (entries.length > 0) edits.push({ kind: 'set-entries', table: item.id, entries });
    places += entries.length;
  }
  const scenarios = document.scenarios?.map((each) => following(each, choosing, from, to));
  if (scenarios?.some((each, at) => each !== document.scenarios?.[at]))
    edits.push({ kind: 'set-document', patch: { scenarios } });
  return { edits, places };
}

/** The list and those whose entries are chosen from it: what they name is followed from there as well. */
function listsFrom(document: WorkbookDocument, first: string): ReadonlySet<string> {
  const lists = new Set([first]);
  for (let known = 0; known < lists.size;) {
    known = lists.size;
    for (const { name, columns } of tablesOf(document))
      for (const column of columns)
        if (column.formula === undefined && chooses(column, lists)) lists.add(`${name}.${column.name}`);
  }
  return lists;
}

function chooses({ type, choices }: Pick<Cell, 'type' | 'choices'>, lists: ReadonlySet<string>): boolean {
  return type === 'choice' && typeof choices === 'string' && lists.has(choices);
}

/** The scenario itself where it tries none of them. */
function following(scenario: Scenario, choosing: ReadonlySet<string>, from: string, to: string): Scenario {
  const tries = (override: Override) =>
    override.text.trim() === from &&
    choosing.has('cell' in override ? override.cell : `${override.table} ${override.column}`);
  if (!scenario.overrides.some(tries)) return scenario;
  return {
    ...scenario,
    overrides: scenario.overrides.map((each) => (tries(each) ? { ...each, text: to } : each)),
  };
}

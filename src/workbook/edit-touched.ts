/** Collects what the parts of an edit touch. */
import type { Item, Section } from './document.ts';
import type { Touched, TouchedTable } from './edit-kinds.ts';

const UNTOUCHED: TouchedTable = { structure: false, rows: false, entries: [] };

export interface TouchedParts {
  readonly cells?: Iterable<string>;
  readonly tables?: Iterable<readonly [string, Partial<TouchedTable>]>;
  readonly shown?: Iterable<string>;
  readonly outline?: boolean;
}

export function touches(parts: TouchedParts): Touched {
  return {
    cells: new Set(parts.cells),
    tables: new Map([...(parts.tables ?? [])].map(([id, table]) => [id, { ...UNTOUCHED, ...table }])),
    shown: new Set(parts.shown),
    outline: parts.outline ?? false,
  };
}

export const NOTHING_TOUCHED: Touched = touches({});

/** What items bring when they come and take when they go. */
export function touchesItems(items: readonly Item[]): Touched {
  return touches({
    cells: items.filter((item) => item.kind === 'cell').map((item) => item.id),
    tables: items
      .filter((item) => item.kind === 'table')
      .map((item): [string, Partial<TouchedTable>] => [
        item.id,
        { structure: true, rows: item.rows.length > 0 },
      ]),
    shown: items.filter((item) => item.kind === 'figure' || item.kind === 'prose').map((item) => item.id),
    outline: true,
  });
}

export function touchesSections(sections: readonly Section[]): Touched {
  return touchesItems(sections.flatMap((section) => section.items));
}

export function joinTouched(all: readonly Touched[]): Touched {
  if (all.length === 1 && all[0]) return all[0];
  const cells = new Set<string>();
  const shown = new Set<string>();
  const tables = new Map<
    string,
    { structure: boolean; rows: boolean; entries: { row: string; column: string }[] }
  >();
  let outline = false;
  for (const part of all) {
    for (const cell of part.cells) cells.add(cell);
    for (const item of part.shown) shown.add(item);
    outline ||= part.outline;
    for (const [id, touched] of part.tables) {
      const table = tables.get(id) ?? { structure: false, rows: false, entries: [] };
      table.structure ||= touched.structure;
      table.rows ||= touched.rows;
      for (const entry of touched.entries) table.entries.push(entry);
      tables.set(id, table);
    }
  }
  return { cells, tables, shown, outline };
}

/**
 * What reads a part of the workbook: told before it is deleted. Found in the texts and not asked of the engine, so
 * that figures, choices and formulas with mistakes are told too.
 */
import type { Item, Table, WorkbookDocument } from './document.ts';
import { holdsFormula, pathsIn, type Path } from './formula-names.ts';
import { textParts, liveTexts } from './live-text.ts';
import { itemsOf } from './locate.ts';

export interface Reader {
  /** Name of the cell or `table.column`; of a figure or a text, what tells it from others. */
  readonly name: string;
  readonly label: string;
}

interface Reading extends Reader {
  readonly text: string;
  /** The table whose columns come first in the text. */
  readonly own?: Table;
}

/** Whoever stays and reads a cell or a table among `going`, ids of items. */
export function readersOf(document: WorkbookDocument, going: ReadonlySet<string>): Reader[] {
  const names = new Set<string>();
  for (const item of itemsOf(document)) if (going.has(item.id) && 'name' in item) names.add(item.name);
  if (names.size === 0) return [];
  return readersWhere(document, going, (path, own) => {
    const first = path.parts[0]?.text ?? '';
    return names.has(first) && !own?.columns.some((column) => column.name === first);
  });
}

/** Whoever reads a column, the other columns of its table included. */
export function readersOfColumn(document: WorkbookDocument, table: Table, columnId: string): Reader[] {
  const name = table.columns.find((column) => column.id === columnId)?.name;
  if (name === undefined) return [];
  const self = `${table.name}.${name}`;
  const readers = readersWhere(document, new Set(), (path, own) => {
    const [first, second] = path.parts;
    if (own?.columns.some((column) => column.name === first?.text))
      return own.id === table.id && first?.text === name;
    return first?.text === table.name && second?.text === name;
  });
  return readers.filter((reader) => reader.name !== self);
}

function readersWhere(
  document: WorkbookDocument,
  going: ReadonlySet<string>,
  reads: (path: Path, own: Table | undefined) => boolean,
): Reader[] {
  const found = new Map<string, Reader>();
  for (const item of itemsOf(document)) {
    if (going.has(item.id)) continue;
    for (const { name, label, text, own } of readingsOf(item)) {
      if (found.has(name)) continue;
      for (const path of pathsIn(text)) {
        if (!reads(path, own)) continue;
        found.set(name, { name, label });
        break;
      }
    }
  }
  for (const { id, label, text } of liveTexts(document)) {
    const name = `${id} ${label}`;
    if (going.has(id) || found.has(name)) continue;
    const named = textParts(text).some(
      (part) => part.kind === 'name' && [...pathsIn(part.name)].some((path) => reads(path, undefined)),
    );
    if (named) found.set(name, { name, label });
  }
  return [...found.values()];
}

function* readingsOf(item: Item): Generator<Reading> {
  if (item.kind === 'cell') {
    const self = { name: item.name, label: item.label || item.name };
    if (holdsFormula(item)) yield { ...self, text: item.text };
    if (typeof item.choices === 'string') yield { ...self, text: item.choices };
  } else if (item.kind === 'table') {
    for (const column of item.columns) {
      const label = `${item.label || item.name}, ${column.label || column.name}`;
      const self = { name: `${item.name}.${column.name}`, label };
      if (column.formula !== undefined) yield { ...self, text: column.formula, own: item };
      if (typeof column.choices === 'string') yield { ...self, text: column.choices };
    }
    if (item.shownBy) yield { name: item.name, label: item.label || item.name, text: item.shownBy.cell };
  } else if (item.kind === 'figure') {
    const self = { name: item.id, label: `the figure “${item.title || item.figure}”` };
    for (const text of Object.values(item.bindings)) yield { ...self, text };
  }
}

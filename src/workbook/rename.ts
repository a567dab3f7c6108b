/**
 * A name labels an id. Renaming finds every place where the old name stands for that id and writes the new one
 * there.
 */
import type { Cell, Column, Figure, Table, WorkbookDocument } from './document.ts';
import type { Edit, EditProblem, Rename } from './edit-kinds.ts';
import { liveTexts, withNames } from './live-text.ts';
import { findItem, itemsOf, namesOf, tablesOf } from './locate.ts';
import { pathsIn, renamedIn, rewritten, type Path, type Renaming } from './formula-names.ts';
import { checkName, freeName, normalName } from './name.ts';

/** What is renamed, and how to know it in a formula of `own`, the table whose column formula is read. */
interface Target {
  readonly what: Rename['what'];
  readonly table: Table | undefined;
  readonly from: string;
  readonly to: string;
}

/** Which part of the path is the renamed name, if any. A name in a column formula is its own table's column first. */
function hit(path: Path, target: Target, own: Table | undefined): number | undefined {
  const [first, second] = path.parts;
  const isOwn = own?.columns.some((column) => column.name === first?.text) === true;
  if (target.what !== 'column') return !isOwn && first?.text === target.from ? 0 : undefined;
  if (isOwn) return own.id === target.table?.id && first?.text === target.from ? 0 : undefined;
  return first?.text === target.table?.name && second?.text === target.from ? 1 : undefined;
}

/** As `hit`, for whoever rewrites. */
function renamingTo(target: Target): Renaming {
  return (path, own) => {
    const part = hit(path, target, own);
    return part === undefined ? undefined : { part, to: target.to };
  };
}

/** The edits that a renaming consists of, or why it cannot be done. */
export function renaming(document: WorkbookDocument, rename: Rename): readonly Edit[] | EditProblem {
  const found = targetOf(document, rename);
  if ('problem' in found) return found;
  const problem = captured(document, found);
  if (problem) return problem;
  const edits: Edit[] = [nameEdit(rename, found.to)];
  for (const item of itemsOf(document)) {
    if (item.kind === 'cell') edits.push(...cellEdits(item, found));
    if (item.kind === 'table') edits.push(...tableEdits(item, found));
    if (item.kind === 'figure') edits.push(...figureEdits(item, found));
  }
  const words = (text: string) => withNames(text, (name) => rewritten(name, renamingTo(found)));
  for (const { text, edit } of liveTexts(document)) {
    const renamed = words(text);
    if (renamed !== text) edits.push(edit(renamed));
  }
  const block = document.titleBlock;
  if (block && found.what === 'cell') {
    const titleBlock = {
      result: renamedWord(block.result, found),
      target: renamedWord(block.target, found),
      margin: renamedWord(block.margin, found),
      ...(block.says === undefined ? {} : { says: words(block.says) }),
    };
    if (Object.values(titleBlock).join() !== Object.values(block).join()) {
      edits.push({ kind: 'set-document', patch: { titleBlock } });
    }
  }
  return edits;
}

function renamedWord(word: string, target: Target): string {
  return word === target.from ? target.to : word;
}

function targetOf(document: WorkbookDocument, rename: Rename): Target | EditProblem {
  const item = findItem(document, rename.what === 'column' ? rename.table : rename.id);
  if (rename.what === 'column') {
    const table = item?.kind === 'table' ? item : undefined;
    const column = table?.columns.find((candidate) => candidate.id === rename.id);
    if (!table || !column) return { problem: 'The column to rename is no longer there.' };
    const others = new Set(table.columns.filter((other) => other !== column).map((other) => other.name));
    const problem = checkName(rename.name, others);
    return problem ?? { what: 'column', table, from: column.name, to: normalName(rename.name) };
  }
  if (item?.kind !== rename.what) return { problem: `The ${rename.what} to rename is no longer there.` };
  const names = namesOf(document);
  names.delete(item.name);
  const problem = checkName(rename.name, names);
  return problem ?? { what: rename.what, table: undefined, from: item.name, to: normalName(rename.name) };
}

/** In a column formula a column hides a cell of the same name: a renaming must not change what a formula reads. */
function captured(document: WorkbookDocument, target: Target): EditProblem | undefined {
  const names = namesOf(document);
  for (const table of tablesOf(document)) {
    const formulas = table.columns.flatMap((column) => (column.formula === undefined ? [] : [column]));
    const meets = (column: Column): boolean =>
      [...pathsIn(column.formula ?? '')].some((path) =>
        target.what === 'column' ? path.parts[0]?.text === target.to : hit(path, target, table) === 0,
      );
    const endangered =
      target.what === 'column'
        ? table.id === target.table?.id && target.to !== target.from && names.has(target.to)
        : table.columns.some((column) => column.name === target.to);
    const reader = endangered ? formulas.find(meets) : undefined;
    if (reader === undefined) continue;
    const held =
      target.what === 'column' ? `the ${names.get(target.to)?.kind ?? 'cell'} ${target.to}` : target.from;
    return {
      problem: `The formula of ${table.name}.${reader.name} reads ${held}; it would read the column ${table.name}.${target.to} instead.`,
      suggestion: `Type ${freeName(target.to, new Set([...names.keys(), ...table.columns.map(({ name }) => name)]))}.`,
    };
  }
  return undefined;
}

/** A new column must not come before a cell or a table that the formulas of its table read. */
export function hiding(document: WorkbookDocument, edit: Edit): EditProblem | undefined {
  if (edit.kind === 'batch') {
    for (const part of edit.edits) {
      const problem = hiding(document, part);
      if (problem) return problem;
    }
    return undefined;
  }
  if (edit.kind !== 'insert-column') return undefined;
  const table = findItem(document, edit.table);
  return table?.kind === 'table' ? hiddenBy(document, table, edit.column.name) : undefined;
}

/** Why no column of that name may come into the table, where its formulas read something else of that name. */
export function hiddenBy(document: WorkbookDocument, table: Table, name: string): EditProblem | undefined {
  const names = namesOf(document);
  const hidden = names.get(name);
  if (hidden === undefined || table.columns.some((column) => column.name === name)) return undefined;
  const reader = table.columns.find((column) =>
    [...pathsIn(column.formula ?? '')].some((path) => path.parts[0]?.text === name),
  );
  if (reader === undefined) return undefined;
  const free = new Set([...names.keys(), ...table.columns.map((column) => column.name)]);
  return {
    problem: `The formula of ${table.name}.${reader.name} reads the ${hidden.kind} ${name}; it would read the column ${table.name}.${name} instead.`,
    suggestion: `Type ${freeName(name, free)}.`,
  };
}

function nameEdit(rename: Rename, name: string): Edit {
  const patch = { name };
  if (rename.what === 'column') return { kind: 'set-column', table: rename.table, column: rename.id, patch };
  return rename.what === 'cell'
    ? { kind: 'set-cell', cell: rename.id, patch }
    : { kind: 'set-table', table: rename.id, patch };
}

/** Fields of `next` that differ from those of `item`. */
function changes<T extends object, K extends keyof T>(item: T, next: T, fields: readonly K[]): Pick<T, K> {
  return Object.fromEntries(
    fields.flatMap((field) => (next[field] === item[field] ? [] : [[field, next[field]]])),
  ) as Pick<T, K>;
}

function cellEdits(cell: Cell, target: Target): Edit[] {
  const patch = changes(cell, renamedIn(cell, renamingTo(target)), ['text', 'choices']);
  return Object.keys(patch).length === 0 ? [] : [{ kind: 'set-cell', cell: cell.id, patch }];
}

function tableEdits(table: Table, target: Target): Edit[] {
  const renamed = renamedIn(table, renamingTo(target));
  const edits = table.columns.flatMap((column, at): Edit[] => {
    const patch = changes(column, renamed.columns[at] ?? column, ['formula', 'choices']);
    return Object.keys(patch).length === 0
      ? []
      : [{ kind: 'set-column', table: table.id, column: column.id, patch }];
  });
  const isOwnColumn = target.what === 'column' && target.table?.id === table.id;
  const shown = table.shownBy;
  const shownBy = shown && {
    column: isOwnColumn ? renamedWord(shown.column, target) : shown.column,
    cell: target.what === 'cell' ? renamedWord(shown.cell, target) : shown.cell,
  };
  const patch = {
    ...(isOwnColumn && table.reasonColumn === target.from ? { reasonColumn: target.to } : {}),
    ...(shownBy && (shownBy.column !== shown.column || shownBy.cell !== shown.cell) ? { shownBy } : {}),
  };
  if (Object.keys(patch).length > 0) edits.push({ kind: 'set-table', table: table.id, patch });
  return edits;
}

function figureEdits(figure: Figure, target: Target): Edit[] {
  const { bindings } = renamedIn(figure, renamingTo(target));
  const same = Object.entries(figure.bindings).every(([role, path]) => bindings[role] === path);
  return same ? [] : [{ kind: 'set-figure', figure: figure.id, patch: { bindings } }];
}

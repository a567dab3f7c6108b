/**
 * The names that stand in formulas, choices and bindings, and the same with other names in their places. Names are
 * found by a small scanner and not by the grammar, so faulty formulas are read too.
 */
import type { Cell, Column, Item, Table } from './document.ts';

/** A name with the parts that follow it: `fit.exponent` has two. */
export interface Path {
  readonly parts: readonly { readonly text: string; readonly start: number; readonly end: number }[];
}

const WORD = /[\p{L}_][\p{L}\p{M}\p{N}_]*/uy;
const NUMBER = /(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
/** Words of the grammar are no names, even where something bears one: `a and b` stays as it is. */
const GRAMMAR_WORD = /^(?:and|or|not|true|false)$/;
const FRACTION = /[¼½¾⅐-⅞]/;

/** The names in a formula: not in quoted text, not a unit behind a number, not a function before its bracket. */
export function* pathsIn(formula: string): Generator<Path> {
  let at = 0;
  let afterNumber = false;
  while (at < formula.length) {
    const character = formula.charAt(at);
    const number = match(NUMBER, formula, at);
    if (number !== undefined) {
      at += number.length;
      afterNumber = true;
    } else if (character === '"' && !afterNumber) {
      // Text has no escapes; an unclosed one runs to the end.
      const end = formula.indexOf('"', at + 1);
      at = end < 0 ? formula.length : end + 1;
    } else if (/\s/.test(character)) {
      at += 1;
    } else {
      const path = pathAt(formula, at);
      if (path === undefined) {
        afterNumber = FRACTION.test(character);
        at += 1;
        continue;
      }
      const last = path.parts.at(-1);
      const before = formula.charAt(at - 1);
      at = last?.end ?? at + 1;
      const isName = before !== '.' && !GRAMMAR_WORD.test(path.parts[0]?.text ?? '');
      if (!afterNumber && isName && !/^\s*\(/.test(formula.slice(at, at + 80))) yield path;
      afterNumber = false;
    }
  }
}

function pathAt(formula: string, start: number): Path | undefined {
  const parts: Path['parts'][number][] = [];
  let at = start;
  for (;;) {
    const text = match(WORD, formula, at);
    if (text === undefined) break;
    parts.push({ text, start: at, end: at + text.length });
    at += text.length;
    if (formula.charAt(at) !== '.') break;
    at += 1;
  }
  return parts.length === 0 ? undefined : { parts };
}

function match(pattern: RegExp, text: string, at: number): string | undefined {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0];
}

/** Which part of a path is to become another word. `own`: the table whose column formula is read. */
export type Renaming = (
  path: Path,
  own: Table | undefined,
) => { readonly part: number; readonly to: string } | undefined;

export function rewritten(text: string, renaming: Renaming, own?: Table): string {
  let result = '';
  let from = 0;
  for (const path of pathsIn(text)) {
    const found = renaming(path, own);
    const part = path.parts[found?.part ?? -1];
    if (found === undefined || part === undefined) continue;
    result += text.slice(from, part.start) + found.to;
    from = part.end;
  }
  return from === 0 ? text : result + text.slice(from);
}

/** A text or choice cell holds a formula only behind `=`. */
export function holdsFormula(cell: Cell): boolean {
  return cell.type === 'number' || cell.text.trimStart().startsWith('=');
}

/** The item with the names that it reads rewritten; its own name, and those of its columns, stay. */
export function renamedIn<T extends Item>(item: T, renaming: Renaming): T;
export function renamedIn(item: Item, renaming: Renaming): Item {
  switch (item.kind) {
    case 'cell': {
      const text = holdsFormula(item) ? rewritten(item.text, renaming) : item.text;
      return { ...item, text, ...choicesOf(item, renaming) };
    }
    case 'table': {
      const columns = item.columns.map((column) => ({
        ...column,
        ...(column.formula === undefined ? {} : { formula: rewritten(column.formula, renaming, item) }),
        ...choicesOf(column, renaming),
      }));
      const shownBy = item.shownBy && { ...item.shownBy, cell: rewritten(item.shownBy.cell, renaming) };
      return { ...item, columns, ...(shownBy === undefined ? {} : { shownBy }) };
    }
    case 'figure': {
      const bindings = Object.entries(item.bindings).map(([role, path]) => [role, rewritten(path, renaming)]);
      return { ...item, bindings: Object.fromEntries(bindings) as Record<string, string> };
    }
    case 'prose':
      return item;
  }
}

/** Choices name another table's column from outside, so a table's own columns do not come first there. */
function choicesOf(of: Cell | Column, renaming: Renaming): Pick<Cell, 'choices'> {
  return typeof of.choices === 'string' ? { choices: rewritten(of.choices, renaming) } : {};
}

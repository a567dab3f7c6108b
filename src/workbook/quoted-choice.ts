/** Words of a list that formulas quote: `rooms.room == "Hall"`, `lookup(rooms.area, rooms.room, "Hall")`. */
import { children, isDiagnostic, parse, type Expression, type Path } from '../engine/index.ts';
import type { Table, WorkbookDocument } from './document.ts';
import type { Edit } from './edit-kinds.ts';
import { holdsFormula } from './formula-names.ts';
import { itemsOf } from './locate.ts';

type Words = ReadonlyMap<string, string>;

/** What a formula says of two names: that one is looked up in the other, or may be the same word. */
export interface Link {
  readonly list: string;
  /** Nothing where what is looked up is no name. */
  readonly by: string | undefined;
  readonly how: 'looked up' | 'compared';
}

/** What formulas look up in the columns of that name, or compare with them. */
export function linksWith(document: WorkbookDocument, column: string): Link[] {
  const links: Link[] = [];
  const read = (formula: string, own?: Table): void => {
    if (!formula.includes(column)) return;
    const tree = parse(formula);
    if (isDiagnostic(tree)) return;
    const named = (e: Expression | undefined) => (e?.kind === 'path' ? nameOf(e, own) : undefined);
    const walk = (e: Expression): void => {
      if (e.kind === 'call' && e.name === 'lookup') {
        const list = named(e.arguments[1]);
        if (list !== undefined) links.push({ list, by: named(e.arguments[2]), how: 'looked up' });
      }
      if (e.kind === 'binary' && (e.operator === '==' || e.operator === '!=')) {
        const [left, right] = [named(e.left), named(e.right)];
        if (left !== undefined && right !== undefined)
          links.push({ list: left, by: right, how: 'compared' }, { list: right, by: left, how: 'compared' });
      }
      for (const child of children(e)) walk(child);
    };
    walk(tree);
  };
  for (const item of itemsOf(document)) {
    if (item.kind === 'cell' && holdsFormula(item)) read(item.text);
    if (item.kind === 'table')
      for (const { formula } of item.columns) if (formula !== undefined) read(formula, item);
  }
  return links;
}

/** As seen from everywhere. A column of the formula's own table comes before a cell of its name. */
function nameOf({ parts }: Path, own: Table | undefined): string {
  const isOwn = own?.columns.some(({ name }) => name === parts[0]) === true;
  return isOwn ? `${own.name}.${parts.join('.')}` : parts.join('.');
}

/** Whether a part of a formula gives words of the list. */
type IsOfList = (e: Expression) => boolean;

/**
 * The formulas with the new words where the old ones are compared with the list or with what is chosen from it
 * (`named`, as formulas name them), or are what a calculated choice gives (`choosing`, by ids). The same words in
 * any other place mean something else.
 */
export function quotedEdits(
  document: WorkbookDocument,
  named: ReadonlySet<string>,
  choosing: ReadonlySet<string>,
  words: Words,
): Edit[] {
  const mayQuote = (text: string) =>
    text.includes('"') && [...words.keys()].some((word) => text.includes(word));
  return [...itemsOf(document)].flatMap((item): Edit[] => {
    if (item.kind === 'cell') {
      if (!holdsFormula(item) || !mayQuote(item.text)) return [];
      const text = requoted(item.text, listed(named), words, choosing.has(item.id));
      return text === item.text ? [] : [{ kind: 'set-cell', cell: item.id, patch: { text } }];
    }
    if (item.kind !== 'table') return [];
    return item.columns.flatMap((column): Edit[] => {
      if (column.formula === undefined || !mayQuote(column.formula)) return [];
      const isChoice = choosing.has(`${item.id} ${column.id}`);
      const formula = requoted(column.formula, listed(named, item), words, isChoice);
      if (formula === column.formula) return [];
      return [{ kind: 'set-column', table: item.id, column: column.id, patch: { formula } }];
    });
  });
}

function listed(named: ReadonlySet<string>, own?: Table): IsOfList {
  const isOfList: IsOfList = (e) => {
    if (e.kind === 'call')
      return (e.name === 'otherwise' || e.name === 'where') && e.arguments.slice(0, 1).some(isOfList);
    if (e.kind === 'conditional') return isOfList(e.then) || isOfList(e.otherwise);
    return e.kind === 'path' && named.has(nameOf(e, own));
  };
  return isOfList;
}

function requoted(formula: string, isOfList: IsOfList, words: Words, isChoice: boolean): string {
  const tree = parse(formula);
  if (isDiagnostic(tree)) return formula;
  const found = new Map<number, { readonly end: number; readonly to: string }>();
  const quote = (e: Expression | undefined): void => {
    if (e?.kind === 'conditional') {
      quote(e.then);
      quote(e.otherwise);
    }
    if (e?.kind === 'call' && e.name === 'otherwise') e.arguments.forEach(quote);
    const to = e?.kind === 'text' ? words.get(e.value.trim()) : undefined;
    // Text has no escapes: what holds a quotation mark cannot be quoted.
    if (e && to !== undefined && !to.includes('"')) found.set(e.start, { end: e.end, to });
  };
  const walk = (e: Expression): void => {
    if (e.kind === 'binary' && (e.operator === '==' || e.operator === '!=')) {
      if (isOfList(e.left)) quote(e.right);
      if (isOfList(e.right)) quote(e.left);
    }
    if (e.kind === 'call') {
      const [first, second, third] = e.arguments;
      if (e.name === 'otherwise' && first && isOfList(first)) quote(second);
      if (e.name === 'lookup' && second && isOfList(second)) quote(third);
    }
    for (const child of children(e)) walk(child);
  };
  walk(tree);
  if (isChoice) quote(tree);
  let text = formula;
  for (const [start, { end, to }] of [...found].sort(([a], [b]) => b - a))
    text = `${text.slice(0, start)}"${to}"${text.slice(end)}`;
  return text;
}

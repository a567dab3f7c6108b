/** Finds the nodes that a formula reads, by names alone, so that the order is known before anything is checked. */
import { CONSTANTS } from '../formula/infer-call.ts';
import { children, eachPath, type Call, type Expression, type Path } from '../formula/expression.ts';
import { plainSpaces, sharedKey } from '../formula/compile.ts';
import type { AggregateName } from '../formula/typed.ts';
import type { Book, TableData } from './book.ts';
import { NO_IDS, newField, type GraphNode } from './node.ts';

const AGGREGATES: ReadonlySet<string> = new Set(['sum', 'full_sum', 'mean', 'min', 'max', 'count']);

interface Found {
  readonly ids: number[];
  /** Of columns, which most formulas read none of. */
  byRow?: Set<number>;
  /** Columns read as a whole: a change in one row reaches every row of the reader. */
  whole?: Set<number>;
}

/** Sets `references` of a formula node, making hidden nodes for aggregates that many may share. */
export function resolve(book: Book, node: GraphNode, expression: Expression): void {
  const found: Found = { ids: [] };
  const table = node.table === undefined ? undefined : book.tables.get(node.table);
  if (node.hidden && table) eachPath(expression, (path) => element(book, table, path, found));
  else walk(book, node.text, table, expression, found);
  node.references = found.ids;
  // Read both ways, in this row and as a whole: the wider way counts.
  for (const id of found.whole ?? NO_IDS) found.byRow?.delete(id);
  node.rowReferences = found.byRow?.size ? found.byRow : NO_IDS;
}

/** Most formulas read a few names, which a list holds at less cost than a set. */
function add({ ids }: Found, id: number): void {
  if (!ids.includes(id)) ids.push(id);
}

function walk(book: Book, text: string, row: TableData | undefined, e: Expression, found: Found): void {
  if (e.kind === 'path') {
    path(book, row, e, found);
    return;
  }
  if (e.kind === 'call') {
    const shared = sharedAggregate(book, text, row, e);
    if (shared) {
      add(found, shared.id);
      return;
    }
  }
  const parts = children(e);
  for (let k = 0; k < parts.length; k++) walk(book, text, row, parts[k]!, found);
}

function path(book: Book, row: TableData | undefined, e: Path, found: Found): void {
  const [first = '', second] = e.parts;
  const own = row?.columns.get(first);
  if (own) {
    add(found, own.id);
    (found.byRow ??= new Set()).add(own.id);
    return;
  }
  const table = book.tables.get(first);
  if (!table) {
    if (!(CONSTANTS.has(first) && !book.byKey.has(first))) add(found, book.intern(first).id);
    return;
  }
  // A table's own name is a node, too: its readers follow when the name becomes something else.
  const column = second === undefined ? book.intern(first) : table.columns.get(second);
  const { id } = column ?? book.intern(`${first}.${second ?? ''}`);
  add(found, id);
  (found.whole ??= new Set()).add(id);
}

/** Inside a hidden column: columns of its own table are read row by row. */
function element(book: Book, table: TableData, e: Path, found: Found): void {
  if (e.parts[0] !== table.name) {
    path(book, undefined, e, found);
    return;
  }
  const name = e.parts[1];
  if (name === undefined) {
    add(found, book.intern(table.name).id);
    return;
  }
  const column = table.columns.get(name);
  add(found, (column ?? book.intern(`${table.name}.${name}`)).id);
  if (column) (found.byRow ??= new Set()).add(column.id);
}

/** The hidden node of an aggregate whose argument is the same for every reader, or undefined. */
function sharedAggregate(
  book: Book,
  text: string,
  row: TableData | undefined,
  e: Call,
): GraphNode | undefined {
  const argument = e.arguments[0];
  if (!argument || e.arguments.length > 1 || !AGGREGATES.has(e.name)) return undefined;
  const firsts: string[] = [];
  eachPath(argument, (p) => firsts.push(p.parts[0] ?? ''));
  const tableName = firsts.find((first) => !row?.columns.has(first) && book.tables.has(first));
  if (tableName === undefined || firsts.some((first) => row?.columns.has(first))) return undefined;
  let columnKey: string;
  let field: string | undefined;
  if (argument.kind === 'path' && book.tables.get(tableName)?.columns.has(argument.parts[1] ?? '')) {
    columnKey = `${argument.parts[0] ?? ''}.${argument.parts[1] ?? ''}`;
    field = argument.parts[2];
  } else columnKey = hiddenColumn(book, tableName, text.slice(argument.start, argument.end)).key;
  const node = book.intern(sharedKey(e.name, argument, text));
  if (node.aggregate?.column === columnKey && node.aggregate.field === field) return node;
  book.stale.add(node.id);
  node.kind = 'aggregate';
  node.hidden = true;
  node.references = [book.intern(columnKey).id];
  node.rowReferences = new Set(node.references);
  node.aggregate = {
    name: e.name as AggregateName,
    column: columnKey,
    field,
    offset: 0,
  };
  return node;
}

function hiddenColumn(book: Book, tableName: string, text: string): GraphNode {
  const key = `${tableName}: ${plainSpaces(text)}`;
  const known = book.byKey.get(key);
  if (known?.kind === 'column') return known;
  const rows = book.tables.get(tableName)?.rows ?? 0;
  const node = book.intern(key);
  // At the end of what is still to be read, also when its table was taken away and made again.
  book.stale.delete(node.id);
  book.stale.add(node.id);
  node.kind = 'column';
  node.hidden = true;
  node.table = tableName;
  node.text = text;
  node.formula = true;
  node.data = {
    rows,
    fields: [newField(rows)],
    causes: new Map(),
    plusMinus: new Map(),
    entries: [],
    overrides: new Set(),
  };
  return node;
}

/** A small workbook and edits of it by chance. The plain model beside the engine says what a fresh one is built from. */
import {
  defineFunction,
  describeType,
  Engine,
  fault,
  FunctionLibrary,
  type CellDefinition,
  type CellState,
  type ColumnDefinition,
  type TableDefinition,
} from '../../../src/engine/index.ts';
import {
  CELLS,
  COLUMNS,
  KEYS,
  TABLES,
  chanceFrom,
  formula,
  pick,
  type Chance,
  type Kind,
} from './random-formula.ts';

const length = { kind: 'generic', letter: 'A' } as const;

/** Stand-ins for a trade's functions: one gives a record with a field that may be unavailable, two can fault. */
export const LIBRARY = new FunctionLibrary([
  defineFunction({
    name: 'spread',
    summary: 'least and most of a column',
    source: 'made for this test',
    limits: 'needs a row',
    parameters: [{ name: 'values', type: length, column: true, summary: 'the values' }],
    result: {
      kind: 'record',
      fields: {
        least: { type: length, summary: 'the least' },
        most: { type: length, summary: 'the most' },
        ratio: { type: { kind: 'quantity', unit: '' }, summary: 'most by least, from three rows on' },
      },
    },
    example: { arguments: [[1, 2, 4]], result: { least: 1, most: 4, ratio: 4 } },
    compute: (values: readonly number[]) =>
      values.length === 0
        ? fault('no row to take it from', 'add a row')
        : {
            least: Math.min(...values),
            most: Math.max(...values),
            ratio: values.length < 3 ? NaN : Math.max(...values) / Math.min(...values),
          },
  }),
  defineFunction({
    name: 'halve',
    summary: 'half of a number above zero',
    source: 'made for this test',
    limits: 'above zero',
    parameters: [{ name: 'number', type: { kind: 'quantity', unit: '' }, summary: 'the number' }],
    result: { kind: 'quantity', unit: '' },
    example: { arguments: [3], result: 1.5 },
    compute: (x: number) => (x > 0 ? x / 2 : fault('only a number above zero has a half here')),
  }),
  defineFunction({
    name: 'label',
    summary: 'a text for a number; none for zero',
    source: 'made for this test',
    limits: 'none',
    parameters: [{ name: 'number', type: { kind: 'quantity', unit: '' }, summary: 'the number' }],
    result: { kind: 'text' },
    example: { arguments: [1], result: 'A' },
    compute: (x: number) => (x === 0 ? '' : x > 2 ? 'B' : 'A'),
  }),
]);

export interface Model {
  readonly cells: Map<string, CellDefinition>;
  readonly tables: Map<string, TableDefinition>;
}

export function emptyModel(): Model {
  return { cells: new Map(), tables: new Map() };
}

export type Edit =
  | { readonly do: 'cell'; readonly cell: CellDefinition }
  | { readonly do: 'remove cell'; readonly name: string }
  | {
      readonly do: 'table';
      readonly table: string;
      readonly rows: number;
      readonly columns: readonly ColumnDefinition[];
    }
  | { readonly do: 'remove table'; readonly table: string }
  | { readonly do: 'rows'; readonly table: string; readonly rows: number }
  | { readonly do: 'column'; readonly table: string; readonly column: ColumnDefinition; readonly at: number }
  | { readonly do: 'remove column'; readonly table: string; readonly name: string }
  | {
      readonly do: 'entry';
      readonly table: string;
      readonly name: string;
      readonly row: number;
      readonly text: string | undefined;
    };

const KINDS: readonly Kind[] = ['plain', 'plain', 'length', 'length', 'text', 'logical', 'record'];

function unitOf(chance: Chance, kind: Kind): string {
  const r = chance();
  if (kind === 'length') return r < 0.6 ? 'ft' : r < 0.9 ? 'm' : r < 0.95 ? '' : 'ftt';
  return r < 0.95 ? '' : r < 0.98 ? '%' : 's';
}

function entryText(chance: Chance, kind: Kind): string {
  const r = chance();
  if (r < 0.12) return '';
  if (r < 0.15) return pick(chance, ['12 ftt', '3 s', 'abc', '1,5', '"A"', '  ', '-']);
  if (kind === 'text') return pick(chance, ['A', 'B', 'C', 'D', 'a b', 'a  b']);
  if (kind === 'length')
    return pick(chance, ['0', '1', '2.5', '-4', '3 m', '8\' 3 1/2"', '12 ± 0.5', '2 ft']);
  return pick(chance, ['0', '0', '1', '2', '3', '-2', '7.25', '10', '1e3', '4 ± 2 %']);
}

function cellText(chance: Chance, kind: Kind): string {
  const typed = kind === 'logical' || kind === 'record' ? 0.02 : 0.45;
  if (chance() < typed) return entryText(chance, kind);
  if (chance() < 0.02)
    return pick(chance, ['1 +', 'foo(', 'n1 n2', '1 to 2', 'walls', 'walls.a', '"A', 'foo', 'min()']);
  const text = formula(chance, kind, {});
  return kind === 'text' ? `= ${text}` : text;
}

function column(chance: Chance, table: string, rows: number): ColumnDefinition {
  const kind = pick(chance, KINDS);
  const name = pick(chance, COLUMNS[kind]);
  const computed = chance() < (kind === 'logical' || kind === 'record' ? 0.97 : 0.45);
  const unit = unitOf(chance, kind);
  return {
    name,
    type: kind === 'text' ? 'text' : 'number',
    ...(unit === '' ? {} : { unit }),
    ...(computed ? { formula: formula(chance, kind, { table }) } : {}),
    entries: Array.from({ length: rows }, () =>
      computed ? (chance() < 0.1 ? entryText(chance, kind) : undefined) : entryText(chance, kind),
    ),
  };
}

const ROWS = [0, 1, 2, 3, 3, 4, 5, 6] as const;

/** One edit for each seed, whatever the workbook holds: what does not fit it does nothing. */
export function editFrom(seed: number, manyRows = false): Edit {
  const chance = chanceFrom(seed);
  const table = pick(chance, TABLES);
  const rows =
    manyRows && chance() < 0.7
      ? pick(chance, [63, 64, 65, 100, 511, 512, 513, 1030] as const)
      : pick(chance, ROWS);
  const r = chance();
  if (r < 0.5) {
    const kind = pick(chance, KINDS);
    const text = cellText(chance, kind);
    const unit = unitOf(chance, kind);
    return {
      do: 'cell',
      cell: {
        name: pick(chance, CELLS[kind]),
        type: kind === 'text' ? 'text' : 'number',
        text,
        ...(unit === '' ? {} : { unit }),
        ...(kind === 'text' && chance() < 0.1 ? { choices: ['A', 'B'] } : {}),
        ...(chance() < 0.1 ? { plusMinus: '95' as const } : {}),
      },
    };
  }
  if (r < 0.55) return { do: 'remove cell', name: pick(chance, CELLS[pick(chance, KINDS)]) };
  if (r < 0.6) {
    const columns = new Map<string, ColumnDefinition>();
    for (let i = 0; i < 6; i++) {
      const c = column(chance, table, rows);
      columns.set(c.name, c);
    }
    return { do: 'table', table, rows, columns: [...columns.values()] };
  }
  if (r < 0.61) return { do: 'remove table', table };
  if (r < 0.66) return { do: 'rows', table, rows };
  if (r < 0.78)
    return { do: 'column', table, column: column(chance, table, rows), at: Math.floor(chance() * 6) };
  if (r < 0.8) return { do: 'remove column', table, name: pick(chance, COLUMNS[pick(chance, KINDS)]) };
  const kind = pick(chance, KINDS);
  return {
    do: 'entry',
    table,
    name: pick(chance, COLUMNS[kind]),
    row: Math.floor(chance() * (manyRows ? 700 : 6)),
    text: chance() < 0.2 ? undefined : entryText(chance, kind),
  };
}

function padded(entries: readonly (string | undefined)[], rows: number): (string | undefined)[] {
  return Array.from({ length: rows }, (_, i) => entries[i % Math.max(1, entries.length)]);
}

/** Does the edit in the model and in the engine; an edit that does not fit does nothing in either. */
export function apply(edit: Edit, model: Model, engine: Engine): void {
  if (edit.do === 'cell') {
    model.cells.set(edit.cell.name, edit.cell);
    engine.defineCell(edit.cell);
    return;
  }
  if (edit.do === 'remove cell') {
    model.cells.delete(edit.name);
    engine.removeCell(edit.name);
    return;
  }
  if (edit.do === 'remove table') {
    model.tables.delete(edit.table);
    engine.removeTable(edit.table);
    return;
  }
  if (edit.do === 'table') {
    const table = { name: edit.table, rows: edit.rows, columns: edit.columns };
    model.tables.set(edit.table, table);
    engine.defineTable(table);
    return;
  }
  const table = model.tables.get(edit.table);
  if (!table) return;
  if (edit.do === 'entry') {
    const known = table.columns.find((c) => c.name === edit.name);
    if (!known || edit.row >= table.rows) return;
    const entries = padded(known.entries, table.rows);
    entries[edit.row] = edit.text;
    const columns = table.columns.map((c) => (c === known ? { ...c, entries } : c));
    model.tables.set(edit.table, { ...table, columns });
    engine.setEntry(edit.table, edit.name, edit.row, edit.text);
    return;
  }
  const changed = tableAfter(edit, table);
  model.tables.set(edit.table, changed);
  engine.defineTable(changed);
}

function tableAfter(
  edit: Extract<Edit, { do: 'rows' | 'column' | 'remove column' }>,
  table: TableDefinition,
): TableDefinition {
  switch (edit.do) {
    case 'rows':
      return {
        ...table,
        rows: edit.rows,
        columns: table.columns.map((c) => ({ ...c, entries: padded(c.entries, edit.rows) })),
      };
    case 'column': {
      const column = { ...edit.column, entries: padded(edit.column.entries, table.rows) };
      const others = table.columns.filter((c) => c.name !== column.name);
      return { ...table, columns: [...others.slice(0, edit.at), column, ...others.slice(edit.at)] };
    }
    case 'remove column':
      return { ...table, columns: table.columns.filter((c) => c.name !== edit.name) };
  }
}

export function freshEngine(model: Model): Engine {
  const engine = new Engine(LIBRARY);
  for (const table of model.tables.values()) engine.defineTable(table);
  for (const cell of model.cells.values()) engine.defineCell(cell);
  engine.recalculate();
  return engine;
}

/** A state as plain data, its type in words. */
export function plainState(state: CellState): unknown {
  return 'type' in state ? { ...state, type: state.type && describeType(state.type) } : state;
}

const FIELDS = ['least', 'most', 'ratio'] as const;
export type States = Map<string, unknown>;

/** What every name reads, names nobody defined among them; rows stand under `table.column[row]`. */
export function statesOf(engine: Engine, model: Model): States {
  const states: States = new Map();
  for (const name of Object.values(CELLS).flat()) {
    states.set(name, plainState(engine.read(name)));
    if (engine.typeOf(name)?.kind === 'record')
      for (const field of FIELDS) states.set(`${name}.${field}`, plainState(engine.read(`${name}.${field}`)));
  }
  for (const table of model.tables.values())
    for (const { name } of table.columns)
      for (let row = 0; row < table.rows; row++) {
        states.set(`${table.name}.${name}[${row}]`, plainState(engine.readRow(table.name, name, row)));
        if (engine.typeOf(`${table.name}.${name}`)?.kind === 'record')
          for (const field of FIELDS)
            states.set(
              `${table.name}.${name}[${row}].${field}`,
              plainState(engine.readRow(table.name, name, row, field)),
            );
      }
  return states;
}

export { KEYS };

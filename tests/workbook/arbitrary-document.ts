/** Any sound document, for the laws that hold of every one. */
import fc from 'fast-check';
import type {
  Cell,
  Column,
  Figure,
  Item,
  Photo,
  Prose,
  Row,
  Table,
  WorkbookDocument,
} from '../../src/workbook/document.ts';
import { freeId } from '../../src/workbook/identity.ts';
import { freeName } from '../../src/workbook/name.ts';
import { jpeg } from './jpeg.ts';

// To make a failing document as small as it goes may take hours: what was found by then is told.
fc.installGlobalPlugin(fc.interruptAfterTimeLimit(100_000));

const NAMES = [
  'flow',
  'fit',
  'q50',
  'readings',
  'tests',
  'test',
  'volume',
  'Länge',
  'ρ_air',
  'x',
  'a_b',
  'toString_1',
];
const FORMULAS = [
  'q50 / volume',
  'fit.exponent * 2',
  'sum(readings.flow)',
  'flow + test - x',
  '20.0 ± 0.5 Pa',
  `12' 4 1/2" + x`,
  'lookup(tests.volume, tests.test, "flow")',
  'mean(where(readings.flow, readings.test == test))',
  '24,610 ft3',
  '=x',
  '(((',
];

export const anyText = fc.oneof(
  fc.constantFrom('', 'Flow at 50 Pa', '=x + 1', '__proto__', '"quoted"', '\u2028 \ud800', 'a\tb\r\nc'),
  fc.string({ unit: 'binary', maxLength: 12 }),
);
export const anyName = fc.constantFrom(...NAMES);
export const anyFormula = fc.oneof(fc.constantFrom(...FORMULAS), anyText);
export const anyEntry = fc.oneof(
  fc.constantFrom('-30.1', '20.0 ± 0.5 Pa', `1' 2"`, 'A', 'left out'),
  anyText,
);

const anyChoices = fc.oneof(
  fc.array(anyText, { maxLength: 3 }),
  fc.constantFrom('tests.test', 'readings.flow', 'x'),
);
const anyPlaces = fc.integer({ min: 0, max: 12 });
const anyMeaning = fc.constantFrom('standard' as const, '95' as const, 'limits' as const);
const anyType = fc.constantFrom('number' as const, 'text' as const, 'choice' as const);

const PHOTOS: readonly Photo[] = [
  { id: 'p1', data: jpeg(640, 480) },
  { id: 'p2', data: jpeg(1600, 900), caption: 'tape in "view"', taken: '2026-11-28 14:05' },
];

export const anyCell: fc.Arbitrary<Cell> = fc.record(
  {
    kind: fc.constant('cell' as const),
    id: fc.constant(''),
    name: anyName,
    label: anyText,
    type: anyType,
    text: anyFormula,
    unit: fc.constantFrom('', 'Pa', 'm3/h', 'ft2'),
    places: anyPlaces,
    plusMinus: anyMeaning,
    pinned: fc.boolean(),
    choices: anyChoices,
    settled: fc.array(anyText, { maxLength: 3 }),
    input: fc.boolean(),
    note: anyText,
  },
  { requiredKeys: ['kind', 'id', 'name', 'label', 'type', 'text', 'unit', 'note'], noNullPrototype: true },
);

export const anyColumn: fc.Arbitrary<Column> = fc.record(
  {
    id: fc.constant(''),
    name: anyName,
    label: anyText,
    type: anyType,
    unit: fc.constantFrom('', 'Pa', 'm3/h'),
    formula: anyFormula,
    places: anyPlaces,
    plusMinus: anyMeaning,
    pinned: fc.boolean(),
    choices: anyChoices,
    settled: fc.array(anyText, { maxLength: 3 }),
    hidden: fc.boolean(),
    brief: fc.boolean(),
    footer: fc.constantFrom(
      'sum' as const,
      'mean' as const,
      'min' as const,
      'max' as const,
      'count' as const,
    ),
    input: fc.boolean(),
    note: anyText,
  },
  { requiredKeys: ['id', 'name', 'label', 'type', 'unit', 'note'], noNullPrototype: true },
);

const anyRow = fc.record({
  texts: fc.array(fc.option(anyEntry), { maxLength: 4 }),
  note: fc.option(anyText),
  photos: fc.array(fc.constantFrom(...PHOTOS), { maxLength: 2 }),
});

export const anyTable: fc.Arbitrary<Table> = fc
  .record({
    name: anyName,
    label: anyText,
    note: anyText,
    columns: fc.array(anyColumn, { maxLength: 4 }),
    rows: fc.array(anyRow, { maxLength: 5 }),
    reason: fc.option(fc.nat(5)),
    shown: fc.option(fc.nat(5)),
    cell: anyName,
    input: fc.option(fc.boolean()),
  })
  .map(({ rows, reason, shown, cell, input, ...rest }) => {
    const columns = named(rest.columns);
    const at = (index: number | null) => columns[index ?? -1]?.name;
    const reasonColumn = at(reason);
    const shownColumn = at(shown);
    return {
      kind: 'table' as const,
      id: '',
      ...rest,
      columns,
      rows: rows.map(({ texts, note, photos }, index) => ({
        ...rowOf(columns, `r${String(index + 1)}`, texts, note),
        ...(photos.length === 0 ? {} : { photos: [...new Set(photos)] }),
      })),
      ...(reasonColumn === undefined ? {} : { reasonColumn }),
      ...(shownColumn === undefined ? {} : { shownBy: { column: shownColumn, cell } }),
      ...(input === null ? {} : { input }),
    };
  });

export function rowOf(
  columns: readonly Column[],
  id: string,
  texts: readonly (string | null)[],
  note: string | null,
): Row {
  const entries = columns.flatMap((column, index) => {
    const text = texts[index] ?? '';
    return text.trim() === '' ? [] : [[column.id, text] as const];
  });
  return { id, entries: Object.fromEntries(entries), ...(note === null || note === '' ? {} : { note }) };
}

const anyFigure: fc.Arbitrary<Figure> = fc.record({
  kind: fc.constant('figure' as const),
  id: fc.constant(''),
  figure: fc.constantFrom('fit', 'margin'),
  title: anyText,
  bindings: fc.dictionary(anyName, fc.constantFrom('q50', 'readings.flow', 'fit.exponent', 'nothing'), {
    noNullPrototype: true,
  }),
});

const anyProse: fc.Arbitrary<Prose> = fc.record({
  kind: fc.constant('prose' as const),
  id: fc.constant(''),
  text: anyText,
});

export const anyItem: fc.Arbitrary<Item> = fc.oneof(
  { arbitrary: anyCell, weight: 4 },
  { arbitrary: anyTable, weight: 3 },
  anyFigure,
  anyProse,
);

function named<T extends { readonly name: string; readonly id: string }>(things: readonly T[]): T[] {
  const taken = new Set<string>();
  return things.map((thing) => {
    const name = freeName(thing.name, taken);
    taken.add(name);
    return { ...thing, name, id: `c-${name}` };
  });
}

/** A photo stands at one row only. */
function withOwnPhotos(table: Table, ids: Set<string>): Table {
  const rows = table.rows.map((row) => {
    if (!row.photos) return row;
    const photos = row.photos.map((photo) => ({ ...photo, id: freeId(photo.id, ids) }));
    for (const { id } of photos) ids.add(id);
    return { ...row, photos };
  });
  return { ...table, rows };
}

/** Gives every item an id and a name of its own. */
export function settled(items: readonly Item[], ids: Set<string>, names: Set<string>): Item[] {
  return items.map((item) => {
    const id = freeId('name' in item ? item.name : item.kind, ids);
    ids.add(id);
    if (!('name' in item)) return { ...item, id };
    const name = freeName(item.name, names);
    names.add(name);
    return item.kind === 'table' ? { ...withOwnPhotos(item, ids), id, name } : { ...item, id, name };
  });
}

export const anyDocument: fc.Arbitrary<WorkbookDocument> = fc
  .record(
    {
      title: anyText,
      about: anyText,
      versions: fc.array(anyText, { maxLength: 2 }),
      printed: fc.array(fc.constantFrom('section', 'q50', 'gone'), { maxLength: 3 }),
      template: fc.record({ id: anyText, title: anyText, version: anyText }, { noNullPrototype: true }),
      units: fc.constantFrom('us' as const, 'si' as const),
      titleBlock: fc.record(
        { result: anyName, target: anyName, margin: anyName, says: anyText },
        { requiredKeys: ['result', 'target', 'margin'], noNullPrototype: true },
      ),
      sheets: fc.array(
        fc.record(
          {
            title: anyText,
            note: anyText,
            status: anyText,
            sections: fc.array(
              fc.record({ title: anyText, note: anyText, items: fc.array(anyItem, { maxLength: 5 }) }),
              { maxLength: 3 },
            ),
          },
          { requiredKeys: ['title', 'note', 'sections'], noNullPrototype: true },
        ),
        { maxLength: 3 },
      ),
    },
    { requiredKeys: ['title', 'units', 'sheets'], noNullPrototype: true },
  )
  .map((document) => {
    const ids = new Set<string>();
    const names = new Set<string>();
    const fresh = (wish: string) => {
      const id = freeId(wish, ids);
      ids.add(id);
      return id;
    };
    const sheets = document.sheets.map((sheet) => ({
      ...sheet,
      id: fresh('sheet'),
      sections: sheet.sections.map((section) => ({
        ...section,
        id: fresh('section'),
        items: settled(section.items, ids, names),
      })),
    }));
    return { ...document, sheets };
  });

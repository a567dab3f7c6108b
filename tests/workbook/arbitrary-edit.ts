/** Any edit that could be asked for: most fit the document they are made for, some do not. */
import fc from 'fast-check';
import type { Section, Sheet, Table, WorkbookDocument } from '../../src/workbook/document.ts';
import type { CellPatch, ColumnPatch, Edit, TablePatch } from '../../src/workbook/edit.ts';
import { newColumnId, newItemId, newRowIds } from '../../src/workbook/identity.ts';
import { itemsOf, tablesOf } from '../../src/workbook/locate.ts';
import { freeName } from '../../src/workbook/name.ts';
import {
  anyCell,
  anyColumn,
  anyEntry,
  anyFormula,
  anyItem,
  anyName,
  anyTable,
  anyText,
  rowOf,
} from './arbitrary-document.ts';
import { jpeg } from './jpeg.ts';

/** What a person might wish for, not knowing the document; `editFor` makes an edit of it. */
const anyParts = fc.record({
  kind: fc.nat(28),
  a: fc.nat(99),
  b: fc.nat(99),
  c: fc.nat(99),
  text: anyText,
  formula: anyFormula,
  entry: anyEntry,
  name: fc.oneof(anyName, fc.constantFrom('flow_rate', 'New', '2nd', 'toString', '__proto__', '')),
  cell: anyCell,
  column: anyColumn,
  item: anyItem,
  table: anyTable,
});
type Parts = typeof anyParts extends fc.Arbitrary<infer T> ? T : never;

export const anyWishes = fc.array(anyParts, { maxLength: 14 });

function pick<T>(list: readonly T[], index: number): T | undefined {
  return list[index % Math.max(1, list.length)];
}

export function editFor(document: WorkbookDocument, parts: Parts): Edit {
  const { a, b, c, text, formula, entry, name } = parts;
  const sheet = pick(document.sheets, a);
  const section = pick(
    document.sheets.flatMap(({ sections }) => sections),
    a,
  );
  const item = pick([...itemsOf(document)], a);
  const cell = pick(
    [...itemsOf(document)].filter(({ kind }) => kind === 'cell'),
    a,
  );
  const figure = pick(
    [...itemsOf(document)].filter(({ kind }) => kind === 'figure'),
    a,
  );
  const prose = pick(
    [...itemsOf(document)].filter(({ kind }) => kind === 'prose'),
    a,
  );
  const table = pick([...tablesOf(document)], a);
  const column = table && pick(table.columns, b);
  const row = table && pick(table.rows, c);
  const none = 'nothing-of-that-id';
  const inTable = { table: table?.id ?? none, column: column?.id ?? none, row: row?.id ?? none };
  const inBook = { cell: cell?.id ?? none, item: item?.id ?? none, section: section?.id ?? none };
  const kinds: (() => Edit)[] = [
    () => ({ kind: 'set-cell', cell: inBook.cell, patch: cellPatch(parts) }),
    () => ({ kind: 'set-cell', cell: inBook.cell, patch: { text: formula } }),
    () => ({ kind: 'set-entries', table: inTable.table, entries: entriesFor(table, parts) }),
    () => ({
      kind: 'set-entries',
      table: inTable.table,
      entries: [{ row: inTable.row, column: inTable.column, text: entry }],
    }),
    () => ({
      kind: 'insert-rows',
      table: inTable.table,
      at: b % ((table?.rows.length ?? 0) + 1),
      rows: rowsFor(table, parts),
    }),
    () => ({ kind: 'remove-rows', table: inTable.table, rows: everySecond(table, b) }),
    () => ({ kind: 'order-rows', table: inTable.table, rows: turned(table, b, c) }),
    () => ({ kind: 'set-row-note', table: inTable.table, row: inTable.row, note: text }),
    () => ({
      kind: 'add-photo',
      table: inTable.table,
      row: inTable.row,
      at: b % ((row?.photos?.length ?? 0) + 1),
      photo: { id: `p${c}`, data: jpeg(64, 48 + c), ...(b % 2 === 0 ? { caption: text } : {}) },
    }),
    () => ({
      kind: 'remove-photo',
      table: inTable.table,
      row: inTable.row,
      photo: row?.photos?.[0]?.id ?? none,
    }),
    () => ({
      kind: 'set-photo',
      table: inTable.table,
      row: inTable.row,
      photo: row?.photos?.[0]?.id ?? none,
      patch: { caption: b % 2 === 0 ? text : null },
    }),
    () => ({ kind: 'set-column', table: inTable.table, column: inTable.column, patch: columnPatch(parts) }),
    () => ({ kind: 'insert-column', table: inTable.table, ...columnFor(table, parts) }),
    () => ({ kind: 'remove-column', table: inTable.table, column: inTable.column }),
    () => ({
      kind: 'insert-item',
      section: inBook.section,
      at: b % ((section?.items.length ?? 0) + 1),
      item: itemFor(document, parts),
    }),
    () => ({ kind: 'remove-item', item: inBook.item }),
    () => ({
      kind: 'move-item',
      item: inBook.item,
      section:
        pick(
          document.sheets.flatMap(({ sections }) => sections),
          b,
        )?.id ?? none,
      at: c % 3,
    }),
    () => ({
      kind: 'insert-section',
      sheet: sheet?.id ?? none,
      at: b % ((sheet?.sections.length ?? 0) + 1),
      section: sectionFor(document, parts),
    }),
    () => ({ kind: 'remove-section', section: inBook.section }),
    () => ({ kind: 'set-section', section: inBook.section, patch: { title: text, note: formula } }),
    () => ({ kind: 'insert-sheet', at: b % (document.sheets.length + 1), sheet: sheetFor(document, parts) }),
    () => ({ kind: 'remove-sheet', sheet: c % 4 === 0 ? (sheet?.id ?? none) : none }),
    () => ({ kind: 'set-sheet', sheet: sheet?.id ?? none, patch: { title: text, status: formula } }),
    () => ({
      kind: 'set-document',
      patch: b % 2 === 0 ? { titleBlock: null } : { title: text, units: 'si', printed: [inBook.section] },
    }),
    () => ({ kind: 'set-table', table: inTable.table, patch: tablePatch(table, parts) }),
    () => ({
      kind: 'set-figure',
      figure: figure?.id ?? none,
      patch: { title: text, bindings: { [name]: formula } },
    }),
    () => ({ kind: 'set-prose', prose: prose?.id ?? none, text }),
    () => ({ kind: 'move-column', table: inTable.table, column: inTable.column, at: c % 5 }),
    () => ({
      kind: 'move-section',
      section: inBook.section,
      sheet: pick(document.sheets, b)?.id ?? none,
      at: c % 4,
    }),
    () => ({ kind: 'move-sheet', sheet: sheet?.id ?? none, at: c % 4 }),
    () =>
      b % 3 === 0
        ? { kind: 'rename', what: 'column', table: inTable.table, id: inTable.column, name }
        : {
            kind: 'rename',
            what: b % 3 === 1 ? 'cell' : 'table',
            id: b % 3 === 1 ? inBook.cell : inTable.table,
            name,
          },
    () => ({
      kind: 'batch',
      label: text,
      edits: [
        { kind: 'insert-item', section: inBook.section, at: 0, item: itemFor(document, parts) },
        { kind: 'set-cell', cell: inBook.cell, patch: { text: entry } },
        { kind: 'set-cell', cell: inBook.cell, patch: { text: formula, note: text } },
      ],
    }),
  ];
  return (kinds[parts.kind] ?? kinds[0])?.() ?? { kind: 'set-document', patch: {} };
}

function cellPatch({ cell, name, b }: Parts): CellPatch {
  const { kind: _kind, id: _id, name: _name, ...fields } = cell;
  return { places: null, choices: null, ...fields, ...(b % 5 === 0 ? { name } : {}) };
}

function columnPatch({ column, name, b }: Parts): ColumnPatch {
  const { id: _id, name: _name, ...fields } = column;
  return { formula: null, footer: null, ...fields, ...(b % 5 === 0 ? { name } : {}) };
}

function tablePatch(table: Table | undefined, { text, name, b, c }: Parts): TablePatch {
  const column = (table && pick(table.columns, c)?.name) ?? 'x';
  const names =
    b % 3 === 0
      ? { reasonColumn: null, shownBy: null }
      : { reasonColumn: column, shownBy: { column, cell: 'x' } };
  return { label: text, ...names, ...(b % 4 === 0 ? { name } : {}) };
}

function entriesFor(table: Table | undefined, { entry, text, b }: Parts) {
  return (table?.rows ?? []).flatMap(
    (row, index) =>
      table?.columns.map((column, place) => ({
        row: row.id,
        column: column.id,
        text: (index + place + b) % 3 === 0 ? text : entry,
      })) ?? [],
  );
}

function rowsFor(table: Table | undefined, { entry, text, c }: Parts) {
  if (!table) return [];
  return newRowIds(table, c % 3).map((id) => rowOf(table.columns, id, [entry, null, text], text));
}

function everySecond(table: Table | undefined, b: number): string[] {
  return (table?.rows ?? []).filter((_, index) => (index + b) % 2 === 0 || b % 7 === 0).map((row) => row.id);
}

/** The rows begun at another place and backwards; at times one is missing or stands twice. */
function turned(table: Table | undefined, b: number, c: number): string[] {
  const ids = (table?.rows ?? []).map((row) => row.id);
  const order = [...ids.slice(b % 5), ...ids.slice(0, b % 5)].reverse();
  if (c % 9 === 0) return order.slice(1);
  return c % 9 === 1 ? [...order, ...order.slice(0, 1)] : order;
}

function columnFor(table: Table | undefined, { column, entry, b }: Parts) {
  const name = freeName(column.name, new Set(table?.columns.map((other) => other.name)));
  const added = { ...column, name, id: table ? newColumnId(table, name) : name };
  const entries = (table?.rows ?? [])
    .filter((_, index) => index % 2 === b % 2)
    .map((row) => ({ row: row.id, text: entry }));
  return { at: b % ((table?.columns.length ?? 0) + 1), column: added, entries };
}

function itemFor(document: WorkbookDocument, { item, table, b }: Parts) {
  const made = b % 2 === 0 ? item : table;
  const id = newItemId(document, 'added');
  if (!('name' in made)) return { ...made, id };
  const names = new Set([...itemsOf(document)].flatMap((other) => ('name' in other ? [other.name] : [])));
  return { ...made, id, name: freeName(made.name, names) };
}

function sectionFor(document: WorkbookDocument, parts: Parts): Section {
  return { id: newItemId(document, 'part'), title: parts.text, note: '', items: [itemFor(document, parts)] };
}

function sheetFor(document: WorkbookDocument, parts: Parts): Sheet {
  return {
    id: newItemId(document, 'page'),
    title: parts.text,
    note: '',
    sections: [sectionFor(document, parts)],
  };
}

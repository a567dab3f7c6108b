/**
 * Writes a workbook as JSON that people can read and compare: a line for each cell, column and row, fields always
 * in the same order, empty ones left out, ids always there. Equal documents give equal bytes.
 */
import type {
  Cell,
  Column,
  Figure,
  Item,
  Override,
  Photo,
  Prose,
  Row,
  Scenario,
  Section,
  Sheet,
  Table,
  WorkbookDocument,
} from '../document.ts';
import { photosOf } from '../photo.ts';
import { APP } from './format.ts';
import { FORMATS } from './migrations.ts';

type Value = string | number | boolean | readonly string[] | Readonly<Record<string, string>>;
type Fields = readonly (readonly [key: string, value: Value | undefined])[];

export function writeWorkbook(document: WorkbookDocument): string {
  const lines = block(
    [
      ['app', APP],
      ['format', FORMATS.current],
      ['title', document.title],
      ['about', document.about],
      ['template', inOrder(document.template, ['id', 'title', 'version'])],
      ['versions', document.versions],
      ['units', document.units],
      ['titleBlock', inOrder(document.titleBlock, ['result', 'target', 'margin', 'says'])],
      ['compared', document.compared],
      ['printed', document.printed],
    ],
    [
      ...(document.scenarios ? [['scenarios', document.scenarios.map(scenarioLines)] as const] : []),
      ['sheets', document.sheets.map(sheetLines)],
      ...photoList(document),
    ],
  );
  return `${lines.join('\n')}\n`;
}

/** Each once, in reading order. */
function photoList(document: WorkbookDocument): (readonly [string, string[][]])[] {
  const photos = new Map<string, Photo>();
  for (const photo of photosOf(document)) if (!photos.has(photo.id)) photos.set(photo.id, photo);
  if (photos.size === 0) return [];
  const lines = [...photos.values()].map(({ id, caption, taken, data }) => [
    oneLine([
      ['id', id],
      ['caption', caption],
      ['taken', taken],
      ['data', data],
    ]),
  ]);
  return [['photos', lines]];
}

function scenarioLines({ id, name, note, overrides }: Scenario): string[] {
  return block(
    [
      ['id', id],
      ['name', name],
      ['note', unlessEmpty(note)],
    ],
    [['overrides', overrides.map((override) => [oneLine(overrideFields(override))])]],
  );
}

function overrideFields(override: Override): Fields {
  return 'cell' in override
    ? [
        ['cell', override.cell],
        ['text', override.text],
      ]
    : [
        ['table', override.table],
        ['row', override.row],
        ['column', override.column],
        ['text', override.text],
      ];
}

function sheetLines(sheet: Sheet): string[] {
  return block(
    [...headFields(sheet), ['status', sheet.status]],
    [['sections', sheet.sections.map(sectionLines)]],
  );
}

function sectionLines(section: Section): string[] {
  return block(headFields(section), [['items', section.items.map(itemLines)]]);
}

function headFields({ id, title, note }: Pick<Section, 'id' | 'title' | 'note'>): Fields {
  return [
    ['id', id],
    ['title', title],
    ['note', unlessEmpty(note)],
  ];
}

function itemLines(item: Item): string[] {
  switch (item.kind) {
    case 'cell':
      return [oneLine(cellFields(item))];
    case 'table':
      return tableLines(item);
    case 'figure':
      return [oneLine(figureFields(item))];
    case 'prose':
      return [oneLine(proseFields(item))];
  }
}

function cellFields(cell: Cell): Fields {
  return [
    ['kind', cell.kind],
    ['id', cell.id],
    ['name', cell.name],
    ['label', unlessEmpty(cell.label)],
    ['type', cell.type === 'number' ? undefined : cell.type],
    ['text', cell.text],
    ['unit', unlessEmpty(cell.unit)],
    ['places', cell.places],
    ['plusMinus', cell.plusMinus],
    ['pinned', cell.pinned],
    ['choices', cell.choices],
    ['settled', cell.settled],
    ['input', cell.input],
    ['note', unlessEmpty(cell.note)],
  ];
}

function columnFields(column: Column): Fields {
  return [
    ['id', column.id],
    ['name', column.name],
    ['label', unlessEmpty(column.label)],
    ['type', column.type === 'number' ? undefined : column.type],
    ['unit', unlessEmpty(column.unit)],
    ['formula', column.formula],
    ['places', column.places],
    ['plusMinus', column.plusMinus],
    ['pinned', column.pinned],
    ['choices', column.choices],
    ['settled', column.settled],
    ['hidden', column.hidden],
    ['brief', column.brief],
    ['each', column.each],
    ['shared', column.shared],
    ['footer', column.footer],
    ['input', column.input],
    ['note', unlessEmpty(column.note)],
  ];
}

function tableLines(table: Table): string[] {
  return block(
    [
      ['kind', table.kind],
      ['id', table.id],
      ['name', table.name],
      ['label', unlessEmpty(table.label)],
      ['note', unlessEmpty(table.note)],
      ['reasonColumn', table.reasonColumn],
      ['shownBy', inOrder(table.shownBy, ['column', 'cell'])],
      ['input', table.input],
    ],
    [
      ['columns', table.columns.map((column) => [oneLine(columnFields(column))])],
      ['rows', table.rows.map((row) => [oneLine(rowFields(table, row))])],
    ],
  );
}

function rowFields(table: Table, row: Row): Fields {
  const entries = table.columns.map(({ id, name }) => [name, row.entries[id]] as const);
  return [['$id', row.id], ...entries, ['$note', row.note], ['$photos', row.photos?.map(({ id }) => id)]];
}

function figureFields(figure: Figure): Fields {
  return [
    ['kind', figure.kind],
    ['id', figure.id],
    ['figure', figure.figure],
    ['title', unlessEmpty(figure.title)],
    ['bindings', inOrder(figure.bindings, Object.keys(figure.bindings).sort())],
  ];
}

function proseFields(prose: Prose): Fields {
  return [
    ['kind', prose.kind],
    ['id', prose.id],
    ['text', prose.text],
  ];
}

function unlessEmpty(text: string): string | undefined {
  return text === '' ? undefined : text;
}

function inOrder<K extends string>(
  record: Readonly<Partial<Record<K, string>>> | undefined,
  keys: readonly K[],
): Readonly<Record<string, string>> | undefined {
  const known = keys.flatMap((key) => (record?.[key] === undefined ? [] : [[key, record[key]] as const]));
  return record && Object.fromEntries(known);
}

/** An object over several lines: its plain fields, then its lists, each entry of which is a run of lines. */
function block(fields: Fields, lists: readonly (readonly [string, readonly string[][]])[]): string[] {
  const parts: string[][] = [];
  for (const [key, value] of fields) {
    if (value !== undefined) parts.push([`${JSON.stringify(key)}: ${inline(value)}`]);
  }
  for (const [key, entries] of lists) {
    const start = `${JSON.stringify(key)}: [`;
    parts.push(entries.length === 0 ? [`${start}]`] : [start, ...indented(withCommas(entries)), ']']);
  }
  return ['{', ...indented(withCommas(parts)), '}'];
}

function withCommas(parts: readonly string[][]): string[] {
  return parts.flatMap((lines, index) =>
    index === parts.length - 1 ? lines : [...lines.slice(0, -1), `${lines.at(-1) ?? ''},`],
  );
}

function indented(lines: readonly string[]): string[] {
  return lines.map((line) => `  ${line}`);
}

function oneLine(fields: Fields): string {
  const parts = fields.flatMap(([key, value]) =>
    value === undefined ? [] : [`${JSON.stringify(key)}: ${inline(value)}`],
  );
  return `{${parts.join(', ')}}`;
}

function inline(value: Value): string {
  if (typeof value !== 'object') return JSON.stringify(value);
  if (isTexts(value)) return `[${value.map((text) => JSON.stringify(text)).join(', ')}]`;
  return oneLine(Object.entries(value));
}

function isTexts(value: readonly string[] | Readonly<Record<string, string>>): value is readonly string[] {
  return Array.isArray(value);
}

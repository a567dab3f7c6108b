/**
 * A document as parts: every sheet, section, item, column, row and scenario with its own fields and the order of what
 * it holds. Two documents are compared, and put together again, part by part.
 */
import type { Column, Item, Row, Scenario, Section, Sheet, Table, WorkbookDocument } from './document.ts';

export type PartKind = 'document' | 'sheet' | 'section' | Item['kind'] | 'column' | 'row' | 'scenario';
/** The lists that a part may hold others in. */
export type Slot = 'scenarios' | 'sheets' | 'sections' | 'items' | 'columns' | 'rows';

export interface PartOfDocument {
  /** Kind and id, with the table's for columns and rows. */
  readonly key: string;
  readonly kind: PartKind;
  readonly parent: string;
  readonly slot: Slot;
  /** Fields that are not there have no entry. A row's entries are fields named `entry:` and the column's key. */
  readonly fields: ReadonlyMap<string, unknown>;
  readonly children: ReadonlyMap<Slot, readonly string[]>;
}

export type Parts = ReadonlyMap<string, PartOfDocument>;

export const ROOT = 'document';
const NO_CHILDREN: ReadonlyMap<Slot, readonly string[]> = new Map();

export function entryField(column: string): string {
  return `entry:${column}`;
}

/** Key of the column that a row's field belongs to. */
export function columnOfField(field: string): string | undefined {
  return field.startsWith('entry:') ? field.slice('entry:'.length) : undefined;
}

export function partsOf(document: WorkbookDocument): Map<string, PartOfDocument> {
  const parts = new Map<string, PartOfDocument>();
  const put = (
    place: Pick<PartOfDocument, 'key' | 'kind' | 'parent' | 'slot'>,
    fields: object,
    children = NO_CHILDREN,
  ): string => {
    const there = Object.entries(fields).filter(([, value]) => value !== undefined);
    parts.set(place.key, { ...place, fields: new Map(there), children });
    return place.key;
  };
  const tableOf = (table: Table, parent: string): string => {
    const { kind: _, columns, rows, ...fields } = table;
    const key = `table:${table.id}`;
    return put(
      { key, kind: 'table', parent, slot: 'items' },
      fields,
      new Map([
        [
          'columns',
          columns.map((column) =>
            put({ key: columnKey(table, column), kind: 'column', parent: key, slot: 'columns' }, column),
          ),
        ],
        [
          'rows',
          rows.map((row) =>
            put(
              { key: `row:${table.id}/${row.id}`, kind: 'row', parent: key, slot: 'rows' },
              rowFields(table, row),
            ),
          ),
        ],
      ]),
    );
  };
  const itemOf = (item: Item, parent: string): string => {
    if (item.kind === 'table') return tableOf(item, parent);
    const { kind, ...fields } = item;
    return put({ key: `${kind}:${item.id}`, kind, parent, slot: 'items' }, fields);
  };
  const sectionOf = ({ items, ...fields }: Section, parent: string): string => {
    const key = `section:${fields.id}`;
    return put(
      { key, kind: 'section', parent, slot: 'sections' },
      fields,
      new Map([['items', items.map((item) => itemOf(item, key))]]),
    );
  };
  const sheetOf = ({ sections, ...fields }: Sheet): string => {
    const key = `sheet:${fields.id}`;
    return put(
      { key, kind: 'sheet', parent: ROOT, slot: 'sheets' },
      fields,
      new Map([['sections', sections.map((section) => sectionOf(section, key))]]),
    );
  };
  const { sheets, scenarios, ...fields } = document;
  const scenarioOf = (scenario: Scenario) =>
    put({ key: `scenario:${scenario.id}`, kind: 'scenario', parent: ROOT, slot: 'scenarios' }, scenario);
  put(
    { key: ROOT, kind: 'document', parent: '', slot: 'sheets' },
    { ...fields, ...(scenarios && { hasScenarios: true }) },
    new Map([
      ['scenarios', (scenarios ?? []).map(scenarioOf)],
      ['sheets', sheets.map(sheetOf)],
    ]),
  );
  return parts;
}

function columnKey(table: Pick<Table, 'id'>, column: Pick<Column, 'id'>): string {
  return `column:${table.id}/${column.id}`;
}

function rowFields(table: Table, { entries, ...fields }: Row): object {
  const texts = Object.entries(entries).map(([column, text]) => [
    entryField(columnKey(table, { id: column })),
    text,
  ]);
  return { ...fields, ...(Object.fromEntries(texts) as object) };
}

/** The document that the parts make up; they are known to hang together. */
export function documentOf(parts: Parts): WorkbookDocument {
  const at = (key: string): PartOfDocument => {
    const part = parts.get(key);
    if (!part) throw new Error(`no part ${key}`);
    return part;
  };
  const held = <T>(part: PartOfDocument, slot: Slot, make: (part: PartOfDocument) => T): readonly T[] =>
    (part.children.get(slot) ?? []).map((key) => make(at(key)));
  const fieldsOf = (part: PartOfDocument) => Object.fromEntries(part.fields) as Record<string, never>;
  const rowOf = (part: PartOfDocument): Row => {
    const entries: [string, string][] = [];
    const fields: [string, unknown][] = [];
    for (const [field, value] of part.fields) {
      const column = columnOfField(field);
      if (column === undefined) fields.push([field, value]);
      else if (parts.has(column)) entries.push([idOf(at(column)), value as string]);
    }
    return { ...Object.fromEntries(fields), entries: Object.fromEntries(entries) } as unknown as Row;
  };
  const itemOf = (part: PartOfDocument): Item => {
    const kind = part.kind as Item['kind'];
    if (kind !== 'table') return { kind, ...fieldsOf(part) } as Item;
    const columns = held(part, 'columns', fieldsOf) as readonly unknown[] as readonly Column[];
    return { kind, ...fieldsOf(part), columns, rows: held(part, 'rows', rowOf) } as Table;
  };
  const sectionOf = (part: PartOfDocument): Section =>
    ({ ...fieldsOf(part), items: held(part, 'items', itemOf) }) as unknown as Section;
  const sheetOf = (part: PartOfDocument): Sheet =>
    ({ ...fieldsOf(part), sections: held(part, 'sections', sectionOf) }) as unknown as Sheet;
  const root = at(ROOT);
  const { hasScenarios, ...fields } = fieldsOf(root) as Record<string, unknown>;
  const scenarios = held(root, 'scenarios', fieldsOf) as readonly unknown[] as readonly Scenario[];
  return {
    ...fields,
    ...(hasScenarios === true || scenarios.length > 0 ? { scenarios } : {}),
    sheets: held(root, 'sheets', sheetOf),
  } as WorkbookDocument;
}

function idOf(part: PartOfDocument): string {
  return part.fields.get('id') as string;
}

/** From the shape of the file to the document: ids where they are missing, rows by column id. */
import { counted } from '../counted.ts';
import type { Column, Item, Photo, Row, Section, Sheet, Table, WorkbookDocument } from '../document.ts';
import { freeId } from '../identity.ts';
import { LIMITS } from '../limits.ts';
import { normalName } from '../name.ts';
import { limitPassed } from '../soundness.ts';
import type { FileError, FileWarning } from './file-error.ts';
import type { FileInFormat, RowInFile, TableInFile } from './format.ts';
import { FilePhotos } from './photos.ts';

export interface Assembled {
  readonly document: WorkbookDocument;
  readonly warnings: readonly FileWarning[];
}

type ItemInFile = FileInFormat['sheets'][number]['sections'][number]['items'][number];

export function documentFrom(file: FileInFormat): Assembled | FileError {
  const ids = new MissingIds(file);
  const photos = FilePhotos.from(file.photos ?? []);
  if ('code' in photos) return photos;
  const warnings: FileWarning[] = [];
  const sheets: Sheet[] = [];
  for (const { id, title, note, status, sections: sectionsInFile } of file.sheets) {
    const sheetId = id ?? ids.next('sheet');
    const sections: Section[] = [];
    for (const section of sectionsInFile) {
      const sectionId = section.id ?? ids.next('section');
      const items: Item[] = [];
      for (const itemInFile of section.items) {
        const item = itemFrom(itemInFile, ids, photos, warnings);
        if ('code' in item) return item;
        items.push(item);
      }
      sections.push({ id: sectionId, title: section.title, note: section.note, items });
    }
    sheets.push({ id: sheetId, title, note, ...(status === undefined ? {} : { status }), sections });
  }
  warnings.push(...photos.unused());
  const { title, about, template, versions, units, titleBlock, scenarios, compared, printed } = file;
  return {
    document: {
      title,
      ...(about === undefined ? {} : { about }),
      ...(template && { template }),
      ...(versions && { versions }),
      units,
      ...(titleBlock && { titleBlock }),
      ...(scenarios && { scenarios }),
      ...(compared && { compared }),
      ...(printed && { printed }),
      sheets,
    },
    warnings,
  };
}

/** Ids made for what has none: the name where there is one, else the kind and a running number. */
class MissingIds {
  readonly #taken = new Set<string>();
  readonly #counts = new Map<string, number>();

  constructor(file: FileInFormat) {
    for (const sheet of file.sheets) {
      this.#take(sheet.id);
      for (const section of sheet.sections) {
        this.#take(section.id);
        for (const item of section.items) this.#take(item.id);
      }
    }
  }

  #take(id: string | undefined): void {
    if (id !== undefined) this.#taken.add(id);
  }

  next(kind: string): string {
    const count = (this.#counts.get(kind) ?? 0) + 1;
    this.#counts.set(kind, count);
    return this.named(`${kind}-${String(count)}`);
  }

  named(name: string): string {
    const id = freeId(name, this.#taken);
    this.#taken.add(id);
    return id;
  }
}

function itemFrom(
  item: ItemInFile,
  ids: MissingIds,
  photos: FilePhotos,
  warnings: FileWarning[],
): Item | FileError {
  switch (item.kind) {
    case 'cell': {
      const name = normalName(item.name);
      return { ...item, id: item.id ?? ids.named(name), name };
    }
    case 'table':
      return tableFrom(item, ids, photos, warnings);
    default:
      return { ...item, id: item.id ?? ids.next(item.kind) };
  }
}

function tableFrom(
  table: TableInFile,
  ids: MissingIds,
  photos: FilePhotos,
  warnings: FileWarning[],
): Table | FileError {
  const name = normalName(table.name);
  const taken = new Set(table.columns.flatMap(({ id }) => (id === undefined ? [] : [id])));
  const columns = table.columns.map((column): Column => {
    const columnName = normalName(column.name);
    const id = column.id ?? freeId(columnName, taken);
    taken.add(id);
    return { ...column, id, name: columnName };
  });
  const rows = rowsFrom({ name, columns }, table.rows, photos, warnings);
  return 'code' in rows
    ? rows
    : { ...table, id: table.id ?? ids.named(name), name, columns, rows: rows.rows };
}

function rowsFrom(
  table: Pick<Table, 'name' | 'columns'>,
  rowsInFile: readonly RowInFile[],
  photos: FilePhotos,
  warnings: FileWarning[],
): { readonly rows: readonly Row[] } | FileError {
  const columnIds = new Map(table.columns.map((column) => [column.name, column.id]));
  const taken = new Set(rowsInFile.map((row) => row.$id));
  const unknown = new Map<string, number>();
  const rows: Row[] = [];
  for (const [index, row] of rowsInFile.entries()) {
    const entries = new Map<string, string>();
    let id: string | undefined;
    let note = '';
    let pictures: readonly Photo[] = [];
    for (const [key, value] of Object.entries(row)) {
      if (key === '$photos' && !columnIds.has(key)) {
        const found = photos.of(
          value,
          `table ${table.name.slice(0, 60)}, row ${String(index + 1)}`,
          warnings,
        );
        if ('code' in found) return found;
        pictures = found.photos;
        continue;
      }
      const column = columnIds.get(key) ?? columnIds.get(normalName(key));
      if (column === undefined && key !== '$id' && key !== '$note') {
        unknown.set(key, (unknown.get(key) ?? 0) + 1);
        continue;
      }
      const where = `table ${table.name.slice(0, 60)}, row ${String(index + 1)}, ${key.slice(0, 60)}`;
      if (typeof value !== 'string') return notTyped(where, value);
      const long =
        key === '$note' ? undefined : limitPassed(where, 'characters', value.length, LIMITS.textCharacters);
      if (long) return long;
      if (column !== undefined) entries.set(column, value);
      else if (key === '$id') id = value;
      else note = value;
    }
    const rowId = id ?? freeId(`r${String(index + 1)}`, taken);
    taken.add(rowId);
    const kept = [...entries].filter(([, text]) => text.trim() !== '');
    rows.push({
      id: rowId,
      entries: Object.fromEntries(kept),
      ...(note === '' ? {} : { note }),
      ...(pictures.length === 0 ? {} : { photos: pictures }),
    });
  }
  for (const [key, count] of unknown) {
    warnings.push({
      where: `table ${table.name.slice(0, 60)}`,
      message: `It has no column “${key.slice(0, 60)}”: ${counted(count, 'entry', 'entries')} ${count === 1 ? 'was' : 'were'} left out.`,
    });
  }
  return { rows };
}

function notTyped(where: string, value: unknown): FileError {
  const isNumber = typeof value === 'number';
  return {
    code: 'wrong-shape',
    where,
    found: JSON.stringify(value).slice(0, 60),
    expected: 'what was typed, as text in double quotes',
    suggestion: isNumber ? `Write "${String(value)}".` : 'Put it in double quotes, or take it out.',
  };
}

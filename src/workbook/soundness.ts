/**
 * What holds of every document, whether it was made by edits or read from a file: names and ids are unique and
 * well formed, rows fit their table's columns, nothing passes the limits. Edits and the reader ask the same
 * question, so whatever can be made can be opened again.
 */
import type { Column, Figure, Item, Row, Section, Sheet, Table, WorkbookDocument } from './document.ts';
import { isId } from './identity.ts';
import { LIMITS } from './limits.ts';
import { itemsOf } from './locate.ts';
import { checkName } from './name.ts';
import { limitPassed, type Unsound } from './unsound.ts';
import { enterPhotos, photosOf, type PhotoRegister } from './photo.ts';

export { limitPassed, type Unsound, type UnsoundCode } from './unsound.ts';

/** What is already taken or counted while a document, or what is to be added to it, is walked through. */
export interface Register extends PhotoRegister {
  readonly ids: Set<string>;
  readonly names: Set<string>;
  cells: number;
  positions: number;
}

export function emptyRegister(): Register {
  return { ids: new Set(), names: new Set(), cells: 0, positions: 0, photos: new Set(), photoCharacters: 0 };
}

/** The register of a document that is known to be sound. */
export function registerOf(document: WorkbookDocument): Register {
  const register = emptyRegister();
  for (const sheet of document.sheets) {
    register.ids.add(sheet.id);
    for (const section of sheet.sections) register.ids.add(section.id);
  }
  for (const item of itemsOf(document)) {
    register.ids.add(item.id);
    if (item.kind === 'cell' || item.kind === 'table') register.names.add(item.name);
    if (item.kind === 'cell') register.cells += 1;
    if (item.kind === 'table') register.positions += item.rows.length * item.columns.length;
  }
  for (const { id, data } of photosOf(document)) {
    register.photos.add(id);
    register.photoCharacters += data.length;
  }
  return register;
}

export interface Added {
  readonly sheets?: readonly Sheet[];
  readonly sections?: readonly Section[];
  readonly items?: readonly Item[];
}

/** Enters what is to be added, or tells why it cannot be. */
export function enter(register: Register, added: Added): Unsound | undefined {
  for (const sheet of added.sheets ?? []) {
    const problem =
      enterId(register, sheet.id, `sheet ${short(sheet.title)}`) ??
      enter(register, { sections: sheet.sections });
    if (problem) return problem;
  }
  for (const section of added.sections ?? []) {
    const problem =
      enterId(register, section.id, `section ${short(section.title)}`) ??
      enter(register, { items: section.items });
    if (problem) return problem;
  }
  for (const item of added.items ?? []) {
    const problem = enterItem(register, item);
    if (problem) return problem;
  }
  return undefined;
}

export function enterId(register: Pick<Register, 'ids'>, id: string, where: string): Unsound | undefined {
  if (!isId(id)) {
    return {
      code: 'bad-id',
      where,
      found: `the id “${short(id)}”`,
      expected: 'an id of letters, digits, _ . and -, at most 80 of them',
      suggestion: 'Take the id out: one is made.',
    };
  }
  if (register.ids.has(id)) {
    return {
      code: 'duplicate-id',
      where,
      found: `the id “${id}” a second time`,
      expected: 'an id that nothing else has',
      suggestion: 'Take the id out here: another is made.',
    };
  }
  register.ids.add(id);
  return undefined;
}

export function unsoundName(
  name: string,
  taken: { has(name: string): boolean },
  where: string,
): Unsound | undefined {
  const problem = checkName(name, taken);
  if (!problem && name === name.trim().normalize('NFC')) return undefined;
  const duplicate = taken.has(name);
  return {
    code: duplicate ? 'duplicate-name' : 'bad-name',
    where,
    found: problem?.problem ?? `The name “${name}” has spaces around it, or letters with separate accents.`,
    expected: duplicate ? 'a name that nothing else has' : 'a name: a letter, then letters, digits and _',
    suggestion: problem?.suggestion ?? `Type ${name.trim().normalize('NFC')}.`,
  };
}

/** As much of a text from a file as a message has room for. */
function short(text: string): string {
  return text.slice(0, 60);
}

export function unsoundText(text: string | undefined, where: string): Unsound | undefined {
  return limitPassed(where, 'characters', text?.length ?? 0, LIMITS.textCharacters);
}

export function unsoundPlaces(places: number | undefined, where: string): Unsound | undefined {
  if (places === undefined || (Number.isInteger(places) && places >= 0 && places <= LIMITS.places))
    return undefined;
  return {
    code: 'wrong-shape',
    where,
    found: `${String(places)} decimal places`,
    expected: `a whole number from 0 to ${String(LIMITS.places)}`,
    suggestion: 'Take the field out to show as many as are needed.',
  };
}

function enterItem(register: Register, item: Item): Unsound | undefined {
  const where =
    item.kind === 'cell' || item.kind === 'table'
      ? `${item.kind} ${short(item.name)}`
      : `${item.kind} ${short(item.id)}`;
  const problem = enterId(register, item.id, where);
  if (problem || item.kind === 'prose') return problem;
  if (item.kind === 'figure') return unsoundRoles(item, where);
  const name = unsoundName(item.name, register.names, where);
  if (name) return name;
  register.names.add(item.name);
  if (item.kind === 'cell') {
    register.cells += 1;
    return (
      unsoundText(item.text, where) ??
      unsoundPlaces(item.places, where) ??
      limitPassed('the workbook', 'named cells', register.cells, LIMITS.namedCells)
    );
  }
  register.positions += item.rows.length * item.columns.length;
  return (
    unsoundTable(item) ??
    tooManyPositions(register.positions) ??
    enterPhotos(register, item.rows, `table ${item.name}`)
  );
}

export function tooManyPositions(positions: number): Unsound | undefined {
  return limitPassed('the workbook', 'table entries (rows times columns)', positions, LIMITS.tablePositions);
}

export function unsoundRoles(figure: Pick<Figure, 'bindings'>, where: string): Unsound | undefined {
  for (const role of Object.keys(figure.bindings)) {
    const problem = unsoundName(role, new Set(), `${where}, binding ${role.slice(0, 60)}`);
    if (problem) return problem;
  }
  return undefined;
}

function unsoundTable(table: Table): Unsound | undefined {
  const where = `table ${table.name}`;
  const names = new Set<string>();
  const ids = new Set<string>();
  const count = limitPassed(where, 'columns', table.columns.length, LIMITS.columns);
  if (count) return count;
  for (const column of table.columns) {
    const problem = unsoundColumn(table.name, column, names, { ids });
    if (problem) return problem;
  }
  return unsoundRows({ ...table, rows: [] }, table.rows);
}

export function unsoundColumn(
  table: string,
  column: Column,
  names: Set<string>,
  register: Pick<Register, 'ids'>,
): Unsound | undefined {
  const where = `table ${short(table)}, column ${short(column.name)}`;
  const problem =
    unsoundName(column.name, names, where) ??
    enterId(register, column.id, where) ??
    unsoundText(column.formula, where) ??
    unsoundPlaces(column.places, where);
  names.add(column.name);
  return problem;
}

/** Whether the rows can be added to the table. */
export function unsoundRows(table: Table, added: readonly Row[]): Unsound | undefined {
  const where = `table ${table.name}`;
  const count = limitPassed(where, 'rows', table.rows.length + added.length, LIMITS.rows);
  if (count) return count;
  const ids = new Set(table.rows.map((row) => row.id));
  const columns = new Map(table.columns.map((column) => [column.id, column.name]));
  for (const row of added) {
    const problem = enterId({ ids }, row.id, `${where}, row ${short(row.id)}`);
    if (problem) return problem;
    for (const [column, text] of Object.entries(row.entries)) {
      const name = columns.get(column);
      const at = `${where}, row ${short(row.id)}, ${short(name ?? column)}`;
      if (name === undefined) {
        return {
          code: 'wrong-shape',
          where: at,
          found: 'an entry for a column that the table does not have',
          expected: `one of ${[...columns.values()].slice(0, 12).join(', ')}`,
          suggestion: 'Take the entry out, or add the column.',
        };
      }
      const long = unsoundText(text, at);
      if (long) return long;
    }
  }
  return undefined;
}

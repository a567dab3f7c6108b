/** What a role of a figure may be bound to, and what is wrong with what it is bound to. */
import { describeType, type Type } from '../../engine/index.ts';
import { itemsOf } from '../../workbook/index.ts';
import { ownUnit } from '../display.ts';
import { columnOf, standingOf } from '../outline.ts';
import type { Session } from '../session.svelte.ts';
import type { FigureNeeds, FigureRole } from './roles.ts';
import { askedKeys, isNeeded } from './roles.ts';

export type Bindings = Readonly<Record<string, string>>;

/** Whether nothing has the name: the cell, the table or its column was deleted. */
export function isGone(session: Session, name: string): boolean {
  const item = session.standing(name)?.item;
  return item === undefined || (item.kind === 'table' && name !== item.name && !session.column(name));
}

/** Why `name` cannot stand in the role, beside what else is bound; undefined where it can. */
export function bindingProblem(
  session: Session,
  role: FigureRole,
  name: string,
  bindings: Bindings = {},
): string | undefined {
  const wanted = role.takes === 'cell' ? 'a cell' : 'a column of a table';
  const column = columnOf(session.outline, name);
  const item = standingOf(session.outline, name)?.item;
  if (!item || isGone(session, name)) return `Nothing is named ${name} any more; choose ${wanted}.`;
  if (column) {
    if (role.takes === 'cell') return `${name} is a column; this takes one cell.`;
    return wrongType(
      session,
      role,
      name,
      columnType(session, name),
      column.column.type === 'number',
      bindings,
    );
  }
  if (item.kind === 'table') return `${name} is a table; choose one of its columns.`;
  if (role.takes === 'column') return `${name} is one cell; this takes a column of a table.`;
  const known = cellType(session, name);
  if (known?.kind === 'record') return `${name} has several results; choose one of them.`;
  return wrongType(session, role, name, known, name.includes('.') || item.type === 'number', bindings);
}

function wrongType(
  session: Session,
  role: FigureRole,
  name: string,
  type: Type | undefined,
  isNumber: boolean,
  bindings: Bindings,
): string | undefined {
  if (role.holds === 'number' && (!isNumber || (type && type.kind !== 'quantity')))
    return `${name} holds words; this takes numbers.`;
  if (role.holds === 'text' && (isNumber || (type && type.kind !== 'text')))
    return `${name} holds numbers; this takes words or dates.`;
  const model = role.like === undefined ? undefined : bindings[role.like];
  const wanted =
    role.unit !== undefined
      ? typeOfUnit(role.unit)
      : model === undefined || model === name
        ? undefined
        : (columnType(session, model) ?? cellType(session, model));
  if (wanted?.kind !== 'quantity' || type?.kind !== 'quantity') return undefined;
  if (wanted.dimension === type.dimension) return undefined;
  const as = role.unit === undefined ? `, as ${String(model)} is` : '';
  return `${name} is ${describeType(type)}; this takes ${describeType(wanted)}${as}.`;
}

function cellType(session: Session, name: string): Type | undefined {
  const item = standingOf(session.outline, name)?.item;
  if (item?.kind !== 'cell') return undefined;
  const state = session.state(name);
  return (
    ('type' in state ? state.type : undefined) ?? (item.name === name ? typeOfUnit(item.unit) : undefined)
  );
}

/** From the unit that the column declares, or from the first row that holds something. */
function columnType(session: Session, name: string): Type | undefined {
  const found = columnOf(session.outline, name);
  if (!found) return undefined;
  const declared = typeOfUnit(found.column.unit);
  if (declared) return declared;
  for (let row = 0; row < Math.min(20, found.table.rows.length); row++) {
    const state = session.columnState(found.table.name, found.column.name, row);
    if (state.state === 'value') return state.type;
  }
  return undefined;
}

function typeOfUnit(text: string): Type | undefined {
  const unit = ownUnit(text);
  return unit && { kind: 'quantity', dimension: unit.dimension, reading: unit.reading };
}

export interface Fitting {
  readonly name: string;
  readonly label: string;
  /** Title of the worksheet it stands on. */
  readonly sheet: string;
}

/** Everything that fits the role, in reading order. */
export function fitting(session: Session, role: FigureRole, bindings: Bindings): Fitting[] {
  const found: Fitting[] = [];
  const offer = (name: string) => {
    if (bindingProblem(session, role, name, bindings) !== undefined) return;
    const sheet = standingOf(session.outline, name)?.sheet.title ?? '';
    found.push({ name, label: session.label(name), sheet });
  };
  for (const item of itemsOf(session.document)) {
    if (item.kind === 'table') for (const column of item.columns) offer(`${item.name}.${column.name}`);
    if (item.kind !== 'cell') continue;
    const state = session.state(item.name);
    if (state.state === 'value' && state.type.kind === 'record')
      for (const field of state.type.fields.keys()) offer(`${item.name}.${field}`);
    else offer(item.name);
  }
  return found;
}

export interface KeyProblem {
  readonly key: string;
  readonly label: string;
  readonly problem: string;
}

/** All that keeps a figure from being drawn, in the order of its roles. */
export function bindingProblems(session: Session, needs: FigureNeeds, bindings: Bindings): KeyProblem[] {
  const tables = new Map<string, string>();
  const found: KeyProblem[] = [];
  for (const { key, role } of askedKeys(needs, bindings)) {
    const say = (problem: string) => found.push({ key, label: role.label, problem });
    const name = bindings[key];
    if (name === undefined) {
      if (isNeeded(role, key)) say(role.takes === 'cell' ? 'Choose a cell.' : 'Choose a column.');
      continue;
    }
    const problem = bindingProblem(session, role, name, bindings);
    if (problem !== undefined) {
      say(problem);
      continue;
    }
    if (role.beside === undefined) continue;
    const [table = ''] = name.split('.');
    const other = tables.get(role.beside) ?? table;
    tables.set(role.beside, other);
    if (other !== table) say(`${name} must stand in the same table as ${other}.`);
  }
  return found;
}

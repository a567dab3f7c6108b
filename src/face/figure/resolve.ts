/** From a figure's bindings to values in the units on the screen. Reads through the session, so that it is told of changes. */
import { fromSI } from '../../engine/index.ts';
import { oneSided95, ranked, type Figure } from '../../workbook/index.ts';
import { asText, show, shownUnit, type DisplayRule } from '../display.ts';
import { shownRows } from '../shown-rows.ts';
import type { Session } from '../session.svelte.ts';
import type { CellState } from '../view.ts';
import type { Bound, BoundCell, BoundColumn, BoundSource } from './kind.ts';

export function bind(session: Session, figure: Figure): Bound {
  const name = (role: string) => (Object.hasOwn(figure.bindings, role) ? figure.bindings[role] : undefined);
  return {
    cell: (role) => boundCell(session, name(role)),
    column: (role) => boundColumn(session, name(role)),
    roles: (prefix) => Object.keys(figure.bindings).filter((role) => role.startsWith(prefix)),
    sources: (role) => sourcesOf(session, name(role)),
    pascals: (role, value) => {
      const found = session.column(name(role) ?? '');
      const unit = found && shownUnit(found.column, undefined, session.system);
      return unit ? fromSI(value, unit) : value;
    },
  };
}

function boundCell(session: Session, name: string | undefined): BoundCell | undefined {
  if (name === undefined) return undefined;
  const item = session.standing(name)?.item;
  const rule: DisplayRule = item?.kind === 'cell' ? item : { unit: '' };
  const state = session.state(name);
  const unit = shownUnit(rule, typeOf(state), session.system);
  const plusMinus = state.state === 'value' ? state.plusMinus : undefined;
  const value = inUnit(state, unit);
  return {
    label: session.label(name),
    unit: unit?.symbol ?? '',
    shown: show(state, rule, session.system),
    ...(typeof value === 'number' ? { value } : {}),
    ...(plusMinus === undefined ? {} : { plusMinus: inScale(plusMinus, unit) }),
    ...reachOf(session, name, plusMinus, unit),
  };
}

/** How far the true value is from this one at the most, with a chance of 95 %, to one side. */
function reachOf(
  session: Session,
  name: string,
  plusMinus: number | undefined,
  unit: ReturnType<typeof shownUnit>,
): { readonly reach?: number } {
  const budget = plusMinus !== undefined && plusMinus > 0 ? session.workbook.budget(name) : undefined;
  return budget ? { reach: inScale(oneSided95(budget), unit) } : {};
}

function boundColumn(session: Session, name: string | undefined): BoundColumn | undefined {
  const found = name === undefined ? undefined : session.column(name);
  if (!found) return undefined;
  const { table, column } = found;
  const states = shownRows(session, table).map((row) => session.columnState(table.name, column.name, row));
  const typed = states.find((state) => state.state === 'value');
  const unit = shownUnit(column, typed && typeOf(typed), session.system);
  return {
    label: column.label,
    unit: unit?.symbol ?? '',
    values: states.map((state) => inUnit(state, unit)),
    texts: states.map((state) => asText(show(state, column, session.system))),
    plusMinus: states.map((state) =>
      state.state === 'value' && state.plusMinus !== undefined && state.plusMinus > 0
        ? inScale(state.plusMinus, unit)
        : undefined,
    ),
    untold: states.map((state) => state.state === 'value' && state.doubt === 'flat'),
  };
}

function sourcesOf(session: Session, name: string | undefined): BoundSource[] {
  if (name === undefined) return [];
  const item = session.standing(name)?.item;
  const state = session.state(name);
  const budget = state.state === 'value' ? session.workbook.budget(name) : undefined;
  if (!budget || state.state !== 'value') return [];
  const rule: DisplayRule = item?.kind === 'cell' ? item : { unit: '' };
  return ranked(budget).map(({ name: from, share, without }) => {
    const shown = show({ ...state, plusMinus: without }, rule, session.system);
    return {
      label: session.label(from) || from,
      share,
      without: shown.kind === 'value' && shown.plusMinus !== undefined ? `± ${shown.plusMinus}` : 'none',
    };
  });
}

/** A difference, so without the unit's offset. */
function inScale(si: number, unit: ReturnType<typeof shownUnit>): number {
  return unit ? si / unit.factor : si;
}

function typeOf(state: CellState) {
  return state.state === 'value' || state.state === 'blank' ? state.type : undefined;
}

function inUnit(state: CellState, unit: ReturnType<typeof shownUnit>): number | string | boolean | undefined {
  if (state.state !== 'value') return undefined;
  return typeof state.value === 'number' && unit ? fromSI(state.value, unit) : state.value;
}

/** Which inputs move a result: by their share of its uncertainty, and by what a chosen change of each would do. */
import { fromSI, parseUnit, type Budget, type BudgetLine, type CellState } from '../engine/index.ts';
import type { Cell, Column, Table } from './document.ts';
import { itemsOf } from './locate.ts';
import { Workbook } from './workbook.ts';

/** Sources that belong together: a cell, all rows of a column, one fit's scatter. */
export interface RankedSource {
  readonly key: string;
  /** Name of the cell, of `table.column`, or what scatters. */
  readonly name: string;
  readonly kind: BudgetLine['kind'];
  /** How many sources it stands for. */
  readonly count: number;
  /** Standard uncertainty of each, SI, where they are equal. */
  readonly uncertainty: number | undefined;
  /** To the result, SI. */
  readonly contribution: number;
  readonly share: number;
  /** Standard uncertainty of the result if this were exact, SI. */
  readonly without: number;
}

export function ranked(budget: Budget): RankedSource[] {
  const groups = new Map<string, BudgetLine[]>();
  for (const line of budget.lines) {
    const key = groupOf(line);
    const list = groups.get(key);
    if (list) list.push(line);
    else groups.set(key, [line]);
  }
  const total = budget.uncertainty ** 2;
  const sources = [...groups].map(([key, lines]): RankedSource => {
    const square = lines.reduce((sum, line) => sum + line.contribution ** 2, 0);
    const [first] = lines;
    const equal = lines.every((line) => line.uncertainty === first?.uncertainty);
    return {
      key,
      name: nameOf(first, key),
      kind: first?.kind ?? 'typed',
      count: lines.length,
      uncertainty: equal && first?.kind !== 'scatter' ? first?.uncertainty : undefined,
      contribution: Math.sqrt(square),
      share: total === 0 ? 0 : square / total,
      without: Math.sqrt(Math.max(0, total - square)),
    };
  });
  return sources.sort((a, b) => b.share - a.share);
}

function groupOf(line: BudgetLine): string {
  if (line.kind === 'scatter') return line.source;
  return line.source.replace(/, row \d+$/, '');
}

function nameOf(line: BudgetLine | undefined, key: string): string {
  return line?.kind === 'shared' ? key.replace(/, all rows$/, '') : key;
}

/**
 * By what factor a source's ± would have to shrink (or may grow) for the result's standard uncertainty to be
 * `wanted`; undefined where the other sources alone are too large for that.
 */
export function tightness(budget: Budget, source: RankedSource, wanted: number): number | undefined {
  const room = wanted ** 2 - source.without ** 2;
  if (!(room > 0) || source.contribution === 0 || budget.uncertainty === 0) return undefined;
  return Math.sqrt(room) / source.contribution;
}

export interface Effect {
  /** Name of the cell, or `table.column` for all its typed rows together. */
  readonly name: string;
  /** Change of the result, SI. */
  readonly change: number;
}

/**
 * What happens to a result, a cell or one row of `table.column`, when each typed number that it rests on becomes larger
 * by a fraction of itself.
 */
export function effects(workbook: Workbook, result: string, fraction: number, row?: number): Effect[] {
  const read = (from: Workbook): CellState => {
    const [table = '', column = ''] = result.split('.');
    return row === undefined ? from.state(result) : from.columnState(table, column, row);
  };
  const before = read(workbook);
  if (before.state !== 'value' || typeof before.value !== 'number') return [];
  const nominal = before.value;
  const upstream = everythingUpstream(workbook, result);
  const trial = new Workbook(workbook.document, workbook.library);
  const found: Effect[] = [];
  const measure = (name: string, change: () => boolean): void => {
    if (!change()) return;
    const after = read(trial);
    if (after.state === 'value' && typeof after.value === 'number')
      found.push({ name, change: after.value - nominal });
    trial.undo();
  };
  for (const item of itemsOf(workbook.document)) {
    if (item.kind === 'cell' && upstream.has(item.name))
      measure(item.name, () => scaleCell(trial, item, fraction));
    if (item.kind === 'table')
      for (const column of item.columns)
        if (upstream.has(`${item.name}.${column.name}`))
          measure(`${item.name}.${column.name}`, () => scaleColumn(trial, item, column, fraction));
  }
  return found.filter((e) => e.change !== 0).sort((a, b) => Math.abs(b.change) - Math.abs(a.change));
}

function everythingUpstream(workbook: Workbook, name: string): ReadonlySet<string> {
  const seen = new Set([name]);
  for (const each of seen) for (const from of workbook.precedents(each)) seen.add(from);
  return seen;
}

function scaleCell(trial: Workbook, cell: Cell, fraction: number): boolean {
  const state = trial.state(cell.name);
  if (state.state !== 'value' || !state.typed || typeof state.value !== 'number' || state.value === 0)
    return false;
  const text = scaled(state.value, cell.unit, fraction);
  return !('problem' in trial.apply({ kind: 'set-cell', cell: cell.id, patch: { text } }));
}

function scaleColumn(trial: Workbook, table: Table, column: Column, fraction: number): boolean {
  if (column.formula !== undefined || column.type !== 'number') return false;
  const entries = table.rows.flatMap((row, at) => {
    const state = trial.columnState(table.name, column.name, at);
    return state.state === 'value' && typeof state.value === 'number'
      ? [{ row: row.id, column: column.id, text: scaled(state.value, column.unit, fraction) }]
      : [];
  });
  if (entries.length === 0) return false;
  return !('problem' in trial.apply({ kind: 'set-entries', table: table.id, entries }));
}

function scaled(si: number, unitText: string, fraction: number): string {
  const unit = parseUnit(unitText);
  const value = 'problem' in unit || unitText === '' ? si : fromSI(si, unit);
  return `${value * (1 + fraction)}${unitText === '' ? '' : ` ${unitText}`}`;
}

/** What the command line prints about cells and columns. */
import {
  displayUnit,
  formatQuantity,
  fromSI,
  parseUnit,
  renderDiagnostic,
  type CellState,
  type Unit,
} from '../engine/index.ts';
import { itemsOf, tablesOf, type Cell, type Column, type Workbook } from '../workbook/index.ts';

export interface Answer {
  readonly state: CellState['state'];
  /** As shown on the worksheet, with its unit. */
  readonly text: string;
  /** In `unit`; a text or yes/no as it is; null where there is no value. */
  readonly value: number | string | boolean | null;
  readonly unit: string;
  /** In SI units. */
  readonly si: number | null;
  /** Standard uncertainty in `unit`, where one is known. */
  readonly uncertainty: number | null;
  readonly message: string | null;
}

export interface Listed {
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  readonly kind: string;
}

interface Shown {
  readonly unit: string;
  readonly places?: number;
  readonly text: string;
}

export function answer(workbook: Workbook, name: string): Answer | Answer[] | undefined {
  const [first = '', second, third] = name.split('.');
  for (const table of tablesOf(workbook.document)) {
    if (table.name !== first) continue;
    const column = table.columns.find((c) => c.name === second);
    if (!column) return undefined;
    const states = table.rows.map((_, row) => workbook.columnState(table.name, column.name, row, third));
    if (third !== undefined && states.some(isUnknownField)) return undefined;
    const shown = { ...shownAs(column), ...(third === undefined ? {} : { unit: '', text: '' }) };
    return states.map((state) => toAnswer(workbook, state, shown));
  }
  const cell = cells(workbook).find((c) => c.name === first);
  if (!cell) return undefined;
  const state = workbook.state(name);
  if (second !== undefined && isUnknownField(state)) return undefined;
  const found = toAnswer(workbook, state, second === undefined ? shownAs(cell) : { unit: '', text: '' });
  if (state.state !== 'blank' || state.reason !== undefined) return found;
  return cell.text === '' ? found : { ...found, message: whyBlank(workbook, first) };
}

/** Why a calculated cell is blank that has no reason of its own. */
function whyBlank(workbook: Workbook, name: string): string {
  const { blanks, empty } = missingBehind(workbook, name);
  const [table, ...more] = empty;
  const said = [
    ...(table === undefined ? [] : [`${empty.join(', ')} ${more.length === 0 ? 'has' : 'have'} no rows yet`]),
    ...(blanks.length === 0 ? [] : [`waits for ${blanks.join(', ')}`]),
  ];
  return said.join('; ') || 'nothing to name in the rows there are';
}

/** The cells to be typed so that a blank one gets a value, and the tables that lack rows for it. */
function missingBehind(workbook: Workbook, name: string): { blanks: string[]; empty: string[] } {
  const lengths = new Map([...tablesOf(workbook.document)].map((table) => [table.name, table.rows.length]));
  const seen = new Set([name]);
  const empty = new Set<string>();
  for (const reached of seen)
    for (const read of workbook.precedents(reached)) {
      const [table = ''] = read.split('.');
      if (read.includes('.') && lengths.get(table) === 0) empty.add(table);
      else if (workbook.state(read).state === 'blank') seen.add(read);
    }
  const blanks = [...seen].filter((reached) => reached !== name && workbook.precedents(reached).length === 0);
  return { blanks, empty: [...empty] };
}

function isUnknownField(state: CellState): boolean {
  return state.state === 'invalid' && state.diagnostic.code === 'unknown-field';
}

/** Why nothing can be printed for a name. */
export function unknownName(workbook: Workbook, name: string): string {
  for (const table of tablesOf(workbook.document))
    if (table.name === name) {
      const example = table.columns[0] === undefined ? '' : `, for instance ${name}.${table.columns[0].name}`;
      return `${name} is a table: ask for one of its columns${example}`;
    }
  return `nothing is named ${name}; --list prints every name`;
}

function cells(workbook: Workbook): Cell[] {
  return [...itemsOf(workbook.document)].filter((item) => item.kind === 'cell');
}

function shownAs(thing: Cell | Column): Shown {
  return {
    unit: thing.unit,
    text: 'text' in thing ? thing.text : (thing.formula ?? ''),
    ...(thing.places === undefined ? {} : { places: thing.places }),
  };
}

function toAnswer(workbook: Workbook, state: CellState, shown: Shown): Answer {
  const none = { value: null, si: null, uncertainty: null } as const;
  switch (state.state) {
    case 'value': {
      const { value } = state;
      if (typeof value !== 'number' || state.type.kind !== 'quantity')
        return {
          state: 'value',
          text: typeof value === 'boolean' ? (value ? 'yes' : 'no') : String(value),
          value,
          unit: '',
          si: null,
          uncertainty: null,
          message: null,
        };
      const unit = unitFor(workbook, shown.unit, state.type.dimension, state.type.reading);
      // Flat (rule U3): there is a ±, and it is not 0.
      const untold = state.doubt === 'flat';
      const half = untold ? undefined : state.plusMinus;
      const written = formatQuantity(value, unit, {
        ...(shown.places === undefined ? {} : { places: shown.places }),
        ...(half === undefined ? {} : { plusMinus: half }),
      });
      const parts = [
        written.value,
        written.plusMinus === undefined ? '' : `± ${written.plusMinus}`,
        written.unit,
      ];
      const text = parts.filter((p) => p !== '').join(' ');
      return {
        state: 'value',
        text: untold ? `${text}, ± not told` : text,
        value: fromSI(value, unit),
        unit: unit.text === '1' ? '' : unit.text,
        si: value,
        uncertainty: half === undefined ? null : half / unit.factor,
        message: untold
          ? 'the ± cannot be told from the slope: the result is flat here, as x² is at 0'
          : null,
      };
    }
    case 'blank':
      return {
        state: 'blank',
        text: '',
        unit: shown.unit,
        message: state.reason ?? 'nothing typed yet',
        ...none,
      };
    case 'invalid':
      return {
        state: 'invalid',
        text: '',
        unit: shown.unit,
        message: renderDiagnostic(shown.text, state.diagnostic),
        ...none,
      };
    case 'fault':
      return {
        state: 'fault',
        text: '',
        unit: shown.unit,
        message: state.suggestion === undefined ? state.fault : `${state.fault}; ${state.suggestion}`,
        ...none,
      };
    case 'waiting':
      return { state: 'waiting', text: '', unit: shown.unit, message: `waits for ${state.for}`, ...none };
  }
}

/** The cell's own unit; without one, the workbook's everyday unit of the dimension. */
function unitFor(workbook: Workbook, text: string, dimension: number, reading: boolean): Unit {
  if (text !== '') {
    const own = parseUnit(text);
    if (!('problem' in own) && own.dimension === dimension) return own;
  }
  return displayUnit(undefined, dimension, reading, workbook.document.units);
}

export function list(workbook: Workbook): Listed[] {
  const all: Listed[] = [];
  for (const item of itemsOf(workbook.document)) {
    if (item.kind === 'cell')
      all.push({ name: item.name, label: item.label, unit: item.unit, kind: kindOf(workbook, item) });
    else if (item.kind === 'table') {
      all.push({ name: item.name, label: item.label, unit: '', kind: `table, ${item.rows.length} rows` });
      for (const column of item.columns)
        all.push({
          name: `${item.name}.${column.name}`,
          label: column.label,
          unit: column.unit,
          kind: column.formula === undefined ? `typed ${column.type}` : 'computed column',
        });
    }
  }
  return all;
}

function kindOf(workbook: Workbook, cell: Cell): string {
  if (cell.type !== 'number')
    return cell.text.startsWith('=') ? `computed ${cell.type}` : `typed ${cell.type}`;
  const state = workbook.state(cell.name);
  if (state.state === 'value')
    return state.typed ? 'typed number' : state.type.kind === 'record' ? 'record' : 'computed number';
  return cell.text === '' ? 'typed number' : 'computed number';
}

export function names(workbook: Workbook): string[] {
  return columns(list(workbook).map((l) => [l.name, l.label, l.unit, l.kind]));
}

export function shownNames(workbook: Workbook): string[] {
  return cells(workbook).map((c) => c.name);
}

export function printLines(answers: ReadonlyMap<string, Answer | readonly Answer[]>): string[] {
  return columns(
    [...answers].flatMap(([name, found]) =>
      'state' in found
        ? [[name, shownText(found)]]
        : found.map((one, row) => [`${name}[${row + 1}]`, shownText(one)]),
    ),
  );
}

function shownText(one: Answer): string {
  return one.state === 'value' ? one.text : `(${one.state}) ${one.message ?? ''}`.split('\n').join('\n    ');
}

/** Lines of text with aligned columns. */
function columns(rows: readonly (readonly string[])[]): string[] {
  const widths: number[] = [];
  for (const row of rows) row.forEach((text, i) => (widths[i] = Math.max(widths[i] ?? 0, text.length)));
  return rows.map((row) =>
    row
      .map((text, i) => text.padEnd(widths[i] ?? 0))
      .join('  ')
      .trimEnd(),
  );
}

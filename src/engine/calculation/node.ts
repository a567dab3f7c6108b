/** Nodes of the dependency graph: cells, columns, and aggregates that several formulas share. */
import type { RowInput } from '../formula/compile.ts';
import type { Diagnostic } from '../formula/diagnostic.ts';
import type { Type } from '../formula/type.ts';
import type { AggregateName } from '../formula/typed.ts';
import type { KernelRun } from './kernel-run.ts';
import { NOT_KEYED, type KeyedReads } from './key.ts';
import type { Parts } from './parts.ts';
import type { Cause } from './storage.ts';

/** How a typed ± is meant: a standard uncertainty, a 95 % interval, or limits with every value equally likely. */
export type PlusMinusMeaning = 'standard' | '95' | 'limits';
export type EntryType = 'number' | 'text' | 'choice';

export interface CellDefinition {
  readonly name: string;
  readonly type: EntryType;
  /** A value or a formula; for text and choice a formula only when it begins with `=`. */
  readonly text: string;
  readonly unit?: string;
  readonly choices?: readonly string[];
  readonly plusMinus?: PlusMinusMeaning;
}

export interface ColumnDefinition {
  readonly name: string;
  readonly type: EntryType;
  readonly unit?: string;
  readonly formula?: string;
  readonly choices?: readonly string[];
  readonly plusMinus?: PlusMinusMeaning;
  /** What every row's value is uncertain by, independently: `0.3 Pa`, `2 %`; meant as `plusMinus` says. */
  readonly each?: string;
  /** One error that all rows share, such as their instrument's: `1 %`, `0.2 Pa`. */
  readonly shared?: string;
  /** Typed texts by row; under a formula, an override. */
  readonly entries: readonly (string | undefined)[];
}

export interface TableDefinition {
  readonly name: string;
  readonly rows: number;
  readonly columns: readonly ColumnDefinition[];
}

/** Why a node has no type: its own formula is wrong, or one it reads is. */
export type Status = { readonly invalid: Diagnostic } | { readonly waitingFor: string };

/** Values of a column: one array a field (one field unless the column holds records). */
export interface ColumnField {
  values: Float64Array;
  states: Uint8Array;
  /** Made for the first aggregate of this field. */
  parts: Parts | undefined;
}

export interface ColumnData {
  rows: number;
  fields: ColumnField[];
  /** By row. */
  readonly causes: Map<number, Cause>;
  /** Typed half widths of ±, SI, by row. */
  readonly plusMinus: Map<number, number>;
  entries: (string | undefined)[];
  /** Rows of a computed column whose value was typed over. */
  readonly overrides: Set<number>;
}

export interface AggregateData {
  readonly name: AggregateName;
  /** Key of the column that is summed up. */
  readonly column: string;
  readonly field: string | undefined;
  offset: number;
}

export interface InstrumentSpread {
  readonly size: number;
  /** True: `size` is a fraction of the value. */
  readonly relative: boolean;
}

export interface GraphNode {
  readonly id: number;
  readonly key: string;
  kind: 'unknown' | 'cell' | 'column' | 'aggregate';
  table?: string;
  /** Made for the formulas that share it; not named by a person. */
  hidden: boolean;
  entryType: EntryType;
  unit: string;
  choices: readonly string[] | undefined;
  text: string;
  /** True: `text` is a formula; false: a typed value. */
  formula: boolean;
  references: number[];
  /** Those of `references` that are read row by row. */
  rowReferences: ReadonlySet<number>;
  type: Type | undefined;
  status: Status | undefined;
  /** Its type and the state of its formula as its readers were last checked against. */
  told: { readonly type: Type | undefined; readonly state: string } | undefined;
  /** Typed half width of ±, SI. */
  plusMinus: number | undefined;
  meaning: PlusMinusMeaning;
  /** Of a typed column: a ± that every row has of its own, and one error that all rows share. Standard, SI. */
  each: InstrumentSpread | undefined;
  shared: InstrumentSpread | undefined;
  slot: number;
  width: number;
  codeStart: number;
  codeEnd: number;
  inputs: readonly RowInput[];
  /** Slot of a row's result while a column is worked out. */
  rowResult: number;
  /** Index of the first of its call sites. */
  siteStart: number;
  /** And past the last. */
  siteEnd: number;
  /** True: its formula holds a literal with ±, or a fit whose data scatter. */
  ownSpread: boolean;
  /** True: a call in it has a quick answer now and a full one later. */
  defers: boolean;
  /** True: it asks for spreads, and is worked out again when one of those changes. */
  readsSpreads: boolean;
  kernel: { readonly run: KernelRun; readonly prelude: Int32Array } | undefined;
  data: ColumnData | undefined;
  aggregate: AggregateData | undefined;
  /** Columns of which only the rows with a certain key are read. */
  keyedReads: KeyedReads;
  /** Ranks that read this column row by row. */
  rowDependents: Int32Array;
}

export function newNode(id: number, key: string): GraphNode {
  return {
    id,
    key,
    kind: 'unknown',
    hidden: false,
    entryType: 'number',
    unit: '',
    choices: undefined,
    text: '',
    formula: false,
    references: [],
    rowReferences: NO_IDS,
    type: undefined,
    status: undefined,
    told: undefined,
    plusMinus: undefined,
    meaning: 'standard',
    each: undefined,
    shared: undefined,
    slot: -1,
    width: 0,
    codeStart: 0,
    codeEnd: 0,
    inputs: [],
    rowResult: -1,
    siteStart: 0,
    siteEnd: 0,
    ownSpread: false,
    defers: false,
    readsSpreads: false,
    kernel: undefined,
    data: undefined,
    aggregate: undefined,
    keyedReads: NOT_KEYED,
    rowDependents: NO_RANKS,
  };
}

export const NO_IDS: ReadonlySet<number> = new Set();
export const NO_RANKS = new Int32Array(0);

export function newField(rows: number): ColumnField {
  return { values: new Float64Array(rows).fill(NaN), states: new Uint8Array(rows).fill(1), parts: undefined };
}

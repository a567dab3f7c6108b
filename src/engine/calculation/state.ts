/** What a cell shows: a value, a blank, or why there is none. */
import type { Diagnostic, Span } from '../formula/diagnostic.ts';
import type { Stretch } from '../quantity/index.ts';
import type { Doubt } from './switches.ts';
import type { Type } from '../formula/type.ts';

export type CellState =
  | {
      readonly state: 'value';
      readonly type: Type;
      /** SI for quantities (temperature readings in kelvin). Of a whole record a word about it: read its fields. */
      readonly value: number | string | boolean;
      /** Of words that a function wrote: where numbers stand in them. */
      readonly numerals?: readonly Stretch[];
      /** Standard uncertainty, SI. */
      readonly plusMinus?: number;
      /** Its result hangs on a switch that its uncertainty may turn. */
      readonly doubt?: Doubt;
      /** True: a person typed it; false: a formula gave it. */
      readonly typed: boolean;
    }
  | { readonly state: 'blank'; readonly type: Type | undefined; readonly reason?: string }
  /** The formula itself is wrong. */
  | { readonly state: 'invalid'; readonly diagnostic: Diagnostic }
  /** The formula is right, these values are not. */
  | {
      readonly state: 'fault';
      readonly fault: string;
      readonly suggestion?: string;
      readonly span?: Span;
      /** Where numbers stand in these words. */
      readonly numerals?: { readonly fault?: readonly Stretch[]; readonly suggestion?: readonly Stretch[] };
    }
  /** Something that it reads is wrong. */
  | { readonly state: 'waiting'; readonly for: string };

/** What a recalculation changed. */
export interface Changes {
  /** Names of cells, and `table.column` for columns. */
  readonly names: ReadonlySet<string>;
  /** Rows of changed columns, from and to, by `table.column`. */
  readonly rows: ReadonlyMap<string, readonly [number, number]>;
}

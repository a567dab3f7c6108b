/** What names mean at the place of a formula. */
import type { Diagnostic } from './diagnostic.ts';
import type { Expression } from './expression.ts';
import type { FunctionLibrary } from './library.ts';
import type { NodeId, Typed } from './typed.ts';
import type { QuantityType, Type } from './type.ts';

export interface NamedNode {
  readonly node: NodeId;
  /** Undefined while that cell is itself faulty or waiting. */
  readonly type: Type | undefined;
  /** What to wait for while there is no type: this cell, or the one that it waits for itself. */
  readonly root: string;
}

export interface TableScope {
  readonly name: string;
  column(name: string): NamedNode | undefined;
  columnNames(): Iterable<string>;
}

export interface Scope {
  cell(name: string): NamedNode | undefined;
  table(name: string): TableScope | undefined;
  /** The table in whose column formula the text stands. */
  readonly row: TableScope | undefined;
  readonly library: FunctionLibrary;
  /** Every name that could have been meant, for suggestions. */
  names(): Iterable<string>;
}

/** The formula is sound as far as can be told, but something it reads is not. */
export interface Waiting {
  readonly waitingFor: string;
}

export type Refused = Diagnostic | Waiting;

/** Leaves a walk over a formula with the reason; caught where the walk began, never seen outside. */
export class Stop extends Error {
  readonly reason: Refused;
  constructor(reason: Refused) {
    super('this formula cannot be checked further');
    this.reason = reason;
  }
}

export function stop(reason: Refused): never {
  throw new Stop(reason);
}

/** The walk that checks a formula, as the parts of it that are written apart see it. */
export interface Checker {
  readonly text: string;
  readonly scope: Scope;
  /** Inside a column argument: the table it walks, once the first column has settled it. */
  vectorTable: string | undefined;
  inVector: boolean;
  visit(e: Expression): Typed;
  /** The quantity type of a part, or a message. */
  quantity(t: Typed, where: string): QuantityType;
  /** Both sides with one type; a bare 0 takes the other side's dimension. */
  alike(
    operator: string,
    left: Typed,
    right: Typed,
    whole: Expression,
  ): { readonly left: Typed; readonly right: Typed; readonly type: Type };
}

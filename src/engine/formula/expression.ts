/** The tree of a formula. Every node knows its place in the text. */
import type { Literal } from '../quantity/index.ts';
import type { Span } from './diagnostic.ts';

export type ArithmeticOperator = '+' | '-' | '*' | '/' | '^';
export type ComparisonOperator = '==' | '!=' | '<' | '<=' | '>' | '>=';
export type LogicalOperator = 'and' | 'or';
export type BinaryOperator = ArithmeticOperator | ComparisonOperator | LogicalOperator;

export interface QuantityLiteral extends Span {
  readonly kind: 'literal';
  readonly literal: Literal;
}
export interface TextLiteral extends Span {
  readonly kind: 'text';
  readonly value: string;
}
export interface LogicalLiteral extends Span {
  readonly kind: 'logical';
  readonly value: boolean;
}
/** `name`, `table.column`, `record.field`, `table.column.field`. */
export interface Path extends Span {
  readonly kind: 'path';
  readonly parts: readonly string[];
}
/** A field of a call's result: `power_law_fit(…).exponent`. */
export interface FieldOf extends Span {
  readonly kind: 'field';
  readonly object: Expression;
  readonly field: string;
}
export interface Unary extends Span {
  readonly kind: 'unary';
  readonly operator: '-' | 'not';
  readonly operand: Expression;
}
export interface Binary extends Span {
  readonly kind: 'binary';
  readonly operator: BinaryOperator;
  readonly left: Expression;
  readonly right: Expression;
}
export interface Conditional extends Span {
  readonly kind: 'conditional';
  readonly condition: Expression;
  readonly then: Expression;
  readonly otherwise: Expression;
}
export interface Call extends Span {
  readonly kind: 'call';
  readonly name: string;
  readonly nameEnd: number;
  readonly arguments: readonly Expression[];
}
export type Expression =
  QuantityLiteral | TextLiteral | LogicalLiteral | Path | FieldOf | Unary | Binary | Conditional | Call;

export function children(e: Expression): readonly Expression[] {
  switch (e.kind) {
    case 'unary':
      return [e.operand];
    case 'binary':
      return [e.left, e.right];
    case 'conditional':
      return [e.condition, e.then, e.otherwise];
    case 'call':
      return e.arguments;
    case 'field':
      return [e.object];
    default:
      return [];
  }
}

/** Calls `visit` for each path, in reading order. Depth is limited by the parser. */
export function eachPath(e: Expression, visit: (path: Path) => void): void {
  if (e.kind === 'path') visit(e);
  else for (const child of children(e)) eachPath(child, visit);
}

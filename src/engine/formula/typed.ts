/** A formula after checking: every name resolved, every part with its type. The compiler reads this tree. */
import type { Span } from './diagnostic.ts';
import type { BinaryOperator } from './expression.ts';
import type { FunctionDefinition } from './library.ts';
import type { Type } from './type.ts';

/** A node of the dependency graph, as the checker sees it. */
export type NodeId = number;

interface TypedNode extends Span {
  readonly type: Type;
}
export interface ConstantValue extends TypedNode {
  readonly op: 'constant';
  /** SI; 1 or 0 for yes or no. */
  readonly value: number;
  /** Typed half width of ±, SI. */
  readonly plusMinus?: number;
  /** A bare 0, which fits every dimension. */
  readonly zero?: boolean;
}
export interface TextValue extends TypedNode {
  readonly op: 'text';
  readonly value: string;
}
export interface CellValue extends TypedNode {
  readonly op: 'cell';
  readonly node: NodeId;
  /** Field's place in a record. */
  readonly offset: number;
}
/** A column's value: in the row at hand (`element: false`), or in each row that a column argument walks through. */
export interface ColumnValue extends TypedNode {
  readonly op: 'column';
  readonly node: NodeId;
  readonly offset: number;
  readonly element: boolean;
}
export interface UnaryValue extends TypedNode {
  readonly op: 'unary';
  readonly operator: '-' | 'not';
  readonly operand: Typed;
}
export interface BinaryValue extends TypedNode {
  readonly op: 'binary';
  readonly operator: BinaryOperator;
  readonly left: Typed;
  readonly right: Typed;
}
export interface ConditionalValue extends TypedNode {
  readonly op: 'conditional';
  readonly condition: Typed;
  readonly then: Typed;
  readonly otherwise: Typed;
}
export type MathFunction =
  | 'abs'
  | 'sqrt'
  | 'exp'
  | 'log'
  | 'log10'
  | 'sin'
  | 'cos'
  | 'tan'
  | 'asin'
  | 'acos'
  | 'atan'
  | 'floor'
  | 'ceil'
  | 'round'
  | 'min'
  | 'max'
  | 'is_blank'
  | 'otherwise'
  | 'nominal'
  | 'where';
export interface MathValue extends TypedNode {
  readonly op: 'math';
  readonly name: MathFunction;
  readonly arguments: readonly Typed[];
}
/** A field of a record made in this formula. */
export interface FieldValue extends TypedNode {
  readonly op: 'field';
  readonly object: Typed;
  readonly offset: number;
}
/** A column argument: `body` is worked out for every row of `table`. */
export interface VectorValue extends TypedNode {
  readonly op: 'vector';
  readonly table: string;
  readonly body: Typed;
  /** True: it also reads the row in whose formula it stands, and so differs from row to row. */
  readonly perRow: boolean;
}
/** `full_sum` is the sum of a column that has no blank row. */
export type AggregateName = 'sum' | 'full_sum' | 'mean' | 'min' | 'max' | 'count';
export interface AggregateValue extends TypedNode {
  readonly op: 'aggregate';
  readonly name: AggregateName;
  readonly vector: VectorValue;
}
export interface LookupValue extends TypedNode {
  readonly op: 'lookup';
  readonly table: string;
  readonly result: ColumnValue;
  readonly keys: ColumnValue;
  readonly key: Typed;
}
export interface CallValue extends TypedNode {
  readonly op: 'call';
  readonly definition: FunctionDefinition;
  readonly arguments: readonly Typed[];
}
/** `uncertainty(a)`, or `chance(a < b)`: asks for spreads, not values alone. */
export interface SpreadValue extends TypedNode {
  readonly op: 'spread';
  readonly name: 'uncertainty' | 'chance';
  /** For a chance the side that has to be the smaller, then the greater. */
  readonly sides: readonly Typed[];
}
export type Typed =
  | ConstantValue
  | TextValue
  | CellValue
  | ColumnValue
  | UnaryValue
  | BinaryValue
  | ConditionalValue
  | MathValue
  | FieldValue
  | VectorValue
  | AggregateValue
  | LookupValue
  | CallValue
  | SpreadValue;

/** The number that a typed tree has whatever the workbook holds, if it is made of literals without ± alone. */
export function constantValue(t: Typed): number | undefined {
  if (t.op === 'constant') return t.plusMinus === undefined ? t.value : undefined;
  if (t.op === 'unary' && t.operator === '-') {
    const v = constantValue(t.operand);
    return v === undefined ? undefined : -v;
  }
  if (t.op !== 'binary') return undefined;
  // The right side first: a long sum grows to the left.
  const b = constantValue(t.right);
  const a = b === undefined ? undefined : constantValue(t.left);
  if (a === undefined || b === undefined) return undefined;
  switch (t.operator) {
    case '+':
      return a + b;
    case '-':
      return a - b;
    case '*':
      return a * b;
    case '/':
      return a / b;
    case '^':
      return a ** b;
    default:
      return undefined;
  }
}

/** Whether the tree reads the row in whose formula it stands. */
export function readsRow(t: Typed): boolean {
  switch (t.op) {
    case 'column':
      return !t.element;
    case 'unary':
      return readsRow(t.operand);
    case 'binary':
      return readsRow(t.left) || readsRow(t.right);
    case 'conditional':
      return readsRow(t.condition) || readsRow(t.then) || readsRow(t.otherwise);
    case 'math':
    case 'call':
      return t.arguments.some(readsRow);
    case 'spread':
      return t.sides.some(readsRow);
    case 'field':
      return readsRow(t.object);
    case 'vector':
      return t.perRow;
    case 'aggregate':
      return t.vector.perRow;
    case 'lookup':
      return readsRow(t.key);
    default:
      return false;
  }
}

/** Trees as text, for tests: fully bracketed to compare, or with as few brackets as the grammar needs. */
import type { MathNode } from 'mathjs';
import type { Expression } from '../../../src/engine/formula/expression.ts';

/** Our tree with a bracket round every operation. */
export function bracketed(e: Expression): string {
  switch (e.kind) {
    case 'literal':
      return String(e.literal.value);
    case 'text':
      return JSON.stringify(e.value);
    case 'logical':
      return String(e.value);
    case 'path':
      return e.parts.join('.');
    case 'field':
      return `${bracketed(e.object)}.${e.field}`;
    case 'unary':
      return `(${e.operator} ${bracketed(e.operand)})`;
    case 'binary':
      return `(${bracketed(e.left)} ${e.operator} ${bracketed(e.right)})`;
    case 'conditional':
      return `(${bracketed(e.condition)} ? ${bracketed(e.then)} : ${bracketed(e.otherwise)})`;
    case 'call':
      return `${e.name}(${e.arguments.map(bracketed).join(', ')})`;
  }
}

/** The parts of mathjs's nodes that are looked at here; its own types say less than `type` does. */
interface Node {
  readonly type: string;
  readonly value?: unknown;
  readonly name?: string;
  readonly op?: string;
  readonly args?: readonly Node[];
  readonly content?: Node;
  readonly condition?: Node;
  readonly trueExpr?: Node;
  readonly falseExpr?: Node;
  readonly fn?: Node;
  readonly object?: Node;
  readonly index?: { readonly dimensions: readonly Node[] };
}

/** mathjs's tree printed the same way. */
export function bracketedMathjs(node: MathNode): string {
  return printed(node);
}

function printed(n: Node): string {
  switch (n.type) {
    case 'ConstantNode':
      return typeof n.value === 'string' ? JSON.stringify(n.value) : String(n.value);
    case 'SymbolNode':
      return n.name!;
    case 'ParenthesisNode':
      return printed(n.content!);
    case 'OperatorNode':
      return n.args!.length === 1
        ? `(${n.op!} ${printed(n.args![0]!)})`
        : `(${printed(n.args![0]!)} ${n.op!} ${printed(n.args![1]!)})`;
    case 'ConditionalNode':
      return `(${printed(n.condition!)} ? ${printed(n.trueExpr!)} : ${printed(n.falseExpr!)})`;
    case 'FunctionNode':
      return `${printed(n.fn!)}(${n.args!.map(printed).join(', ')})`;
    case 'AccessorNode':
      return `${printed(n.object!)}.${String(n.index!.dimensions[0]!.value)}`;
    default:
      return `<${n.type}>`;
  }
}

/** How tightly the outermost operation of a tree binds. */
function strength(e: Expression): number {
  switch (e.kind) {
    case 'conditional':
      return 1;
    case 'unary':
      return e.operator === 'not' ? 4 : 8;
    case 'binary':
      switch (e.operator) {
        case 'or':
          return 2;
        case 'and':
          return 3;
        case '+':
        case '-':
          return 6;
        case '*':
        case '/':
          return 7;
        case '^':
          return 9;
        default:
          return 5;
      }
    default:
      return 10;
  }
}

function inside(e: Expression, least: number): string {
  const text = plain(e);
  return strength(e) >= least ? text : `(${text})`;
}

/** Text of a tree with no more brackets than it takes to read it back. */
export function plain(e: Expression): string {
  switch (e.kind) {
    case 'literal':
      return `${e.literal.value}${e.literal.unit === undefined ? '' : ` ${e.literal.unit.text}`}`;
    case 'text':
      return `"${e.value}"`;
    case 'logical':
      return String(e.value);
    case 'path':
      return e.parts.join('.');
    case 'field':
      return `${plain(e.object)}.${e.field}`;
    case 'call':
      return `${e.name}(${e.arguments.map(plain).join(', ')})`;
    case 'unary':
      return e.operator === 'not' ? `not ${inside(e.operand, 4)}` : `-${inside(e.operand, 8)}`;
    case 'conditional':
      return `${inside(e.condition, 2)} ? ${inside(e.then, 1)} : ${inside(e.otherwise, 1)}`;
    case 'binary': {
      const own = strength(e);
      // A comparison may not stand beside another; a power groups to the right, and its exponent may have a sign.
      const left = inside(e.left, own === 5 || own === 9 ? own + 1 : own);
      const right = inside(e.right, own === 9 ? 8 : own + 1);
      const unitBeforePower = own === 9 && e.left.kind === 'literal' && e.left.literal.unit !== undefined;
      return `${unitBeforePower ? `(${left})` : left} ${e.operator} ${right}`;
    }
  }
}

/** A tree without its places in the text. */
export function withoutPlaces(e: Expression): unknown {
  return JSON.parse(
    JSON.stringify(e, (key, value: unknown) =>
      key === 'start' || key === 'end' || key === 'nameEnd' ? undefined : value,
    ),
  );
}

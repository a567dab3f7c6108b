/** Checks a formula once: what each name is, the type of each part, what does not fit. Rules D2 to D6 of rules.md. */
import { DIMENSIONLESS, divide, isUnitSymbol, multiply, power, toSI } from '../quantity/index.ts';
import { diagnostic, nearest, type Diagnostic } from './diagnostic.ts';
import type { Binary, Conditional, Expression, FieldOf, Path, QuantityLiteral, Unary } from './expression.ts';
import { nameInstead } from './foreign-names.ts';
import { inferCall, CONSTANTS } from './infer-call.ts';
import { joined, mismatch, needs, powerRefused, readingRefused } from './mismatch.ts';
import {
  type Checker,
  stop,
  Stop,
  type NamedNode,
  type Scope,
  type TableScope,
  type Waiting,
} from './scope.ts';
import {
  DIFFERENCE,
  LOGICAL,
  NUMBER,
  quantityType,
  READING,
  sameType,
  TEXT,
  type QuantityType,
  type RecordType,
  type Type,
} from './type.ts';
import { constantValue, type Typed } from './typed.ts';

export function infer(expression: Expression, text: string, scope: Scope): Typed | Diagnostic | Waiting {
  try {
    return new Inference(text, scope).visit(expression);
  } catch (reason) {
    if (reason instanceof Stop) return reason.reason;
    throw reason;
  }
}

/** Checks the body of a column argument apart, for a column that several formulas share. */
export function inferElements(
  expression: Expression,
  text: string,
  scope: Scope,
  table: string,
): Typed | Diagnostic | Waiting {
  try {
    const inference = new Inference(text, scope);
    inference.inVector = true;
    inference.vectorTable = table;
    return inference.visit(expression);
  } catch (reason) {
    if (reason instanceof Stop) return reason.reason;
    throw reason;
  }
}

/** One walk. `element` names the table whose columns are being walked through, inside a column argument. */
export class Inference implements Checker {
  readonly text: string;
  readonly scope: Scope;
  /** Inside a column argument: the table it walks, once the first column has settled it. */
  vectorTable: string | undefined;
  inVector = false;

  constructor(text: string, scope: Scope) {
    this.text = text;
    this.scope = scope;
  }

  visit(e: Expression): Typed {
    switch (e.kind) {
      case 'literal':
        return literal(e, false);
      case 'text':
        return { op: 'text', type: TEXT, value: e.value, start: e.start, end: e.end };
      case 'logical':
        return { op: 'constant', type: LOGICAL, value: e.value ? 1 : 0, start: e.start, end: e.end };
      case 'path':
        return this.#path(e);
      case 'field':
        return this.#field(e);
      case 'unary':
        return this.#unary(e);
      case 'binary':
        return this.#binary(e);
      case 'conditional':
        return this.#conditional(e);
      case 'call':
        return inferCall(this, e);
    }
  }

  #path(e: Path): Typed {
    const [first = '', second] = e.parts;
    const own = this.scope.row?.column(first);
    if (own) return this.#column(e, own, false, 1);
    const table = this.scope.table(first);
    if (table) return this.#tablePath(e, table, second);
    const cell = this.scope.cell(first);
    if (!cell) {
      const constant = CONSTANTS.get(first);
      if (constant !== undefined && e.parts.length === 1)
        return { op: 'constant', type: NUMBER, value: constant, start: e.start, end: e.end };
      return this.#unknown(e, first);
    }
    if (cell.type === undefined) stop({ waitingFor: cell.root });
    const { type, offset } = this.#member(e, cell.type, e.parts, 1);
    return { op: 'cell', node: cell.node, type, offset, start: e.start, end: e.end };
  }

  #tablePath(e: Path, table: TableScope, name: string | undefined): Typed {
    if (name === undefined)
      stop(
        diagnostic('table-alone', e, `${table.name} is a table`, {
          expected: 'one of its columns',
          suggestion: `write ${table.name}.column; it has ${[...table.columnNames()].slice(0, 6).join(', ')}`,
        }),
      );
    const column = table.column(name);
    if (!column) {
      const near = nearest(name, table.columnNames());
      stop(
        diagnostic('unknown-column', e, `the table ${table.name} has no column ${name}`, {
          expected: [...table.columnNames()].slice(0, 12).join(', '),
          ...(near === undefined
            ? {}
            : { suggestion: `did you mean ${table.name}.${near}?`, replacement: `${table.name}.${near}` }),
        }),
      );
    }
    if (!this.inVector)
      stop(
        diagnostic('column-alone', e, `${table.name}.${name} is a whole column`, {
          expected: 'one value',
          suggestion: `take sum, mean, min, max or count of it, or lookup(${table.name}.${name}, ${table.name}.key, value)`,
        }),
      );
    if (this.vectorTable === undefined) this.vectorTable = table.name;
    else if (this.vectorTable !== table.name)
      stop(
        diagnostic('two-tables', e, 'columns of two tables cannot be matched row by row', {
          found: `${table.name}.${name} beside a column of ${this.vectorTable}`,
          suggestion: "fetch the other table's value with lookup(result column, key column, key) first",
        }),
      );
    return this.#column(e, column, true, 2);
  }

  #column(e: Path, column: NamedNode, element: boolean, used: number): Typed {
    if (column.type === undefined) stop({ waitingFor: column.root });
    const { type, offset } = this.#member(e, column.type, e.parts, used);
    return { op: 'column', node: column.node, type, offset, element, start: e.start, end: e.end };
  }

  /** Follows `.field` parts after the first `used` parts of a path. */
  #member(e: Path, type: Type, parts: readonly string[], used: number): { type: Type; offset: number } {
    if (parts.length === used) return { type, offset: 0 };
    const field = parts[used] ?? '';
    if (type.kind !== 'record' || parts.length > used + 1)
      stop(
        diagnostic('no-field', e, `${parts.slice(0, used).join('.')} has no fields`, {
          found: `${parts.slice(0, used).join('.')} is ${type.kind === 'record' ? 'a record of plain values' : 'a single value'}`,
          suggestion: `write ${parts.slice(0, type.kind === 'record' ? used + 1 : used).join('.')}`,
        }),
      );
    return { ...this.fieldOf(e, type, field, parts.slice(0, used).join('.')) };
  }

  fieldOf(span: Expression, type: RecordType, field: string, shown: string): { type: Type; offset: number } {
    let offset = 0;
    for (const [name, fieldType] of type.fields) {
      if (name === field) return { type: fieldType, offset };
      offset++;
    }
    const near = nearest(field, type.fields.keys());
    stop(
      diagnostic('unknown-field', span, `${shown} has no field ${field}`, {
        expected: [...type.fields.keys()].join(', '),
        ...(near === undefined ? {} : { suggestion: `did you mean ${near}?` }),
      }),
    );
  }

  #unknown(e: Path, name: string): never {
    if (isUnitSymbol(name))
      stop(
        diagnostic('loose-unit', e, `${name} is a unit and must stand after a number`, {
          suggestion: `write 1 ${name}`,
          replacement: `1 ${name}`,
        }),
      );
    if (this.scope.library.get(name))
      stop(
        diagnostic('function-alone', e, `${name} is a function`, {
          suggestion: `write its arguments in brackets: ${name}(…)`,
        }),
      );
    const walked = this.scope.table(this.vectorTable ?? '');
    const column = walked?.column(name) && `${walked.name}.${name}`;
    const near = column ?? nearest(name, this.scope.names());
    const isNear = column ?? near?.toLowerCase() === name.toLowerCase();
    const instead = e.parts.length > 1 || isNear ? undefined : nameInstead(name, this.text);
    stop(
      diagnostic(
        'unknown-name',
        e,
        `nothing is named ${name}`,
        instead ??
          (near === undefined
            ? { suggestion: 'add a cell of that name, or correct the spelling' }
            : { suggestion: `did you mean ${near}?`, replacement: [near, ...e.parts.slice(1)].join('.') }),
      ),
    );
  }

  #field(e: FieldOf): Typed {
    const object = this.visit(e.object);
    if (object.type.kind !== 'record') stop(needs({ text: this.text }, object, 'a record', `.${e.field}`));
    const { type, offset } = this.fieldOf(e, object.type, e.field, 'this result');
    return { op: 'field', object, offset, type, start: e.start, end: e.end };
  }

  #unary(e: Unary): Typed {
    if (e.operator === '-' && e.operand.kind === 'literal')
      return { ...literal(e.operand, true), start: e.start };
    const operand = this.visit(e.operand);
    if (e.operator === 'not') {
      if (operand.type !== LOGICAL)
        stop(needs(this, operand, 'yes or no', '"not"', 'compare it with something'));
      return { op: 'unary', operator: 'not', operand, type: LOGICAL, start: e.start, end: e.end };
    }
    const type = this.quantity(operand, 'a minus sign');
    if (type.reading) stop(readingRefused(this, operand, 'negated'));
    return { op: 'unary', operator: '-', operand, type, start: e.start, end: e.end };
  }

  /** The quantity type of a part, or a message. */
  quantity(t: Typed, where: string): QuantityType {
    if (t.type.kind !== 'quantity')
      stop(
        needs(
          this,
          t,
          'a number',
          where,
          t.type.kind === 'record' ? 'take one of its fields: name.field' : undefined,
        ),
      );
    return t.type;
  }

  #binary(e: Binary): Typed {
    const left = this.visit(e.left);
    const right = this.visit(e.right);
    const make = (type: Type, l = left, r = right): Typed => ({
      op: 'binary',
      operator: e.operator,
      left: l,
      right: r,
      type,
      start: e.start,
      end: e.end,
    });
    switch (e.operator) {
      case 'and':
      case 'or':
        for (const side of [left, right])
          if (side.type !== LOGICAL)
            stop(needs(this, side, 'yes or no', `"${e.operator}"`, 'compare it with something'));
        return make(LOGICAL);
      case '+':
      case '-':
        return this.#sum(e, left, right, make);
      case '*':
      case '/': {
        const a = this.quantity(left, e.operator === '*' ? 'a product' : 'a quotient');
        const b = this.quantity(right, e.operator === '*' ? 'a product' : 'a quotient');
        if (a.reading) stop(readingRefused(this, left, e.operator === '*' ? 'multiplied' : 'divided'));
        if (b.reading) stop(readingRefused(this, right, e.operator === '*' ? 'multiplied' : 'a divisor'));
        return make(
          quantityType(
            e.operator === '*' ? multiply(a.dimension, b.dimension) : divide(a.dimension, b.dimension),
          ),
        );
      }
      case '^':
        return this.#power(left, right, make);
      default: {
        const pair = this.alike(e.operator, left, right, e);
        if (pair.type.kind === 'record')
          stop(needs(this, left, 'single values', 'a comparison', 'compare one field: name.field'));
        const ordered = e.operator !== '==' && e.operator !== '!=';
        if (ordered && pair.type.kind !== 'quantity')
          stop(
            needs(
              this,
              left,
              'numbers',
              `"${e.operator}"`,
              'text and yes/no can only be equal (==) or not (!=)',
            ),
          );
        return make(LOGICAL, pair.left, pair.right);
      }
    }
  }

  #sum(e: Binary, left: Typed, right: Typed, make: (type: Type, l?: Typed, r?: Typed) => Typed): Typed {
    const a = left.type;
    const b = right.type;
    if (a.kind === 'quantity' && b.kind === 'quantity' && (a.reading || b.reading)) {
      if (a.reading && b.reading && e.operator === '-') return make(DIFFERENCE);
      if (a.reading && b === DIFFERENCE) return make(READING);
      if (b.reading && a === DIFFERENCE && e.operator === '+') return make(READING);
      stop(mismatch(this, e.operator, left, right, e));
    }
    const pair = this.alike(e.operator, left, right, e);
    if (pair.type.kind !== 'quantity')
      stop(
        needs(
          this,
          left,
          'numbers',
          e.operator === '+' ? 'a sum' : 'a difference',
          pair.type.kind === 'record' ? 'take one field of each: name.field' : joined(e.operator, pair.type),
        ),
      );
    return make(pair.type, pair.left, pair.right);
  }

  #power(left: Typed, right: Typed, make: (type: Type) => Typed): Typed {
    const base = this.quantity(left, 'a power');
    const exponent = this.quantity(right, 'an exponent');
    if (base.reading) stop(readingRefused(this, left, 'raised to a power'));
    if (exponent.dimension !== DIMENSIONLESS)
      stop(needs(this, right, 'a plain number', 'an exponent', 'divide it by a reference quantity'));
    if (base.dimension === DIMENSIONLESS) return make(NUMBER);
    const constant = constantValue(right);
    if (constant === undefined || !Number.isFinite(constant)) stop(powerRefused(this, left, right));
    return make(quantityType(power(base.dimension, constant)));
  }

  #conditional(e: Conditional): Typed {
    const condition = this.visit(e.condition);
    if (condition.type !== LOGICAL)
      stop(needs(this, condition, 'yes or no', 'a condition', 'compare it with something: x > 0'));
    const pair = this.alike('? :', this.visit(e.then), this.visit(e.otherwise), e);
    return {
      op: 'conditional',
      condition,
      then: pair.left,
      otherwise: pair.right,
      type: pair.type,
      start: e.start,
      end: e.end,
    };
  }

  /** Both sides with one type; a bare 0 takes the other side's dimension. */
  alike(
    operator: string,
    left: Typed,
    right: Typed,
    whole: Expression,
  ): { left: Typed; right: Typed; type: Type } {
    if (sameType(left.type, right.type)) return { left, right, type: left.type };
    if (isZero(left) && fitsZero(right.type))
      return { left: { ...left, type: right.type }, right, type: right.type };
    if (isZero(right) && fitsZero(left.type))
      return { left, right: { ...right, type: left.type }, type: left.type };
    stop(mismatch(this, operator, left, right, whole));
  }
}

function isZero(t: Typed): boolean {
  return t.op === 'constant' && t.zero === true;
}

function fitsZero(type: Type): boolean {
  return type.kind === 'quantity' && !type.reading;
}

/** A literal in SI. A sign before a temperature reading belongs to the number: -4 degF is minus four degrees. */
function literal(e: QuantityLiteral, negative: boolean): Typed {
  const { unit, value, si, plusMinus } = e.literal;
  const type = unit === undefined ? NUMBER : unit.reading ? READING : quantityType(unit.dimension);
  const inSI = !negative ? si : unit === undefined ? -si : toSI(-value, unit);
  return {
    op: 'constant',
    type,
    value: inSI,
    ...(plusMinus === undefined ? {} : { plusMinus }),
    ...(unit === undefined && value === 0 ? { zero: true } : {}),
    start: e.start,
    end: e.end,
  };
}

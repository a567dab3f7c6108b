/** Checks calls: the built-in functions, aggregates over columns, lookups, and functions of the library. */
import { functionInstead } from './foreign-names.ts';
import { DIMENSIONLESS, parseUnit, power, type Dimension } from '../quantity/index.ts';
import { BUILTINS, type Builtin } from './builtins.ts';
import { diagnostic, nearest } from './diagnostic.ts';
import type { Call, Expression } from './expression.ts';
import type { Checker } from './scope.ts';
import { inferSpread } from './infer-spread.ts';
import type { FunctionDefinition, ResultType, ValueType } from './library.ts';
import { mismatch, needs, plainNumberNeeded, readingRefused } from './mismatch.ts';
import { stop } from './scope.ts';
import {
  describeType,
  DIFFERENCE,
  LOGICAL,
  NUMBER,
  quantityType,
  READING,
  TEXT,
  type RecordType,
  type Type,
} from './type.ts';
import { readsRow, type AggregateName, type MathFunction, type Typed, type VectorValue } from './typed.ts';

export const CONSTANTS: ReadonlyMap<string, number> = new Map([['pi', Math.PI]]);

export function inferCall(at: Checker, e: Call): Typed {
  const builtin = BUILTINS.get(e.name);
  if (builtin) {
    checkCount(e, builtin.least, builtin.most, builtin.signature);
    return inferBuiltin(at, e, builtin);
  }
  const definition = at.scope.library.get(e.name);
  if (definition) return inferLibrary(at, e, definition);
  const nameSpan = { start: e.start, end: e.nameEnd };
  if (at.scope.cell(e.name) ?? at.scope.row?.column(e.name))
    stop(
      diagnostic('not-a-function', nameSpan, `${e.name} is a cell, not a function`, {
        suggestion: 'to multiply, write *',
        replacement: `${e.name} *`,
      }),
    );
  const names = [...BUILTINS.keys(), ...at.scope.library.names()];
  const same = names.find((name) => name.toLowerCase() === e.name.toLowerCase());
  const instead = same === undefined ? functionInstead(e.name) : undefined;
  const near = same ?? nearest(e.name, names);
  stop(
    diagnostic(
      'unknown-function',
      nameSpan,
      `there is no function ${e.name}`,
      instead ??
        (near === undefined
          ? { suggestion: 'pick one from the list of functions' }
          : { suggestion: `did you mean ${near}?`, replacement: near }),
    ),
  );
}

function checkCount(e: Call, least: number, most: number, signature: string): void {
  const n = e.arguments.length;
  if (n >= least && n <= most) return;
  stop(
    diagnostic(
      'arguments',
      e,
      `${e.name} takes ${least === most ? least : `${least} to ${most}`} ${most === 1 ? 'value' : 'values'}`,
      {
        found: n === 0 ? 'none' : `${n}`,
        expected: signature,
      },
    ),
  );
}

function argument(e: Call, i: number): Expression {
  const a = e.arguments[i];
  if (!a) throw new Error(`argument ${i} of ${e.name} was not counted`);
  return a;
}

function inferBuiltin(at: Checker, e: Call, builtin: Builtin): Typed {
  const span = { start: e.start, end: e.end };
  const math = (name: MathFunction, args: readonly Typed[], type: Type): Typed => ({
    op: 'math',
    name,
    arguments: args,
    type,
    ...span,
  });
  switch (builtin.kind) {
    case 'plain': {
      const x = at.visit(argument(e, 0));
      const type = at.quantity(x, e.name);
      if (type.dimension !== DIMENSIONLESS || type.reading) stop(plainNumberNeeded(at, e.name, x));
      return math(e.name as MathFunction, [x], NUMBER);
    }
    case 'keeps': {
      const x = at.visit(argument(e, 0));
      const type = at.quantity(x, e.name);
      if (type.reading) stop(readingRefused(at, x, `an argument of ${e.name}`));
      return math(e.name as MathFunction, [x], type);
    }
    case 'root': {
      const x = at.visit(argument(e, 0));
      const type = at.quantity(x, 'sqrt');
      if (type.reading) stop(readingRefused(at, x, 'an argument of sqrt'));
      return math('sqrt', [x], quantityType(power(type.dimension, 0.5)));
    }
    case 'round': {
      const x = at.visit(argument(e, 0));
      const type = at.quantity(x, e.name);
      if (e.arguments.length === 2) {
        const step = at.visit(argument(e, 1));
        if (type.reading) stop(readingRefused(at, x, 'rounded to a step'));
        if (step.type !== type) stop(mismatch(at, e.name, x, step, e));
        return math(e.name as MathFunction, [x, step], type);
      }
      if (type.dimension !== DIMENSIONLESS || type.reading)
        stop(
          needs(
            at,
            x,
            'a step to round to',
            e.name,
            `write ${e.name}(${at.text.slice(x.start, x.end)}, step)`,
          ),
        );
      return math(e.name as MathFunction, [x], NUMBER);
    }
    case 'extreme':
      if (e.arguments.length === 1) return aggregate(at, e, e.name as AggregateName);
      return extremes(at, e);
    case 'aggregate':
      return aggregate(at, e, e.name as AggregateName);
    case 'where':
      return where(at, e);
    case 'nominal': {
      const x = at.visit(argument(e, 0));
      return math('nominal', [x], at.quantity(x, 'nominal'));
    }
    case 'is_blank': {
      const x = at.visit(argument(e, 0));
      refuseRecord(at, x, 'is_blank');
      return math('is_blank', [x], LOGICAL);
    }
    case 'otherwise': {
      const pair = at.alike('otherwise', at.visit(argument(e, 0)), at.visit(argument(e, 1)), e);
      refuseRecord(at, pair.left, 'otherwise');
      return math('otherwise', [pair.left, pair.right], pair.type);
    }
    case 'absolute': {
      const x = at.visit(argument(e, 0));
      if (x.type !== READING)
        stop(needs(at, x, 'a temperature reading', 'absolute', 'readings are written in degF or degC'));
      return { ...x, type: DIFFERENCE };
    }
    case 'lookup':
      return lookup(at, e);
    case 'spread':
      return inferSpread(at, e, argument(e, 0));
  }
}

/** Records go through a condition whole, but these look at one value. */
function refuseRecord(at: Checker, t: Typed, name: string): void {
  if (t.type.kind === 'record')
    stop(needs(at, t, 'a single value', name, 'take one of its fields: name.field'));
}

function extremes(at: Checker, e: Call): Typed {
  let result = at.visit(argument(e, 0));
  at.quantity(result, e.name);
  for (let i = 1; i < e.arguments.length; i++) {
    const pair = at.alike(e.name, result, at.visit(argument(e, i)), e);
    result = {
      op: 'math',
      name: e.name as MathFunction,
      arguments: [pair.left, pair.right],
      type: pair.type,
      start: e.start,
      end: e.end,
    };
  }
  return result;
}

/** Checks a column argument and finds the table it walks through. */
function vector(at: Checker, e: Expression, what: string): VectorValue {
  if (at.inVector)
    stop(
      diagnostic('nested-column', e, 'a column function cannot stand inside another column argument', {
        suggestion: 'give the inner result a column or a cell of its own',
      }),
    );
  at.inVector = true;
  at.vectorTable = undefined;
  const body = at.visit(e);
  at.inVector = false;
  const table = at.vectorTable as string | undefined;
  at.vectorTable = undefined;
  if (table === undefined) {
    const own = at.scope.row;
    const shown = at.text.slice(e.start, e.end);
    stop(
      diagnostic('no-column', e, `${what} needs a column`, {
        found: `${shown} is one value`,
        expected: 'table.column',
        ...(own && e.kind === 'path'
          ? {
              suggestion: `for the whole column write ${own.name}.${shown}`,
              replacement: `${own.name}.${shown}`,
            }
          : { suggestion: 'name a column: table.column' }),
      }),
    );
  }
  return { op: 'vector', table, body, perRow: readsRow(body), type: body.type, start: e.start, end: e.end };
}

function aggregate(at: Checker, e: Call, name: AggregateName): Typed {
  const v = vector(at, argument(e, 0), name);
  const made = (type: Type): Typed => ({
    op: 'aggregate',
    name,
    vector: v,
    type,
    start: e.start,
    end: e.end,
  });
  if (name === 'count') return made(NUMBER);
  const type = at.quantity(v.body, name);
  if ((name === 'sum' || name === 'full_sum') && type.reading) stop(readingRefused(at, v, 'summed'));
  return made(type);
}

function where(at: Checker, e: Call): Typed {
  if (!at.inVector)
    stop(
      diagnostic('where-alone', e, 'where gives a filtered column, not one value', {
        suggestion: `take sum, mean, min, max or count of it: sum(${at.text.slice(e.start, e.end)})`,
        replacement: `sum(${at.text.slice(e.start, e.end)})`,
      }),
    );
  const column = at.visit(argument(e, 0));
  refuseRecord(at, column, 'where');
  const condition = at.visit(argument(e, 1));
  if (condition.type !== LOGICAL)
    stop(needs(at, condition, 'a condition', 'where', 'for instance where(rooms.area, rooms.floor == 2)'));
  return {
    op: 'math',
    name: 'where',
    arguments: [column, condition],
    type: column.type,
    start: e.start,
    end: e.end,
  };
}

function lookup(at: Checker, e: Call): Typed {
  if (at.inVector)
    stop(
      diagnostic('nested-column', e, 'lookup cannot stand inside a column argument', {
        suggestion: 'give the looked-up value a column of its own',
      }),
    );
  const result = vector(at, argument(e, 0), 'lookup');
  const keys = vector(at, argument(e, 1), 'lookup');
  for (const v of [result, keys])
    if (v.body.op !== 'column')
      stop(needs(at, v, 'a plain column', 'lookup', 'write lookup(table.result, table.key, key)'));
  if (result.table !== keys.table)
    stop(
      diagnostic('two-tables', e, 'lookup needs two columns of one table', {
        found: `${result.table} and ${keys.table}`,
      }),
    );
  const key = at.visit(argument(e, 2));
  if (keys.type.kind === 'record') stop(needs(at, keys, 'a column of single values', 'lookup'));
  if (key.type !== keys.type) stop(mismatch(at, '==', keys, key, e));
  if (result.body.op !== 'column' || keys.body.op !== 'column') throw new Error('columns were checked above');
  return {
    op: 'lookup',
    table: result.table,
    result: result.body,
    keys: keys.body,
    key,
    type: result.type,
    start: e.start,
    end: e.end,
  };
}

function inferLibrary(at: Checker, e: Call, definition: FunctionDefinition): Typed {
  const names = definition.parameters.map((p) => p.name).join(', ');
  checkCount(e, definition.parameters.length, definition.parameters.length, `${e.name}(${names})`);
  const letters = new Map<string, Typed>();
  const tables = new Map<string | undefined, string>();
  const args = definition.parameters.map((p, i): Typed => {
    const a = argument(e, i);
    const typed = p.column === true ? vector(at, a, `${p.name} of ${e.name}`) : at.visit(a);
    if (typed.op === 'vector') {
      const table = tables.get(p.table) ?? typed.table;
      tables.set(p.table, table);
      if (table !== typed.table)
        stop(
          diagnostic(
            'two-tables',
            a,
            `${e.name} needs columns of one table${p.table === undefined ? '' : ` for its ${p.table}`}`,
            {
              found: `${table} and ${typed.table}`,
            },
          ),
        );
    }
    checkParameter(at, e.name, p.name, p.type, typed, letters);
    return typed;
  });
  return {
    op: 'call',
    definition,
    arguments: args,
    type: resultType(definition, letters),
    start: e.start,
    end: e.end,
  };
}

/** The type that a signature's unit stands for. */
export function signatureType(type: Exclude<ValueType, { kind: 'generic' }>): Type {
  if (type.kind === 'text') return TEXT;
  if (type.kind === 'logical') return LOGICAL;
  const unit = parseUnit(type.unit);
  if ('problem' in unit) throw new Error(`signature unit ${type.unit}: ${unit.problem}`);
  return unit.reading ? READING : quantityType(unit.dimension);
}

function checkParameter(
  at: Checker,
  name: string,
  parameter: string,
  wanted: ValueType,
  given: Typed,
  letters: Map<string, Typed>,
): void {
  if (wanted.kind === 'generic') {
    const type = at.quantity(given, `${parameter} of ${name}`);
    const earlier = letters.get(wanted.letter);
    if (!earlier) letters.set(wanted.letter, given);
    else if (earlier.type !== type) stop(mismatch(at, name, earlier, given, given));
    return;
  }
  const type = signatureType(wanted);
  if (given.type === type) return;
  if (given.op === 'constant' && given.zero === true && type.kind === 'quantity' && !type.reading) return;
  stop(
    diagnostic('argument-type', given, `${parameter} of ${name} needs ${describeType(type)}`, {
      found: `${at.text.slice(given.start, given.end)} is ${describeType(given.type)}`,
      expected: describeType(type),
      ...(wanted.kind === 'quantity' && wanted.unit !== ''
        ? { suggestion: `for instance a value in ${wanted.unit}` }
        : {}),
    }),
  );
}

function resultType(definition: FunctionDefinition, letters: Map<string, Typed>): Type {
  const one = (type: ValueType): Type => {
    if (type.kind !== 'generic') return signatureType(type);
    const found = letters.get(type.letter);
    if (!found) throw new Error(`${definition.name}: the letter ${type.letter} stands in no parameter`);
    return found.type;
  };
  const result: ResultType = definition.result;
  if (result.kind !== 'record') return one(result);
  const dimensions: (Dimension | string)[] = [];
  const fields = new Map(
    Object.entries(result.fields).map(([name, field]): [string, Type] => {
      const type = one(field.type);
      dimensions.push(type.kind === 'quantity' ? type.dimension : type.kind);
      return [name, type];
    }),
  );
  return { kind: 'record', fields, maker: `${definition.name}:${dimensions.join()}` } satisfies RecordType;
}

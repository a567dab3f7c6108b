/** Derivatives of a library function at its arguments: its own where it declares them, else central differences. */
import { invoke, isFault, type Argument, type FunctionDefinition, type Scalar } from '../formula/library.ts';

export interface FieldDerivative {
  /** By parameter: a number, or one for each row of a column. */
  readonly by: readonly (number | readonly number[])[];
  readonly exact: boolean;
}

/** Step of a central difference, relative to the argument: the cube root of the double's precision. */
const STEP = Math.cbrt(Number.EPSILON);

/** `fields` are those asked for; `result` stands for a single result. */
export function derivatives(
  definition: FunctionDefinition,
  args: readonly Argument[],
  fields: readonly string[],
): ReadonlyMap<string, FieldDerivative> {
  const found = new Map<string, FieldDerivative>();
  const exact = definition.partials ? invoke(definition.partials, args) : {};
  const missing: string[] = [];
  for (const field of fields) {
    const by = Object.hasOwn(exact, field) ? exact[field] : undefined;
    if (by) found.set(field, { by, exact: true });
    else missing.push(field);
  }
  if (missing.length > 0) differences(definition, args, missing, found);
  return found;
}

function differences(
  definition: FunctionDefinition,
  args: readonly Argument[],
  fields: readonly string[],
  found: Map<string, FieldDerivative>,
): void {
  const by = fields.map((): (number | number[])[] => []);
  args.forEach((argument, i) => {
    if (typeof argument === 'number') {
      const slopes = slope(definition, fields, argument, (x) => args.with(i, x));
      fields.forEach((_, k) => by[k]!.push(slopes[k] ?? 0));
      return;
    }
    if (typeof argument !== 'object' || typeof argument[0] !== 'number') {
      fields.forEach((_, k) => by[k]!.push(Array.isArray(argument) ? argument.map(() => 0) : 0));
      return;
    }
    const column = argument as readonly number[];
    const rows = column.map((x, row) =>
      slope(definition, fields, x, (y) => args.with(i, column.with(row, y))),
    );
    fields.forEach((_, k) => by[k]!.push(rows.map((r) => r[k] ?? 0)));
  });
  fields.forEach((field, k) => found.set(field, { by: by[k]!, exact: false }));
}

function slope(
  definition: FunctionDefinition,
  fields: readonly string[],
  x: number,
  at: (x: number) => readonly Argument[],
): number[] {
  const h = STEP * Math.max(Math.abs(x), 1e-3);
  const above = fieldsOf(definition, at(x + h), fields);
  const below = fieldsOf(definition, at(x - h), fields);
  if (above && below) return fields.map((_, k) => (above[k]! - below[k]!) / (2 * h));
  // At the edge of the function's range one side is all there is.
  const here = fieldsOf(definition, at(x), fields);
  const side = above ?? below;
  if (!here || !side) return fields.map(() => NaN);
  return fields.map((_, k) => (side[k]! - here[k]!) / (above ? h : -h));
}

function fieldsOf(
  definition: FunctionDefinition,
  args: readonly Argument[],
  fields: readonly string[],
): number[] | undefined {
  const result = invoke(definition.compute, args);
  if (isFault(result)) return undefined;
  return fields.map((field) => {
    const value: Scalar | undefined = typeof result === 'object' ? result[field] : result;
    return typeof value === 'number' ? value : 0;
  });
}

/** Derivative by a single value; a column's has none. */
export function numberAt(by: number | readonly number[] | undefined): number {
  return typeof by === 'number' ? by : 0;
}

/** Derivative by one row of a column. */
export function rowAt(by: number | readonly number[] | undefined, row: number): number {
  return typeof by === 'object' ? (by[row] ?? 0) : 0;
}

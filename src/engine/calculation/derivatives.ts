/** Derivatives of a library function at its arguments: its own where it declares them, else central differences. */
import { invoke, isFault, type Argument, type FunctionDefinition, type Scalar } from '../formula/library.ts';

export interface FieldDerivative {
  /** By parameter: a number, or one for each row of a column. */
  readonly by: readonly (number | readonly number[])[];
  readonly exact: boolean;
}

/** Step of a central difference, relative to the argument: the cube root of the double's precision. */
const STEP = Math.cbrt(Number.EPSILON);
/** An argument smaller than this, SI, may be as good as zero, or small by nature, such as a vapour permeance. */
const SMALL = 1e-3;
/** Of a result that changes by less than this of its size, rounding is too great a part. */
const LEAST_CHANGE = 1e-11;

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

/**
 * By a step relative to the argument. A small one may be what rounding left of zero: where so small a step changes next
 * to nothing, a wider one is taken.
 */
function slope(
  definition: FunctionDefinition,
  fields: readonly string[],
  x: number,
  at: (x: number) => readonly Argument[],
): number[] {
  const size = Math.abs(x);
  const wide = (): Difference[] => difference(definition, fields, x, STEP * Math.max(size, SMALL), at);
  if (size === 0 || size >= SMALL) return wide().map((each) => each.slope);
  const near = difference(definition, fields, x, STEP * size, at);
  const isTold = ({ change }: Difference): boolean => change > LEAST_CHANGE;
  const other = near.every(isTold) ? near : wide();
  return near.map((each, k) => (isTold(each) ? each : other[k]!).slope);
}

interface Difference {
  readonly slope: number;
  /** Relative to the result. */
  readonly change: number;
}

function difference(
  definition: FunctionDefinition,
  fields: readonly string[],
  x: number,
  h: number,
  at: (x: number) => readonly Argument[],
): Difference[] {
  const above = fieldsOf(definition, at(x + h), fields);
  const below = fieldsOf(definition, at(x - h), fields);
  // At the edge of the function's range one side is all there is.
  const here = above && below ? undefined : fieldsOf(definition, at(x), fields);
  const [high, low] = [above ?? here, below ?? here];
  if (!high || !low || high === low) return fields.map(() => ({ slope: NaN, change: Infinity }));
  const width = above && below ? 2 * h : h;
  return fields.map((_, k) => {
    const by = high[k]! - low[k]!;
    return { slope: by / width, change: Math.abs(by) / Math.max(Math.abs(high[k]!), Math.abs(low[k]!)) };
  });
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

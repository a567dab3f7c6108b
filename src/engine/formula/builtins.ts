/** The functions that every formula has, whatever the trade. One row each: the checker and the help read it. */

export type BuiltinKind =
  | 'plain'
  | 'keeps'
  | 'root'
  | 'round'
  | 'extreme'
  | 'aggregate'
  | 'where'
  | 'is_blank'
  | 'otherwise'
  | 'nominal'
  | 'absolute'
  | 'lookup'
  | 'spread';

export interface Builtin {
  readonly kind: BuiltinKind;
  readonly least: number;
  readonly most: number;
  readonly signature: string;
  readonly summary: string;
}

function plain(name: string, summary: string): [string, Builtin] {
  return [name, { kind: 'plain', least: 1, most: 1, signature: `${name}(number)`, summary }];
}
function column(name: string, summary: string): [string, Builtin] {
  return [name, { kind: 'aggregate', least: 1, most: 1, signature: `${name}(table.column)`, summary }];
}
function extreme(name: string, summary: string): [string, Builtin] {
  return [
    name,
    { kind: 'extreme', least: 1, most: 20, signature: `${name}(table.column) or ${name}(a, b, …)`, summary },
  ];
}
function rounding(name: string, summary: string): [string, Builtin] {
  return [name, { kind: 'round', least: 1, most: 2, signature: `${name}(value, step)`, summary }];
}

export const BUILTINS: ReadonlyMap<string, Builtin> = new Map<string, Builtin>([
  [
    'abs',
    { kind: 'keeps', least: 1, most: 1, signature: 'abs(value)', summary: 'the value without its sign' },
  ],
  ['sqrt', { kind: 'root', least: 1, most: 1, signature: 'sqrt(value)', summary: 'square root' }],
  plain('exp', 'e to this power'),
  plain('log', 'natural logarithm'),
  plain('log10', 'logarithm to base 10'),
  plain('sin', 'sine of an angle'),
  plain('cos', 'cosine of an angle'),
  plain('tan', 'tangent of an angle'),
  plain('asin', 'angle with this sine'),
  plain('acos', 'angle with this cosine'),
  plain('atan', 'angle with this tangent'),
  rounding('floor', 'the next step down (whole numbers when no step is given)'),
  rounding('ceil', 'the next step up (whole numbers when no step is given)'),
  rounding('round', 'the nearest step, halves away from zero'),
  extreme('min', 'the smallest'),
  extreme('max', 'the largest'),
  column('sum', 'the total of a column, blanks left out'),
  column('mean', 'the mean of a column, blanks left out'),
  column('count', 'how many rows of a column are not blank'),
  [
    'where',
    {
      kind: 'where',
      least: 2,
      most: 2,
      signature: 'where(table.column, condition)',
      summary: 'the rows of a column that meet a condition; stands inside sum, mean and the like',
    },
  ],
  [
    'lookup',
    {
      kind: 'lookup',
      least: 3,
      most: 3,
      signature: 'lookup(table.result, table.key, key)',
      summary: 'the value in the row whose key is the one given',
    },
  ],
  [
    'is_blank',
    {
      kind: 'is_blank',
      least: 1,
      most: 1,
      signature: 'is_blank(value)',
      summary: 'yes where nothing has been typed',
    },
  ],
  [
    'otherwise',
    {
      kind: 'otherwise',
      least: 2,
      most: 2,
      signature: 'otherwise(value, fallback)',
      summary: 'the fallback where the value is blank',
    },
  ],
  [
    'uncertainty',
    {
      kind: 'spread',
      least: 1,
      most: 1,
      signature: 'uncertainty(name)',
      summary: 'standard uncertainty of a cell, from everything it rests on',
    },
  ],
  [
    'chance',
    {
      kind: 'spread',
      least: 1,
      most: 1,
      signature: 'chance(name <= name)',
      summary: 'probability that a comparison of two values holds, with all their uncertainty',
    },
  ],
  [
    'nominal',
    {
      kind: 'nominal',
      least: 1,
      most: 1,
      signature: 'nominal(value)',
      summary: 'the value alone, without its ±: for limits and lines that are drawn',
    },
  ],
  [
    'absolute',
    {
      kind: 'absolute',
      least: 1,
      most: 1,
      signature: 'absolute(temperature reading)',
      summary: 'a temperature reading counted from absolute zero, which may be multiplied and divided',
    },
  ],
]);

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
  /** With the names of the help's own small workbook, in which it is worked out. */
  readonly example: string;
}

function plain(name: string, summary: string, example: string): [string, Builtin] {
  return [name, { kind: 'plain', least: 1, most: 1, signature: `${name}(number)`, summary, example }];
}
function column(name: string, summary: string, example: string): [string, Builtin] {
  return [
    name,
    { kind: 'aggregate', least: 1, most: 1, signature: `${name}(table.column)`, summary, example },
  ];
}
function extreme(name: string, summary: string, example: string): [string, Builtin] {
  return [
    name,
    {
      kind: 'extreme',
      least: 1,
      most: 20,
      signature: `${name}(table.column) or ${name}(a, b, …)`,
      summary,
      example,
    },
  ];
}
function rounding(name: string, summary: string, example: string): [string, Builtin] {
  return [name, { kind: 'round', least: 1, most: 2, signature: `${name}(value, step)`, summary, example }];
}

export const BUILTINS: ReadonlyMap<string, Builtin> = new Map<string, Builtin>([
  [
    'abs',
    {
      kind: 'keeps',
      least: 1,
      most: 1,
      signature: 'abs(value)',
      summary: 'the value without its sign',
      example: 'abs(-3 ft)',
    },
  ],
  [
    'sqrt',
    {
      kind: 'root',
      least: 1,
      most: 1,
      signature: 'sqrt(value)',
      summary: 'square root',
      example: 'sqrt(144 ft2)',
    },
  ],
  plain('exp', 'e to this power', 'exp(1)'),
  plain('log', 'natural logarithm', 'log(exp(2))'),
  plain('log10', 'logarithm to base 10', 'log10(1000)'),
  plain('sin', 'sine of an angle', 'sin(30 deg)'),
  plain('cos', 'cosine of an angle', 'cos(60 deg)'),
  plain('tan', 'tangent of an angle', 'tan(45 deg)'),
  plain('asin', 'angle with this sine', 'asin(1)'),
  plain('acos', 'angle with this cosine', 'acos(0)'),
  plain('atan', 'angle with this tangent', 'atan(1)'),
  rounding('floor', 'the next step down (whole numbers when no step is given)', 'floor(7 ft, 2 ft)'),
  rounding('ceil', 'the next step up (whole numbers when no step is given)', 'ceil(7 ft, 2 ft)'),
  rounding('round', 'the nearest step, halves away from zero', 'round(7.2 in, 0.5 in)'),
  extreme('min', 'the smallest', 'min(rooms.area)'),
  extreme('max', 'the largest', 'max(3 ft, 40 in)'),
  column('sum', 'the total of a column, blanks left out', 'sum(rooms.area)'),
  column(
    'full_sum',
    'the total of a column once no row of it is blank; until then it waits, and says for which row',
    'full_sum(rooms.area)',
  ),
  column('mean', 'the mean of a column, blanks left out', 'mean(rooms.area)'),
  column('count', 'how many rows of a column are not blank', 'count(rooms.area)'),
  [
    'where',
    {
      kind: 'where',
      least: 2,
      most: 2,
      signature: 'where(table.column, condition)',
      summary: 'the rows of a column that meet a condition; stands inside sum, mean and the like',
      example: 'sum(where(rooms.area, rooms.floor == 1))',
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
      example: 'lookup(rooms.area, rooms.room, "kitchen")',
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
      example: 'is_blank(sill)',
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
      example: 'otherwise(sill, 2 ft)',
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
      example: 'uncertainty(result)',
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
      example: 'chance(result <= target)',
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
      example: 'nominal(result)',
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
      example: 'absolute(indoor)',
    },
  ],
]);

/** Functions and constants of spreadsheets and of mathematics that are no names here: what to write instead. */

import { missingHint, numberOfWord } from '../quantity/index.ts';

export interface Way {
  /** What is wrong, where more can be said than that nothing has this name. */
  readonly message?: string;
  readonly suggestion: string;
  readonly replacement?: string;
}

/** The way out, the names, and where one name simply takes the place of another, that name. */
const FUNCTIONS: readonly (readonly [suggestion: string, names: string, replacement?: string])[] = [
  ['write condition ? value if yes : value if no', 'if ifs iif switch'],
  ['"and" stands between two conditions: a > 1 and b < 2', 'and'],
  ['"or" stands between two conditions: a > 1 or b < 2', 'or'],
  ['"not" stands before a condition: not a > 1', 'not'],
  ['write a != b', 'xor'],
  ['write mean(…)', 'average avg', 'mean'],
  ['write mean(where(table.column, condition))', 'averageif averageifs'],
  ['write sum(where(table.column, condition))', 'sumif sumifs'],
  ['write count(where(table.column, condition))', 'countif countifs'],
  ['write count(table.column); blanks are left out', 'counta rows'],
  ['write min(where(table.column, condition))', 'minifs'],
  ['write max(where(table.column, condition))', 'maxifs'],
  ['write sum(table.a * table.b)', 'sumproduct'],
  ['write lookup(table.result, table.key, key)', 'vlookup hlookup xlookup index match choose'],
  [
    'write otherwise(value, fallback) for what may be blank; a fault is told, not hidden',
    'iferror ifna ifblank coalesce',
  ],
  ['write is_blank(…)', 'isblank', 'is_blank'],
  ['write log(…), the natural logarithm', 'ln', 'log'],
  ['write log(x) / log(2)', 'log2 lb'],
  ['write log10(…)', 'lg', 'log10'],
  ['write x ^ y', 'pow power'],
  ['write x ^ (1 / n)', 'root nthroot cbrt'],
  ['write x ^ 2', 'square sq sqr'],
  ['write x ^ 3', 'cube'],
  ['write a - b * floor(a / b)', 'mod rem remainder'],
  ['write ceil(…)', 'ceiling roundup', 'ceil'],
  ['write floor(…)', 'int trunc rounddown fix', 'floor'],
  ['write round(value, step)', 'mround fixed'],
  ['write abs(…)', 'magnitude', 'abs'],
  ['write x > 0 ? 1 : x < 0 ? -1 : 0', 'sign sgn'],
  ['write max(low, min(high, x))', 'clamp'],
  ['write atan(y / x)', 'atan2'],
  ['an angle is written with its unit, as in 30 deg', 'radians degrees'],
  ['choose the unit on the cell; the formula keeps the quantity, whatever it is shown in', 'convert to unit'],
  ['write the product out: a * b', 'product'],
  ['take mean, min or max of the column', 'median mode percentile quartile large small rank'],
  ['a text with names in braces shows values between words', 'concat concatenate textjoin text format'],
  ['type the date into a cell: 2026-03-06', 'today now date'],
  ['the ± of a value is asked for with uncertainty(name)', 'stdev stdevp std sd var variance'],
];

export const FUNCTION_WAYS: ReadonlyMap<string, Way> = new Map(
  FUNCTIONS.flatMap(([suggestion, names, replacement]) =>
    names
      .split(' ')
      .map(
        (name) => [name, replacement === undefined ? { suggestion } : { suggestion, replacement }] as const,
      ),
  ),
);

/** What stands here for a function of another name. */
export function functionInstead(name: string): Way | undefined {
  return FUNCTION_WAYS.get(name.toLowerCase());
}

export const CONSTANT_WAYS: ReadonlyMap<string, Way> = new Map<string, Way>([
  ['π', { suggestion: 'write pi', replacement: 'pi' }],
  ['PI', { suggestion: 'write pi', replacement: 'pi' }],
  ['e', { suggestion: 'write exp(1)', replacement: 'exp(1)' }],
  ['TRUE', { suggestion: 'write true', replacement: 'true' }],
  ['True', { suggestion: 'write true', replacement: 'true' }],
  ['FALSE', { suggestion: 'write false', replacement: 'false' }],
  ['False', { suggestion: 'write false', replacement: 'false' }],
  ['yes', { suggestion: 'write "yes" for the text, true for what holds', replacement: '"yes"' }],
  ['no', { suggestion: 'write "no" for the text, false for what does not hold', replacement: '"no"' }],
  ['i', { suggestion: 'numbers have no imaginary part here' }],
  ...['null', 'undefined', 'NaN', 'NA', 'None', 'blank', 'TBD', 'TBA', 'tbd', 'tba', 'unknown', 'none'].map(
    (name): [string, Way] => [
      name,
      { suggestion: 'leave the cell empty; ask with is_blank(name), fill in with otherwise(name, fallback)' },
    ],
  ),
  ...['Infinity', 'inf'].map((name): [string, Way] => [
    name,
    { suggestion: 'there is no infinite number; leave the limit out of the formula' },
  ]),
]);

/** What stands here for a constant of another name, or for the place of a cell in a grid. `text`: the whole formula. */
export function nameInstead(name: string, text: string): Way | undefined {
  const missing = text.replace(/^[\s=]+/u, '').trimEnd() === name ? missingHint(name) : undefined;
  if (missing !== undefined) return { message: missing.problem, suggestion: missing.suggestion };
  const known = CONSTANT_WAYS.get(name);
  if (known !== undefined) return known;
  const number = numberOfWord(name);
  if (number !== undefined)
    return { suggestion: `numbers are typed in digits: ${number}`, replacement: number };
  return /^[A-Z]{1,2}\d{1,4}$/.test(name)
    ? { suggestion: 'a cell is called by its name, not by its place: write the name that stands beside it' }
    : undefined;
}

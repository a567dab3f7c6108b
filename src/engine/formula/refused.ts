/** The parts of the usual expression grammars that a formula here does not have, each with what to write instead. */
import type { DiagnosticParts } from './diagnostic.ts';

export interface Refusal {
  readonly code: string;
  readonly message: string;
  readonly parts: DiagnosticParts;
}

const CONVERSION: Refusal = {
  code: 'conversion',
  message: 'a formula does not convert units',
  parts: {
    suggestion: 'choose the unit on the cell; the formula keeps the quantity, whatever it is shown in',
  },
};

const CONDITION = 'write condition ? value if yes : value if no';

function operator(code: string, meaning: string, replacement: string): Refusal {
  return { code, message: `${meaning} is written ${replacement}`, parts: { replacement } };
}

function small(word: string): Refusal {
  return { code: 'capitals', message: `"${word}" is written in small letters`, parts: { replacement: word } };
}

/** Words where an operator should stand, in small letters. */
export const REFUSED_WORDS: ReadonlyMap<string, Refusal> = new Map([
  ['to', CONVERSION],
  ['in', CONVERSION],
  ['as', CONVERSION],
  [
    'mod',
    {
      code: 'modulo',
      message: 'there is no remainder operator',
      parts: { suggestion: 'write a - b * floor(a / b)' },
    },
  ],
  [
    'xor',
    {
      code: 'exclusive-or',
      message: 'there is no "xor"',
      parts: { suggestion: 'write a != b', replacement: '!=' },
    },
  ],
  ['and', small('and')],
  ['or', small('or')],
  ['not', operator('word-operator', '"is not"', '!=')],
  ['is', operator('word-operator', '"equal"', '==')],
  ['equals', operator('word-operator', '"equal"', '==')],
  ['per', operator('word-operator', '"per"', '/')],
  ['of', operator('word-operator', '"of"', '*')],
  ['times', operator('word-operator', '"times"', '*')],
  ['x', operator('word-operator', '"times"', '*')],
  ['plus', operator('word-operator', '"plus"', '+')],
  ['minus', operator('word-operator', '"minus"', '-')],
  ['then', { code: 'if', message: 'a condition has no words here', parts: { suggestion: CONDITION } }],
  ['else', { code: 'if', message: 'a condition has no words here', parts: { suggestion: CONDITION } }],
]);

/** The refusal of a word that stands where an operator should; `x` is one between two values only. */
export function refusedWord(word: string, behind: string): Refusal | undefined {
  const lower = word.toLowerCase();
  if (lower === 'x' && !/^\s*[\d(.\p{L}]/u.test(behind)) return undefined;
  return REFUSED_WORDS.get(lower);
}

/**
 * The refusal of a word with which a condition or a denial begins in other languages: `if leaky then …`. `end` is where
 * the word ends in the text. Nearly every word is some other one, which is told first.
 */
export function refusedStart(word: string, text: string, end: number): Refusal | undefined {
  if (word.length > 3) return undefined;
  const lower = word.toLowerCase();
  if (lower !== 'if' && lower !== 'not') return undefined;
  if (!/^\s+[\p{L}\d"]/u.test(text.slice(end))) return undefined;
  return lower === 'if' ? REFUSED_WORDS.get('then') : small('not');
}

const ASSIGNMENT = 'a formula does not assign';
const ASSIGN: DiagnosticParts = { suggestion: 'the name stands beside the cell; type the right side alone' };
const REMARK = 'a formula holds no remarks';
const IN_NOTE: DiagnosticParts = { suggestion: 'write it into the note of the cell' };

/** The first that fits is taken: longer before shorter. */
export const REFUSED_SIGNS: readonly (readonly [string, string, string, DiagnosticParts])[] = [
  ['//', 'remark', REMARK, IN_NOTE],
  ['/*', 'remark', REMARK, IN_NOTE],
  ['#', 'remark', REMARK, IN_NOTE],
  ['===', 'equal', '"equal" is written ==', { replacement: '==' }],
  ['!==', 'not-equal', '"not equal" is written !=', { replacement: '!=' }],
  ['=<', 'at-most', '"at most" is written <=', { replacement: '<=' }],
  [
    '=>',
    'function-definition',
    'a formula does not define a function',
    { suggestion: 'give the result a cell of its own, or a table a column; for "at least" write >=' },
  ],
  ['->', 'conversion', CONVERSION.message, CONVERSION.parts],
  ['→', 'conversion', CONVERSION.message, CONVERSION.parts],
  [':=', 'assignment', ASSIGNMENT, ASSIGN],
  ['+=', 'assignment', ASSIGNMENT, ASSIGN],
  ['-=', 'assignment', ASSIGNMENT, ASSIGN],
  ['*=', 'assignment', ASSIGNMENT, ASSIGN],
  ['/=', 'assignment', ASSIGNMENT, ASSIGN],
  ['^|', 'exclusive-or', 'there is no "xor"', { suggestion: 'write a != b', replacement: '!=' }],
  ['&&', 'logic', '"and" is written as a word', { replacement: 'and' }],
  ['||', 'logic', '"or" is written as a word', { replacement: 'or' }],
  ['<>', 'not-equal', '"not equal" is written !=', { replacement: '!=' }],
  ['>>>', 'bits', 'there are no bit operators', { suggestion: 'divide by a power of 2' }],
  ['<<', 'bits', 'there are no bit operators', { suggestion: 'multiply by a power of 2' }],
  ['>>', 'bits', 'there are no bit operators', { suggestion: 'divide by a power of 2' }],
  ['??', 'fallback', 'there is no ?? operator', { suggestion: 'write otherwise(value, fallback)' }],
  ['?.', 'dot', 'a column is written with a dot alone', { expected: 'table.column', replacement: '.' }],
  ['.*', 'elementwise', 'operators on columns need no dot', { replacement: '*' }],
  ['./', 'elementwise', 'operators on columns need no dot', { replacement: '/' }],
  ['.^', 'elementwise', 'operators on columns need no dot', { replacement: '^' }],
  ['&', 'logic', '"and" is written as a word', { replacement: 'and' }],
  ['|', 'logic', '"or" is written as a word', { replacement: 'or' }],
  ['~', 'logic', '"not" is written as a word', { replacement: 'not' }],
  [
    '=',
    'assignment',
    ASSIGNMENT,
    { suggestion: 'the name stands beside the cell; to compare, write ==', replacement: '==' },
  ],
  [';', 'block', 'a cell holds one formula', { suggestion: 'give the second formula a cell of its own' }],
  [
    '[',
    'matrix',
    'there are no matrices or index brackets',
    { suggestion: 'put the numbers in a table and name its column: table.column' },
  ],
  [
    ']',
    'matrix',
    'there are no matrices or index brackets',
    { suggestion: 'name a table column: table.column' },
  ],
  [
    '{',
    'object',
    'there are no objects in a formula',
    { suggestion: 'give each value a named cell, or a table a row' },
  ],
  ['}', 'object', 'there are no objects in a formula', { suggestion: 'give each value a named cell' }],
  [
    ':',
    'range',
    'there are no ranges',
    { suggestion: 'name a whole column (table.column), or filter it: where(table.column, condition)' },
  ],
  [
    '%',
    'percent',
    '% is a unit here, not an operator',
    {
      suggestion:
        'write the number directly before it, as in 5 %; for a remainder write a - b * floor(a / b)',
    },
  ],
  [
    '!',
    'factorial',
    'there is no factorial',
    { suggestion: 'write the product out; "not" is written as a word' },
  ],
  [
    "'",
    'quote',
    "a ' here is neither feet nor text",
    { suggestion: 'feet follow a number (12\'); text stands in "…"' },
  ],
  ...['“', '”', '„', '«', '»'].map(
    (sign) => [sign, 'quote', 'text stands in straight double quotes', { replacement: '"' }] as const,
  ),
  ...['‘', '’', '`'].map(
    (sign) => [sign, 'quote', 'text stands in straight double quotes', { suggestion: 'write "…"' }] as const,
  ),
  ...Array.from('²³⁴').map(
    (sign, at) =>
      [sign, 'power', 'powers are written with ^', { replacement: `^${String(at + 2)}` }] as const,
  ),
  ['√', 'root', 'the square root is a function', { suggestion: 'write sqrt(…)', replacement: 'sqrt' }],
  ...Array.from('∙•∗').map((sign) => [sign, 'sign', '"times" is written *', { replacement: '*' }] as const),
  ...Array.from('⁄∕').map(
    (sign) => [sign, 'sign', '"divided by" is written /', { replacement: '/' }] as const,
  ),
  ...Array.from('—‐‑').map(
    (sign) => [sign, 'sign', 'this is a dash; "minus" is written -', { replacement: '-' }] as const,
  ),
  [
    '±',
    'plus-minus',
    'a ± stands between two numbers',
    { suggestion: 'as in 20.0 ± 0.5 Pa; give what is named here its ± in a cell of its own' },
  ],
  [
    '$',
    'reference',
    'a cell is called by its name, not by its place',
    { suggestion: 'write the name that stands beside it; money behind its number: 5 $' },
  ],
  ['\\', 'sign', '"divided by" is written /', { replacement: '/' }],
  ['.', 'dot', 'a dot joins a table and its column, or a record and its field', { expected: 'table.column' }],
];

/** Who joins words and a number wants both in one sentence. */
export const LIVE = 'a text part of the worksheet shows values in its words: Area is {name}';

/** What depends on what stands around it. */
function refusedHere(text: string, at: number): (Refusal & { readonly length: number }) | undefined {
  const sign = text[at];
  const before = text.slice(0, at).trimEnd();
  if (sign === '=' && text[at + 1] !== '=' && /^=?\s*[\p{L}_][\p{L}\p{N}_]*\s*\([^()]*\)$/u.test(before))
    return {
      code: 'function-definition',
      message: 'a formula does not define a function',
      parts: {
        suggestion: 'give the result a cell of its own, or a table a column that has it for each row',
      },
      length: 1,
    };
  if (sign === "'" && !/[\p{L}\p{N}_)]$/u.test(before)) {
    const quoted = /^'([^'"]*)'/u.exec(text.slice(at));
    if (quoted !== null)
      return {
        code: 'quote',
        message: 'text stands in double quotes',
        parts: { replacement: `"${quoted[1] ?? ''}"` },
        length: quoted[0].length,
      };
  }
  if (sign === '&' && (before.endsWith('"') || /^&\s*"/u.test(text.slice(at))))
    return { code: 'join', message: 'texts are not joined', parts: { suggestion: LIVE }, length: 1 };
  if (sign === ';' && unclosed(before))
    return {
      code: 'semicolon',
      message: 'arguments are separated by commas',
      parts: { replacement: ',' },
      length: 1,
    };
  if (sign === '!' && /[\p{L}\p{N}_]$/u.test(before) && /^!\p{L}/u.test(text.slice(at)))
    return {
      code: 'sheet',
      message: 'a column is written with a dot',
      parts: { expected: 'table.column', replacement: '.' },
      length: 1,
    };
  if (sign === '!' && !/[\p{L}\p{N}_)]$/u.test(before))
    return {
      code: 'logic',
      message: '"not" is written as a word',
      parts: { replacement: 'not ' },
      length: 1,
    };
  const absolute = sign === '|' && text[at + 1] !== '|' ? /^\|([^|]+)\|/u.exec(text.slice(at)) : null;
  if (absolute !== null && !/[\p{L}\p{N}_)]$/u.test(before))
    return {
      code: 'absolute',
      message: 'the size without its sign is a function',
      parts: { replacement: `abs(${(absolute[1] ?? '').trim()})` },
      length: absolute[0].length,
    };
  return undefined;
}

/** Whether a call stands open at the end of `before`. */
function unclosed(before: string): boolean {
  let depth = 0;
  for (const sign of before) depth += sign === '(' ? 1 : sign === ')' ? -1 : 0;
  return depth > 0;
}

/** The refusal of what stands at `at`, where no value or operator can be read. */
export function refusedCharacter(text: string, at: number): Refusal & { readonly length: number } {
  const here = refusedHere(text, at);
  if (here !== undefined) return here;
  for (const [sequence, code, message, parts] of REFUSED_SIGNS)
    if (text.startsWith(sequence, at)) return { code, message, parts, length: sequence.length };
  const character = String.fromCodePoint(text.codePointAt(at) ?? 32);
  const shown = /[\p{L}\p{N}\p{P}\p{S}]/u.test(character)
    ? character
    : `U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;
  return {
    code: 'character',
    message: `the character ${shown} has no meaning in a formula`,
    parts: { suggestion: 'delete it', replacement: '' },
    length: character.length,
  };
}

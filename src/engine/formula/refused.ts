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

const WORDS: ReadonlyMap<string, Refusal> = new Map([
  ['to', CONVERSION],
  ['in', CONVERSION],
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
]);

export function refusedWord(word: string): Refusal | undefined {
  return WORDS.get(word);
}

const SEQUENCES: readonly (readonly [string, string, string, DiagnosticParts])[] = [
  ['&&', 'logic', '"and" is written as a word', { replacement: 'and' }],
  ['||', 'logic', '"or" is written as a word', { replacement: 'or' }],
  ['<>', 'not-equal', '"not equal" is written !=', { replacement: '!=' }],
  ['<<', 'bits', 'there are no bit operators', { suggestion: 'multiply by a power of 2' }],
  ['>>', 'bits', 'there are no bit operators', { suggestion: 'divide by a power of 2' }],
  ['??', 'fallback', 'there is no ?? operator', { suggestion: 'write otherwise(value, fallback)' }],
  ['.*', 'elementwise', 'operators on columns need no dot', { replacement: '*' }],
  ['./', 'elementwise', 'operators on columns need no dot', { replacement: '/' }],
  ['.^', 'elementwise', 'operators on columns need no dot', { replacement: '^' }],
  ['&', 'logic', '"and" is written as a word', { replacement: 'and' }],
  ['|', 'logic', '"or" is written as a word', { replacement: 'or' }],
  ['~', 'logic', '"not" is written as a word', { replacement: 'not' }],
  [
    '=',
    'assignment',
    'a formula does not assign',
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
  ['.', 'dot', 'a dot joins a table and its column, or a record and its field', { expected: 'table.column' }],
];

/** The refusal of what stands at `at`, where no value or operator can be read. */
export function refusedCharacter(text: string, at: number): Refusal & { readonly length: number } {
  for (const [sequence, code, message, parts] of SEQUENCES)
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

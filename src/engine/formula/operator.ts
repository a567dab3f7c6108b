/** Operators: how they are spelt and how tightly they bind. */
import type { BinaryOperator } from './expression.ts';

/** Binding strengths; `^` binds tighter than a sign before it, so -2^2 is -4. */
export const STRENGTH: Readonly<Record<BinaryOperator, number>> = {
  or: 2,
  and: 3,
  '==': 5,
  '!=': 5,
  '<': 5,
  '<=': 5,
  '>': 5,
  '>=': 5,
  '+': 6,
  '-': 6,
  '*': 7,
  '/': 7,
  '^': 9,
};
export const NOT = 4;
export const SIGN = 8;
export const CONDITIONAL = 1;

export type OperatorFound =
  | { readonly operator: BinaryOperator | '?'; readonly length: number }
  /** Spelt like an operator of another language. */
  | { readonly refused: string };

/** By first sign; of those that begin alike the longer come first. */
const SPELT: Readonly<Record<string, readonly (readonly [string, BinaryOperator | '?' | 'refused'])[]>> = {
  '+': [
    ['+=', 'refused'],
    ['+', '+'],
  ],
  '-': [
    ['->', 'refused'],
    ['-=', 'refused'],
    ['-', '-'],
  ],
  '−': [['−', '-']],
  '–': [['–', '-']],
  '*': [
    ['**', 'refused'],
    ['*=', 'refused'],
    ['*', '*'],
  ],
  '×': [['×', '*']],
  '·': [['·', '*']],
  '⋅': [['⋅', '*']],
  '/': [
    ['//', 'refused'],
    ['/*', 'refused'],
    ['/=', 'refused'],
    ['/', '/'],
  ],
  '÷': [['÷', '/']],
  '^': [
    ['^|', 'refused'],
    ['^', '^'],
  ],
  '?': [
    ['??', 'refused'],
    ['?.', 'refused'],
    ['?', '?'],
  ],
  '<': [
    ['<<', 'refused'],
    ['<>', 'refused'],
    ['<=', '<='],
    ['<', '<'],
  ],
  '≤': [['≤', '<=']],
  '>': [
    ['>>>', 'refused'],
    ['>>', 'refused'],
    ['>=', '>='],
    ['>', '>'],
  ],
  '≥': [['≥', '>=']],
  '≠': [['≠', '!=']],
  '=': [
    ['===', 'refused'],
    ['==', '=='],
    ['=', 'refused'],
  ],
  '!': [
    ['!==', 'refused'],
    ['!=', '!='],
  ],
  a: [['and', 'and']],
  o: [['or', 'or']],
};

interface Spelling {
  readonly text: string;
  readonly found: OperatorFound;
  readonly isWord: boolean;
}

/** Made once: a formula asks for an operator behind every value. */
const SPELLINGS: ReadonlyMap<string, readonly Spelling[]> = new Map(
  Object.entries(SPELT).map(([first, list]) => [
    first,
    list.map(([text, operator]) => ({
      text,
      found: operator === 'refused' ? { refused: text } : { operator, length: text.length },
      isWord: operator === 'and' || operator === 'or',
    })),
  ]),
);
const WORD_CHARACTER = /[\p{L}\p{N}_]/u;

/** The binary operator, or `?`, that stands at `at`; nothing is skipped. */
export function readOperator(text: string, at: number): OperatorFound | undefined {
  const first = text[at];
  const spellings = first === undefined ? undefined : SPELLINGS.get(first);
  if (!spellings) return undefined;
  for (let k = 0; k < spellings.length; k++) {
    const spelling = spellings[k];
    if (!spelling || !text.startsWith(spelling.text, at)) continue;
    // `leaky?.5:1` is a condition.
    if (spelling.text === '?.' && /\d/.test(text[at + 2] ?? '')) continue;
    const behind = text[at + spelling.text.length] ?? ' ';
    return spelling.isWord && WORD_CHARACTER.test(behind) ? undefined : spelling.found;
  }
  return undefined;
}

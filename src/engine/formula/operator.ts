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

const SPELLINGS: ReadonlyMap<string, readonly (readonly [string, BinaryOperator | '?' | 'refused'])[]> =
  new Map([
    [
      '+',
      [
        ['+=', 'refused'],
        ['+', '+'],
      ],
    ],
    [
      '-',
      [
        ['->', 'refused'],
        ['-=', 'refused'],
        ['-', '-'],
      ],
    ],
    ['−', [['−', '-']]],
    ['–', [['–', '-']]],
    [
      '*',
      [
        ['**', 'refused'],
        ['*=', 'refused'],
        ['*', '*'],
      ],
    ],
    ['×', [['×', '*']]],
    ['·', [['·', '*']]],
    ['⋅', [['⋅', '*']]],
    [
      '/',
      [
        ['//', 'refused'],
        ['/*', 'refused'],
        ['/=', 'refused'],
        ['/', '/'],
      ],
    ],
    ['÷', [['÷', '/']]],
    [
      '^',
      [
        ['^|', 'refused'],
        ['^', '^'],
      ],
    ],
    [
      '?',
      [
        ['??', 'refused'],
        ['?.', 'refused'],
        ['?', '?'],
      ],
    ],
    [
      '<',
      [
        ['<<', 'refused'],
        ['<>', 'refused'],
        ['<=', '<='],
        ['<', '<'],
      ],
    ],
    ['≤', [['≤', '<=']]],
    [
      '>',
      [
        ['>>>', 'refused'],
        ['>>', 'refused'],
        ['>=', '>='],
        ['>', '>'],
      ],
    ],
    ['≥', [['≥', '>=']]],
    ['≠', [['≠', '!=']]],
    [
      '=',
      [
        ['===', 'refused'],
        ['==', '=='],
        ['=', 'refused'],
      ],
    ],
    [
      '!',
      [
        ['!==', 'refused'],
        ['!=', '!='],
      ],
    ],
    ['a', [['and', 'and']]],
    ['o', [['or', 'or']]],
  ]);
const WORD_CHARACTER = /[\p{L}\p{N}_]/u;

/** The binary operator, or `?`, that stands at `at`; nothing is skipped. */
export function readOperator(text: string, at: number): OperatorFound | undefined {
  const first = text[at];
  if (first === undefined) return undefined;
  for (const [spelling, operator] of SPELLINGS.get(first) ?? []) {
    if (!text.startsWith(spelling, at)) continue;
    // `leaky?.5:1` is a condition.
    if (spelling === '?.' && /\d/.test(text[at + 2] ?? '')) continue;
    if (operator === 'refused') return { refused: spelling };
    const word = operator === 'and' || operator === 'or';
    if (word && WORD_CHARACTER.test(text[at + spelling.length] ?? ' ')) return undefined;
    return { operator, length: spelling.length };
  }
  return undefined;
}

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

/** Of those that begin alike the longer come first. */
const SPELT: readonly (readonly [string, BinaryOperator | '?' | 'refused'])[] = [
  ['+=', 'refused'],
  ['+', '+'],
  ['->', 'refused'],
  ['-=', 'refused'],
  ['-', '-'],
  ['−', '-'],
  ['–', '-'],
  ['**', 'refused'],
  ['*=', 'refused'],
  ['*', '*'],
  ['×', '*'],
  ['·', '*'],
  ['⋅', '*'],
  ['//', 'refused'],
  ['/*', 'refused'],
  ['/=', 'refused'],
  ['/', '/'],
  ['÷', '/'],
  ['^|', 'refused'],
  ['^', '^'],
  ['??', 'refused'],
  ['?.', 'refused'],
  ['?', '?'],
  ['<<', 'refused'],
  ['<>', 'refused'],
  ['<=', '<='],
  ['<', '<'],
  ['≤', '<='],
  ['>>>', 'refused'],
  ['>>', 'refused'],
  ['>=', '>='],
  ['>', '>'],
  ['≥', '>='],
  ['≠', '!='],
  ['===', 'refused'],
  ['==', '=='],
  ['=', 'refused'],
  ['!==', 'refused'],
  ['!=', '!='],
  ['and', 'and'],
  ['or', 'or'],
];

interface Spelling {
  readonly text: string;
  readonly found: OperatorFound;
  readonly isWord: boolean;
}

/** By first sign, made once: a formula asks for an operator behind every value. */
const SPELLINGS: ReadonlyMap<string, readonly Spelling[]> = bySign();

function bySign(): Map<string, Spelling[]> {
  const spellings = new Map<string, Spelling[]>();
  for (const [text, operator] of SPELT) {
    const [first = ''] = text;
    const found = operator === 'refused' ? { refused: text } : { operator, length: text.length };
    const alike = spellings.get(first) ?? [];
    alike.push({ text, found, isWord: operator === 'and' || operator === 'or' });
    spellings.set(first, alike);
  }
  return spellings;
}

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

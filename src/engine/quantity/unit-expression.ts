/**
 * The syntax of units: `m3/h`, `Btu/(h ft2 degF)`, `1/h`, `sq ft`, `m³/(h·m²)`. Which words are units is told by
 * the caller, so that this file knows no unit. Used on whole texts and in the middle of a formula.
 */

import { plainDigits } from './superscript.ts';

export interface Term<S> {
  readonly symbol: S;
  readonly power: number;
}

export interface Expression<S> {
  readonly end: number;
  readonly terms: readonly Term<S>[];
  /** Where a product follows a division without parentheses: `W/m2 K` may be meant in two ways and is not read on. */
  readonly ambiguousAt?: number;
}

/** Furthest word that was looked up in vain: what a message has to name. */
export interface Unknown {
  word: string;
  at: number;
}

export type Resolve<S> = (word: string) => Term<S> | undefined;

const MAX_TERMS = 24;
const MAX_DEPTH = 6;

/** º and ˚ are typed for °. */
const WORD = /Δ?[°˚]?\p{L}[\p{L}0-9_]*|[°%$℃℉]/uy;
const RAISED = /⁻?[⁰¹²³⁴-⁹]+/uy;
const CARET = /\s*\^\s*([+\-−]?\d+(?:\.\d+)?|\(\s*[+\-−]?\d+(?:\.\d+)?(?:\s*\/\s*\d+)?\s*\))/uy;
const IN_BEFORE_UNIT = /^in\s+\p{L}/u;
const LEADING_ONE = /1\s*(?=\/)/uy;
const SPACES = /\s*/uy;
/** In a formula a word before a parenthesis is a call (`min(a, b)`), before a point a table: neither is a unit. */
const CALL_OR_COLUMN = /\s*\(|\.\p{L}/uy;
const PREFIXED_POWERS: ReadonlyMap<string, number> = new Map([
  ['sq', 2],
  ['square', 2],
  ['cu', 3],
  ['cubic', 3],
]);

function match(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at;
  return pattern.exec(text);
}

function skipSpaces(text: string, at: number): number {
  SPACES.lastIndex = at;
  SPACES.test(text);
  return SPACES.lastIndex;
}

function readExponent(text: string): number {
  const plain = plainDigits(text.replace(/[()\s]/gu, ''));
  const [above, below] = plain.split('/');
  return Number(above) / Number(below ?? 1);
}

class Scanner<S> {
  readonly text: string;
  readonly resolve: Resolve<S>;
  readonly unknown: Unknown;
  readonly inFormula: boolean;
  ambiguousAt = -1;

  constructor(text: string, resolve: Resolve<S>, inFormula: boolean) {
    this.text = text;
    this.inFormula = inFormula;
    this.resolve = resolve;
    this.unknown = { word: '', at: -1 };
  }

  /** Appends the terms that start at `at` and returns where they end; -1 when there is none. */
  expression(at: number, into: Term<S>[], sign: number, depth: number): number {
    const { text } = this;
    let position = skipSpaces(text, at);
    let end = -1;
    const one = match(LEADING_ONE, text, position);
    if (one !== null) position += one[0].length;
    else if (text[position] !== '/') {
      end = this.factor(position, into, sign, depth);
      if (end < 0) return -1;
      position = end;
    }
    let divided = false;
    for (;;) {
      const next = skipSpaces(text, position);
      const operator = text[next];
      if (operator === undefined || into.length >= MAX_TERMS) return end;
      let reached: number;
      if (operator === '/') {
        reached = this.factor(skipSpaces(text, next + 1), into, -sign, depth);
        divided = true;
      } else if (operator === '*') {
        reached = this.factor(skipSpaces(text, next + 1), into, sign, depth);
      } else {
        const dotted = operator === '·' || operator === '⋅';
        if (!dotted && next === position && text[position - 1] !== ')') return end;
        // `5 ft in m` asks for a conversion; an inch as a factor stands last, or before a sign.
        if (IN_BEFORE_UNIT.test(text.slice(next, next + 5))) return end;
        const after = dotted ? skipSpaces(text, next + 1) : next;
        const size = into.length;
        if (text.startsWith('per ', next)) {
          reached = this.factor(skipSpaces(text, next + 4), into, -sign, depth);
          divided = true;
        } else {
          reached = text[after] === '(' && !dotted ? -1 : this.factor(after, into, sign, depth);
          if (reached >= 0 && divided) {
            into.length = size;
            this.ambiguousAt = next;
            return end;
          }
        }
      }
      if (reached < 0) return end;
      end = position = reached;
    }
  }

  factor(at: number, into: Term<S>[], sign: number, depth: number): number {
    const { text } = this;
    const size = into.length;
    if (text[at] === '(') {
      if (depth >= MAX_DEPTH) return -1;
      const end = this.expression(at + 1, into, sign, depth + 1);
      const close = end < 0 ? -1 : skipSpaces(text, end);
      if (close < 0 || text[close] !== ')') {
        into.length = size;
        return -1;
      }
      const { end: after, power } = this.exponent(close + 1);
      if (power !== 1) {
        for (let i = size; i < into.length; i++) {
          const term = into[i];
          if (term !== undefined) into[i] = { symbol: term.symbol, power: term.power * power };
        }
      }
      return after;
    }
    const found = match(WORD, text, at);
    if (found === null) return -1;
    let word = found[0];
    let end = at + word.length;
    let prefixed = 1;
    const squared = PREFIXED_POWERS.get(word.toLowerCase());
    if (squared !== undefined) {
      const start = skipSpaces(text, end);
      const next = start > end ? match(WORD, text, start) : null;
      if (next !== null) {
        word = next[0];
        end = start + word.length;
        prefixed = squared;
      }
    }
    const pair = this.pair(word, end);
    const isName = pair === undefined && this.isName(end);
    const term = pair?.term ?? (isName ? undefined : this.resolve(word));
    if (pair !== undefined) end = pair.end;
    if (term === undefined) {
      if (at > this.unknown.at) {
        this.unknown.word = word;
        this.unknown.at = end - word.length;
      }
      return -1;
    }
    let power = term.power * prefixed;
    if (power === 1) {
      const exponent = this.exponent(end);
      end = exponent.end;
      power = exponent.power;
    }
    into.push({ symbol: term.symbol, power: power * sign });
    return end;
  }

  isName(end: number): boolean {
    return this.inFormula && match(CALL_OR_COLUMN, this.text, end) !== null;
  }

  /** A unit of two words, `board foot`, `in WC`, which stands in the table with an underscore. */
  pair(word: string, end: number): { term: Term<S>; end: number } | undefined {
    const start = skipSpaces(this.text, end);
    const next = start > end ? match(WORD, this.text, start) : null;
    if (next === null) return undefined;
    const term = this.resolve(`${word}_${next[0]}`);
    const after = start + next[0].length;
    return term === undefined || this.isName(after) ? undefined : { term, end: after };
  }

  exponent(at: number): { end: number; power: number } {
    const caret = match(CARET, this.text, at);
    if (caret !== null) return { end: at + caret[0].length, power: readExponent(caret[1] ?? '1') };
    const high = match(RAISED, this.text, at);
    if (high !== null) return { end: at + high[0].length, power: Number(plainDigits(high[0])) };
    return { end: at, power: 1 };
  }
}

/**
 * The longest unit expression that starts at `at`; `unknown` names the word that stopped the reading, if any. In a
 * formula a word before a parenthesis or a point is a name.
 */
export function scanExpression<S>(
  text: string,
  at: number,
  resolve: Resolve<S>,
  inFormula: boolean,
): { expression?: Expression<S>; unknown: Unknown } {
  const scanner = new Scanner(text, resolve, inFormula);
  const terms: Term<S>[] = [];
  const end = scanner.expression(at, terms, 1, 0);
  if (end < 0 || terms.length === 0) return { unknown: scanner.unknown };
  const { ambiguousAt } = scanner;
  return {
    expression: ambiguousAt < 0 ? { end, terms } : { end, terms, ambiguousAt },
    unknown: scanner.unknown,
  };
}

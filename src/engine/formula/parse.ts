/**
 * Reads a formula into a tree: operator precedence climbing (Pratt, "Top down operator precedence", 1973) over the
 * text itself, so that every node and every message knows its place. The grammar is the closed part of mathjs's
 * that architecture allows; a test holds the two trees against each other for random formulas.
 */
import { isUnitSymbol, miswritten, saidOfHint, scanLiteral } from '../quantity/index.ts';
import { diagnostic, type Diagnostic, type DiagnosticParts } from './diagnostic.ts';
import type { BinaryOperator, Expression } from './expression.ts';
import { CONDITIONAL, NOT, readOperator, SIGN, STRENGTH } from './operator.ts';
import { refusedCharacter, refusedStart, refusedWord } from './refused.ts';

/** `height`: of the tree, which a long sum without any bracket makes as high as it has terms. */
export const LIMITS = { characters: 10_000, depth: 200, nodes: 5_000, height: 500 } as const;

const NAME =
  /[A-Za-z\u00C0-\u00D6\u00D8-\u00F6\u00F8-\u024F\u0370-\u03FF_][A-Za-z0-9\u00C0-\u00D6\u00D8-\u00F6\u00F8-\u024F\u0370-\u03FF_]*/y;

/** With one of these begins a name and no number. */
const LETTER = /[A-Za-z_]/;

/** Thrown inside this file only, to leave the descent; never seen outside. */
class Stop extends Error {
  readonly diagnostic: Diagnostic;
  constructor(d: Diagnostic) {
    super(d.message);
    this.diagnostic = d;
  }
}

export function parse(text: string): Expression | Diagnostic {
  if (text.length > LIMITS.characters)
    return diagnostic(
      'too-long',
      { start: LIMITS.characters, end: text.length },
      'this formula is too long',
      {
        found: `${text.length} characters`,
        expected: `at most ${LIMITS.characters}`,
        suggestion: 'split it over several named cells',
      },
    );
  try {
    return new Parser(text).whole();
  } catch (stop) {
    if (stop instanceof Stop) return stop.diagnostic;
    throw stop;
  }
}

class Parser {
  readonly #text: string;
  #at = 0;
  #depth = 0;
  #nodes = 0;
  /** Of the tree that was read last. */
  #height = 0;

  constructor(text: string) {
    this.#text = text;
  }

  whole(): Expression {
    this.#space();
    if (this.#text[this.#at] === '=' && this.#text[this.#at + 1] !== '=') this.#at++;
    const e = this.#expression(0);
    this.#space();
    if (this.#at < this.#text.length) this.#unexpected();
    return e;
  }

  #fail(code: string, start: number, end: number, message: string, parts: DiagnosticParts = {}): never {
    throw new Stop(diagnostic(code, { start, end }, message, parts));
  }

  #space(): void {
    const text = this.#text;
    for (;;) {
      const c = text.charCodeAt(this.#at);
      if (c === 32 || c === 9 || c === 10 || c === 13 || c === 0xa0 || c === 0x202f) this.#at++;
      else return;
    }
  }

  #node<E extends Expression>(e: E): E {
    if (++this.#nodes > LIMITS.nodes)
      this.#fail('too-big', e.start, e.end, 'this formula has too many parts', {
        expected: `at most ${LIMITS.nodes} numbers, names and operators`,
        suggestion: 'split it over several named cells',
      });
    return e;
  }

  /** A node above others, of which the highest has this height: whoever walks trees may recurse. */
  #above<E extends Expression>(height: number, e: E): E {
    this.#height = height + 1;
    if (this.#height > LIMITS.height)
      this.#fail('too-long-chain', e.start, e.end, 'this formula joins too many values in a row', {
        expected: `at most ${LIMITS.height} operators one after the other`,
        suggestion: 'put the values into a table and write sum(table.column), or split it over several cells',
      });
    return this.#node(e);
  }

  #expression(strength: number): Expression {
    if (++this.#depth > LIMITS.depth)
      this.#fail('too-deep', this.#at, this.#at + 1, 'this formula is nested too deeply', {
        expected: `at most ${LIMITS.depth} levels`,
        suggestion: 'give the inner part a cell of its own',
      });
    let left = this.#operand();
    for (;;) {
      const height = this.#height;
      this.#space();
      const at = this.#at;
      const operator = this.#operator();
      if (operator === undefined) break;
      if (operator === '?') {
        if (CONDITIONAL < strength) {
          this.#at = at;
          break;
        }
        left = this.#conditional(left);
        continue;
      }
      const power = STRENGTH[operator];
      if (power < strength) {
        this.#at = at;
        break;
      }
      // `^` groups to the right, all else to the left; a sign may follow `^`.
      const right = this.#expression(operator === '^' ? SIGN : power + 1);
      if (power === 5) this.#refuseChain(right);
      left = this.#above(Math.max(height, this.#height), {
        kind: 'binary',
        operator,
        left,
        right,
        start: left.start,
        end: right.end,
      });
    }
    this.#depth--;
    return left;
  }

  #refuseChain(right: Expression): void {
    this.#space();
    const at = this.#at;
    const next = this.#operator();
    if (next !== undefined && next !== '?' && STRENGTH[next] === 5)
      this.#fail('chained-comparison', at, at + next.length, 'comparisons cannot be chained', {
        found: `${next} after a comparison`,
        suggestion: `join two comparisons with "and": … and ${this.#text.slice(right.start, right.end)} ${next} …`,
      });
    this.#at = at;
  }

  #conditional(condition: Expression): Expression {
    let height = this.#height;
    const then = this.#expression(CONDITIONAL);
    height = Math.max(height, this.#height);
    this.#space();
    if (this.#text[this.#at] !== ':')
      this.#fail('missing-else', this.#at, this.#at + 1, 'the second half of "? :" is missing', {
        expected: 'condition ? value if yes : value if no',
      });
    this.#at++;
    const otherwise = this.#expression(CONDITIONAL);
    return this.#above(Math.max(height, this.#height), {
      kind: 'conditional',
      condition,
      then,
      otherwise,
      start: condition.start,
      end: otherwise.end,
    });
  }

  /** Reads a binary operator or `?`; leaves the place unchanged when there is none. */
  #operator(): BinaryOperator | '?' | undefined {
    const found = readOperator(this.#text, this.#at);
    if (found === undefined) return undefined;
    if ('refused' in found) {
      if (found.refused === '**')
        this.#fail('power', this.#at, this.#at + 2, 'powers are written with ^', { replacement: '^' });
      this.#refuse();
    }
    this.#at += found.length;
    return found.operator;
  }

  #word(at: number): string | undefined {
    NAME.lastIndex = at;
    return NAME.test(this.#text) ? this.#text.slice(at, NAME.lastIndex) : undefined;
  }

  #operand(): Expression {
    this.#space();
    const text = this.#text;
    const start = this.#at;
    const c = text[start];
    this.#height = 0;
    if (c === undefined) this.#missing(start);
    if (c === '(') {
      this.#at++;
      const inner = this.#expression(0);
      this.#space();
      if (text[this.#at] !== ')') {
        if (this.#at < text.length) this.#unexpected();
        this.#fail('unclosed', start, start + 1, 'this bracket is never closed', { suggestion: 'add )' });
      }
      this.#at++;
      return { ...inner, start, end: this.#at };
    }
    if (c === '-' || c === '−' || c === '–' || c === '+') {
      this.#at++;
      const operand = this.#expression(SIGN);
      if (c === '+') return operand;
      return this.#above(this.#height, { kind: 'unary', operator: '-', operand, start, end: operand.end });
    }
    if (c === '"') return this.#quoted(start);
    const literal = LETTER.test(c) ? undefined : scanLiteral(text, start);
    if (literal) {
      this.#at = literal.end;
      if ('problem' in literal)
        this.#fail(
          'literal',
          start,
          literal.end,
          literal.problem,
          literal.suggestion === undefined ? {} : { suggestion: literal.suggestion },
        );
      return this.#node({ kind: 'literal', literal: literal.literal, start, end: literal.end });
    }
    const word = this.#word(start);
    if (word === undefined) {
      if ('*/^<>=?:,)×÷'.includes(c) && !/^(?:\?\?|\/[/*])/.test(text.slice(start, start + 2)))
        this.#missing(start);
      this.#refuse();
    }
    return this.#named(word, start);
  }

  #named(word: string, start: number): Expression {
    const text = this.#text;
    this.#at = start + word.length;
    if (word === 'not') {
      const operand = this.#expression(NOT);
      return this.#above(this.#height, { kind: 'unary', operator: 'not', operand, start, end: operand.end });
    }
    if (word === 'true' || word === 'false')
      return this.#node({ kind: 'logical', value: word === 'true', start, end: this.#at });
    if ((word === 'and' || word === 'or') && text[this.#at] !== '(') this.#missing(start);
    const refused = refusedStart(word, text, this.#at);
    if (refused) this.#fail(refused.code, start, this.#at, refused.message, refused.parts);
    this.#space();
    if (text[this.#at] === '(') return this.#fields(this.#call(word, start));
    this.#at = start + word.length;
    const parts = [word];
    while (text[this.#at] === '.') {
      const part = this.#word(this.#at + 1);
      if (part === undefined) break;
      parts.push(part);
      this.#at += 1 + part.length;
    }
    if (parts.length > 1 && text[this.#at] === '(')
      this.#fail('method', start, this.#at, 'functions are not called through a name with a dot', {
        suggestion: `write ${parts[parts.length - 1] ?? ''}(${parts.slice(0, -1).join('.')}, …) if there is such a function`,
      });
    return this.#node({ kind: 'path', parts, start, end: this.#at });
  }

  #fields(e: Expression): Expression {
    let object = e;
    while (this.#text[this.#at] === '.') {
      const field = this.#word(this.#at + 1);
      if (field === undefined) break;
      this.#at += 1 + field.length;
      object = this.#above(this.#height, { kind: 'field', object, field, start: e.start, end: this.#at });
    }
    return object;
  }

  #call(name: string, start: number): Expression {
    const text = this.#text;
    const nameEnd = start + name.length;
    const open = this.#at++;
    const list: Expression[] = [];
    let height = 0;
    this.#space();
    if (text[this.#at] === ')') this.#at++;
    else
      for (;;) {
        list.push(this.#expression(0));
        height = Math.max(height, this.#height);
        this.#space();
        const c = text[this.#at];
        if (c === ',') {
          this.#at++;
          continue;
        }
        if (c === ')') {
          this.#at++;
          break;
        }
        if (c === undefined)
          this.#fail('unclosed', open, open + 1, 'this bracket is never closed', { suggestion: 'add )' });
        this.#unexpected();
      }
    return this.#above(height, { kind: 'call', name, nameEnd, arguments: list, start, end: this.#at });
  }

  #quoted(start: number): Expression {
    const end = this.#text.indexOf('"', start + 1);
    if (end < 0)
      this.#fail('unclosed-text', start, this.#text.length, 'this text is never closed', {
        suggestion: 'end it with "',
      });
    this.#at = end + 1;
    return this.#node({ kind: 'text', value: this.#text.slice(start + 1, end), start, end: end + 1 });
  }

  #missing(at: number): never {
    const before = this.#text.slice(0, at).trimEnd();
    const last = /(?:[-+*/^<>=?:,(×÷−]|\b(?:and|or|not))$/.exec(before)?.[0];
    this.#fail(
      'missing-value',
      Math.min(at, this.#text.length),
      at + 1,
      last === undefined ? 'a value is missing here' : `a value is missing after ${last}`,
      { expected: 'a number, a name or a bracket' },
    );
  }

  /** Something stands where an operator should. */
  #unexpected(): never {
    const text = this.#text;
    const at = this.#at;
    const c = text[at] ?? '';
    if (c === ')')
      this.#fail('unopened', at, at + 1, 'this bracket was never opened', {
        suggestion: 'delete it',
        replacement: '',
      });
    if (c === ',')
      this.#fail('comma', at, at + 1, 'a comma separates arguments and stands only inside a call', {
        suggestion: 'write large numbers without commas, decimals with a point',
      });
    const word = this.#word(at);
    if (word !== undefined) {
      const refused = refusedWord(word, text.slice(at + word.length));
      if (refused) this.#fail(refused.code, at, at + word.length, refused.message, refused.parts);
      if (isUnitSymbol(word))
        this.#fail(
          'loose-unit',
          at,
          at + word.length,
          `the unit ${word} must stand directly after a number`,
          {
            suggestion: 'give the cell a unit instead, or multiply by 1 of it',
            replacement: `* 1 ${word}`,
          },
        );
      const afterNumber = /\d$/.test(text.slice(0, at).trimEnd());
      const hint = afterNumber ? miswritten(word) : undefined;
      this.#fail('no-operator', at, at + word.length, `an operator is missing before ${word}`, {
        suggestion: !afterNumber
          ? 'to multiply, write *'
          : hint === undefined
            ? `${word} is not a unit; to multiply, write *`
            : `${saidOfHint(hint)}${hint.note === undefined ? ' To' : '; to'} multiply, write *`,
        replacement: hint?.write ?? `* ${word}`,
      });
    }
    if (c === '(' || c === '"' || /^\.?\d/.test(text.slice(at, at + 2)))
      this.#fail('no-operator', at, at + 1, 'an operator is missing here', {
        suggestion: 'to multiply, write *',
        replacement: `* ${c}`,
      });
    this.#refuse();
  }

  #refuse(): never {
    const refused = refusedCharacter(this.#text, this.#at);
    this.#fail(refused.code, this.#at, this.#at + refused.length, refused.message, refused.parts);
  }
}

/** The text of a unit, alone or in the middle of a formula. */
import { scanExpression } from './unit-expression.ts';
import type { Unknown } from './unit-expression.ts';
import { saidOfHint, unitHint } from './unit-hints.ts';
import { composeUnit, isInformation, PLAIN, resolveWord } from './unit.ts';
import type { Unit, UnitTerms } from './unit.ts';

export interface UnitProblem {
  readonly problem: string;
  readonly at: number;
  readonly suggestion?: string;
}

interface Parsed {
  readonly unit: Unit;
  readonly terms: UnitTerms;
}

const parsed = new Map<string, Parsed | UnitProblem>();

/** Said where nothing better can be. */
export const UNIT_EXAMPLES = 'a unit is written as ft, in, m2, L/s, Pa or 1/h';

function unknownUnit(text: string, unknown: Unknown): UnitProblem {
  const { word, at } = unknown;
  if (word === '') {
    const hint = unitHint(text) ?? unitHint(text.slice(0, 1));
    return {
      problem: `'${text}' is not a unit`,
      at: 0,
      suggestion: hint === undefined ? UNIT_EXAMPLES : saidOfHint(hint),
    };
  }
  if (isInformation(word)) {
    return { problem: `'${word}' is a unit of information, which this workbook does not calculate with`, at };
  }
  const hint = unitHint(word);
  const suggestion = hint === undefined ? UNIT_EXAMPLES : saidOfHint(hint);
  return { problem: `unknown unit '${word}'`, at, suggestion };
}

function ambiguous(text: string, at: number): UnitProblem {
  return {
    problem: `'${text}' can be read in two ways after the division`,
    at,
    suggestion: `put what is divided by in parentheses, for instance ${divided(text) ?? 'W/(m2 K)'}`,
  };
}

/** `Btu/h-ft2-F` as it can be read: Btu/(h ft2 degF). Nothing where that is no unit either. */
function divided(text: string): string | undefined {
  const apart = text
    .replace(/\s*(?:[-–•×]|\.(?!\d))\s*/gu, ' ')
    .replace(/(?<=\p{L}[23²³])(?=\p{L})/gu, ' ')
    .replace(/(?<![\p{L}°˚º])(?=[FC](?!\p{L}))/gu, 'deg');
  const [above = '', ...below] = apart.split('/');
  const under = below.join(' ').replace(/[()]/gu, '').replace(/[*·⋅]/gu, ' ').trim();
  const written = under === '' ? above.trim() : `${above.trim()}/${/\s/u.test(under) ? `(${under})` : under}`;
  const { expression } = scanExpression(written, 0, resolveWord, false);
  return expression?.end === written.length && expression.ambiguousAt === undefined ? written : undefined;
}

/**
 * The points of abbreviations are left out: `sq. ft.`, `in. w.c.`. A point between two units is none of these, and
 * one before a digit is a decimal one.
 */
export function withoutPoints(text: string): string {
  if (!text.includes('.')) return text;
  return text
    .replace(/(?<=\bin\.?\s?)w\.?\s?([cg])\b\.?/giu, ' w$1')
    .replace(/\b(sq|cu|bd|lin)\.\s*(?=\p{L})/giu, '$1 ')
    .replace(/(?<=\p{L})\.(?=[\s/)*·]|$)/gu, '');
}

function readWhole(written: string): Parsed | UnitProblem {
  const text = withoutPoints(written);
  if (text === '' || text === '1') return { unit: PLAIN, terms: [] };
  const { expression, unknown } = scanExpression(text, 0, resolveWord, false);
  if (expression === undefined) return unknownUnit(text, unknown);
  if (expression.ambiguousAt !== undefined) return ambiguous(text, expression.ambiguousAt);
  if (expression.end !== text.length) {
    const meant = divided(text);
    const unread = unknown.at >= expression.end && !/[23²³]\p{L}/u.test(unknown.word);
    if (unread && (meant === undefined || unknown.word.length > 1)) return unknownUnit(text, unknown);
    return {
      problem: `'${text.slice(expression.end).trim()}' is not part of a unit`,
      at: expression.end,
      suggestion:
        meant === undefined
          ? `for instance ${composeUnit(text, expression.terms).symbol}`
          : `did you mean ${meant}?`,
    };
  }
  return { unit: composeUnit(written, expression.terms), terms: expression.terms };
}

/** The unit with the symbols of which it is made; used to find its counterpart. */
export function parseTerms(text: string): Parsed | UnitProblem {
  const trimmed = text.trim();
  const known = parsed.get(trimmed);
  if (known !== undefined) return known;
  const result =
    trimmed.length > 200 ? { problem: 'this unit is too long to read', at: 200 } : readWhole(trimmed);
  if (parsed.size < 20_000) parsed.set(trimmed, result);
  return result;
}

/**
 * 'm3/h', 'Btu/(h ft2 degF)', '1/h', 'sq ft'; '' and '1' are the plain number. Symbols mean what they mean in SI:
 * 'F' is the farad and 'C' the coulomb; that degrees were meant only the place where it stands can tell.
 */
export function parseUnit(text: string): Unit | UnitProblem {
  const result = parseTerms(text);
  return 'unit' in result ? result.unit : result;
}

const MAY_START = /[\p{L}°˚%$℃℉Δ(/1]/u;

/** A letter, or one of the few signs with which a unit may start. */
function mayStart(sign: string): boolean {
  if (sign >= 'a' && sign <= 'z') return true;
  return (sign > '~' || '%$(/1'.includes(sign) || (sign >= 'A' && sign <= 'Z')) && MAY_START.test(sign);
}

const SINGLE_WORD = /[A-Za-z]+[234]?(?=\s*(?:$|[-+),?:<>=!±]))/uy;

/** The longest unit that starts at `at`, after optional spaces; stops where no unit follows. */
export function scanUnit(
  text: string,
  at: number,
): { end: number; unit: Unit; ambiguous?: true } | undefined {
  let start = at;
  while (text[start] === ' ') start++;
  const first = text[start];
  if (first === undefined || !mayStart(first)) return undefined;
  // Most units are one word with nothing behind that could belong to them.
  SINGLE_WORD.lastIndex = start;
  const word = SINGLE_WORD.exec(text)?.[0];
  const single = word === undefined ? undefined : parsed.get(word);
  if (word !== undefined && single !== undefined && 'unit' in single) {
    return { end: start + word.length, unit: single.unit };
  }
  const { expression } = scanExpression(text, start, resolveWord, true);
  if (expression === undefined) return undefined;
  const written = (first === '/' ? '1' : '') + text.slice(start, expression.end);
  let found = parsed.get(written);
  if (found === undefined || !('unit' in found)) {
    found = { unit: composeUnit(written, expression.terms), terms: expression.terms };
    if (parsed.size < 20_000) parsed.set(written, found);
  }
  const { unit } = found;
  return expression.ambiguousAt === undefined
    ? { end: expression.end, unit }
    : { end: expression.end, unit, ambiguous: true };
}

/** Numbers as people write them: decimals, powers of ten, fractions, commas. */

import { plainDigits } from './superscript.ts';

export interface ScannedNumber {
  readonly end: number;
  readonly value: number;
  /** Power of ten of the last written place: what `20.0(5)` counts in. */
  readonly lastPlace: number;
}

const WITH_TENS = /(\d*(?:\.(\d*))?)(?:[eE]([+\-−]?\d+)|\s?[×·]\s?10([⁻⁺]?[⁰¹²³⁴-⁹]+|\^[+\-−]?\d+))/uy;

function tenPower(text: string): number {
  return Number(plainDigits(text).replace('^', ''));
}

function skipDigits(text: string, at: number): number {
  let end = at;
  for (let code = text.charCodeAt(end); code >= 48 && code <= 57; code = text.charCodeAt(end)) end++;
  return end;
}

/** An unsigned number that starts at `at`. Formulas are full of plain ones, so those are read without a pattern. */
export function scanNumber(text: string, at: number): ScannedNumber | undefined {
  const point = skipDigits(text, at);
  const hasPoint = text[point] === '.';
  const end = hasPoint ? skipDigits(text, point + 1) : point;
  if (end === at || (hasPoint && end === at + 1)) return undefined;
  const next = text[end];
  const mayHaveTens =
    next === 'e' || next === 'E' || isTimes(next) || (isSpace(next) && isTimes(text[end + 1]));
  const withTens = mayHaveTens ? scanTens(text, at) : undefined;
  if (withTens !== undefined) return withTens;
  return { end, value: Number(text.slice(at, end)), lastPlace: hasPoint ? point + 1 - end : 0 };
}

function isTimes(sign: string | undefined): boolean {
  return sign === '×' || sign === '·';
}

export function isSpace(sign: string | undefined): boolean {
  return sign === ' ' || (sign !== undefined && (sign < ' ' || sign > '~') && /\s/u.test(sign));
}

function scanTens(text: string, at: number): ScannedNumber | undefined {
  WITH_TENS.lastIndex = at;
  const found = WITH_TENS.exec(text);
  if (found === null) return undefined;
  const [whole, mantissa = '0', decimals = '', exponent, raisedExponent] = found;
  const tens = tenPower(exponent ?? raisedExponent ?? '0');
  const value = Number(`${mantissa}e${String(tens)}`);
  return { end: at + whole.length, value, lastPlace: tens - decimals.length };
}

const FRACTIONS: Readonly<Record<string, number>> = {
  '½': 1 / 2,
  '⅓': 1 / 3,
  '⅔': 2 / 3,
  '¼': 1 / 4,
  '¾': 3 / 4,
  '⅕': 1 / 5,
  '⅖': 2 / 5,
  '⅗': 3 / 5,
  '⅘': 4 / 5,
  '⅙': 1 / 6,
  '⅚': 5 / 6,
  '⅐': 1 / 7,
  '⅛': 1 / 8,
  '⅜': 3 / 8,
  '⅝': 5 / 8,
  '⅞': 7 / 8,
  '⅑': 1 / 9,
  '⅒': 1 / 10,
};

const SIGNS = Object.keys(FRACTIONS).join('');

/** Source of a pattern: "5/8", "½". */
export const FRACTION = `(?:\\d+[/⁄]\\d+|[${SIGNS}])`;

/** Source of a pattern: "3 5/8", "3-5/8", "3½", "5/8". */
export const MIXED = `(?:\\d+(?:\\s*[${SIGNS}]|(?:\\s+|-)\\d+[/⁄]\\d+)|${FRACTION})`;

/** Source of a pattern: a mixed number or a decimal. */
export const MEASURE = `(?:${MIXED}|\\d+(?:\\.\\d*)?|\\.\\d+)`;

/** The value of a text that fits MEASURE; NaN where something is divided by 0. */
export function measureValue(text: string): number {
  const quotient = /(\d+)[/⁄](\d+)$/u.exec(text);
  const sign = quotient === null ? FRACTIONS[text.at(-1) ?? ''] : undefined;
  if (quotient === null && sign === undefined) return Number(text);
  const part = quotient === null ? (sign ?? 0) : Number(quotient[1]) / Number(quotient[2]);
  const whole = quotient === null ? text.slice(0, -1) : text.slice(0, quotient.index);
  const result = Number(/^\d*/u.exec(whole)?.[0] ?? 0) + part;
  return Number.isFinite(result) ? result : NaN;
}

export interface CommaProblem {
  readonly problem: string;
  readonly suggestion: string;
}

/** A comma behind the last digit is one between words. */
const WITH_COMMAS = /\d(?:[\d,]*\d)?(?:\.(?:[\d,.]*\d)?)?/gu;
const THOUSANDS = /^[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?$/u;

/**
 * Takes thousands commas out of an entry; a comma that may be a decimal one is a problem, never a guess. `minus` is
 * the sign that was taken off before the text.
 */
export function withoutCommas(text: string, minus = ''): string | CommaProblem {
  if (!text.includes(',')) return text;
  let problem: CommaProblem | undefined;
  const plain = text.replace(WITH_COMMAS, (written, at: number) => {
    if (!written.includes(',')) return written;
    if (THOUSANDS.test(written)) return written.replaceAll(',', '');
    const decimalComma = /^(\d+(?:\.\d{3})*),(\d+)$/u.exec(written);
    const suggestion =
      decimalComma === null
        ? 'leave the commas out, or set them between thousands as in 12,345.6'
        : `type ${at === 0 ? minus : ''}${(decimalComma[1] ?? '').replaceAll('.', '')}.${decimalComma[2] ?? ''}, with a point before the decimals`;
    problem ??= { problem: `'${written}' has a comma that does not separate thousands`, suggestion };
    return written;
  });
  return problem ?? plain;
}

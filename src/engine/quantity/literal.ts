/**
 * One measured value in a text: a number with its ± and unit, or feet, inches and fractions. It has no sign of its
 * own; whoever reads a sign passes it in, because −2' 6" is −30 in and −5 °C is a reading.
 */
import { describeDimension } from './dimension.ts';
import type { Place } from './feet-inches.ts';
import { scanFeetInches } from './feet-inches.ts';
import { isSpace, MIXED, measureValue, scanNumber } from './number-text.ts';
import { parseUnit, scanUnit } from './unit-text.ts';
import { toSI } from './unit.ts';
import type { Unit } from './unit.ts';

export interface Literal {
  /** In its unit, before SI. */
  readonly value: number;
  readonly si: number;
  readonly unit: Unit | undefined;
  /** Half width as typed, in SI; a relative one is already multiplied. */
  readonly plusMinus?: number;
  readonly form: 'number' | 'feet-inches';
}

export interface LiteralOptions {
  /** The place is a length: `5-3-5/8` and `5 3 5/8` are feet and inches. */
  readonly feetInches?: boolean;
  /** A minus stands before the literal. */
  readonly negative?: boolean;
  /** The unit of the place, which a bare number takes; it makes `45 ± 2 %` in a percent entry absolute. */
  readonly unit?: Unit | undefined;
  /** The text is a whole entry, not part of a formula: `1 1/2 h` is one number. */
  readonly entry?: boolean;
}

export interface LiteralProblem {
  readonly end: number;
  readonly problem: string;
  readonly suggestion?: string;
}

export type LiteralScan = { readonly end: number; readonly literal: Literal } | LiteralProblem;

/** A number with a unit, before its ±. */
interface Amount {
  readonly end: number;
  readonly value: number;
  readonly unit: Unit | undefined;
  /** What a bare ± counts in. */
  readonly last: Unit | undefined;
  readonly form: 'number' | 'feet-inches';
  /** Total inches of a feet-inch form, kept because they are exact where feet are not. */
  readonly inches?: number;
  /** The ± of `20.0(5)`, in the amount's unit. */
  readonly spread?: number;
  readonly ambiguous?: true;
}

const PLUS_MINUS = /\s*(?:±|\+\/?[-−])\s*/uy;
const PARENTHESES = /\((\d+)\)(?:[eE]([+\-−]?\d+))?/uy;
const PERCENT = /\s*(?:%|percent(?![\p{L}\p{N}_]))/uy;
const MIXED_NUMBER = new RegExp(MIXED, 'uy');

function metres(inches: number): number {
  return toSI(inches, known('in'));
}

function match(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at;
  return pattern.exec(text);
}

function known(text: string): Unit {
  const unit = parseUnit(text);
  if ('problem' in unit) throw new Error(unit.problem);
  return unit;
}

/** What may follow a number inside a feet-inch form; looked at first because most numbers are followed by others. */
const FEET_INCHES_GO_ON = /['′’‘"″”“½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒/⁄\-\d]/u;
const FEET_WITH_INCHES = /(?:feet|foot|ft)(?:\s+[\d.½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒]|[\d.])/uy;

/** Letters and most operators are excluded by one comparison. */
function mayGoOn(sign: string): boolean {
  return (sign < '0' || sign > '~' || sign <= '9') && FEET_INCHES_GO_ON.test(sign);
}

function skipSpaces(text: string, at: number): number {
  let next = at;
  while (isSpace(text[next])) next++;
  return next;
}

function scanFeetInchAmount(
  text: string,
  at: number,
  after: number,
  options: LiteralOptions,
): Amount | undefined {
  const next = skipSpaces(text, after);
  const sign = text[next];
  if (sign === undefined) return undefined;
  if (sign === 'f' ? match(FEET_WITH_INCHES, text, next) === null : !mayGoOn(sign)) return undefined;
  const place: Place = options.feetInches ? 'length entry' : options.entry ? 'entry' : 'formula';
  const found = scanFeetInches(text, at, place);
  if (found === undefined || Number.isNaN(found.inches)) return undefined;
  const { end, inches } = found;
  const value = found.unit === 'ft' ? inches / 12 : inches;
  return { end, value, unit: known(found.unit), last: known(found.last), form: 'feet-inches', inches };
}

function withUnit(text: string, at: number, value: number, spread: number | undefined): Amount {
  const found = scanUnit(text, at);
  const unit = found?.unit;
  return {
    end: found?.end ?? at,
    value,
    unit,
    last: unit,
    form: 'number',
    ...(spread === undefined ? {} : { spread }),
    ...(found?.ambiguous === undefined ? {} : { ambiguous: true }),
  };
}

function scanAmount(text: string, at: number, options: LiteralOptions): Amount | undefined {
  const number = scanNumber(text, at);
  const feetInches = scanFeetInchAmount(text, at, number?.end ?? at, options);
  if (feetInches !== undefined) return feetInches;
  if (options.entry) {
    const mixed = match(MIXED_NUMBER, text, at);
    const value = mixed === null ? NaN : measureValue(mixed[0]);
    if (mixed !== null && !Number.isNaN(value)) return withUnit(text, at + mixed[0].length, value, undefined);
  }
  if (number === undefined) return undefined;
  let { end, value } = number;
  let lastPlace = 10 ** number.lastPlace;
  const digits = text[end] === '(' ? match(PARENTHESES, text, end) : null;
  if (digits === null) return withUnit(text, end, value, undefined);
  end += digits[0].length;
  if (digits[2] !== undefined) {
    const scale = `e${digits[2].replace('−', '-')}`;
    lastPlace *= Number(`1${scale}`);
    value = Number(`${String(value)}${scale}`);
  }
  return withUnit(text, end, value, Number(digits[1]) * lastPlace);
}

function problem(end: number, message: string, suggestion?: string): LiteralProblem {
  return suggestion === undefined ? { end, problem: message } : { end, problem: message, suggestion };
}

/** The literal of an amount in `unit`, its own or that of the place; `half` is the ± in SI. */
function finish(
  amount: Amount,
  end: number,
  unit: Unit | undefined,
  half: number | undefined,
  negative: boolean,
): LiteralScan {
  // `+ 0` because a typed -0 is 0.
  const value = (negative ? -amount.value : amount.value) + 0;
  const size = (negative ? -(amount.inches ?? 0) : (amount.inches ?? 0)) + 0;
  const si = amount.inches === undefined ? (unit === undefined ? value : toSI(value, unit)) : metres(size);
  if (!Number.isFinite(si) || (half !== undefined && !Number.isFinite(half))) {
    return problem(end, 'this number is too large to calculate with');
  }
  const { form } = amount;
  return {
    end,
    literal: half === undefined ? { value, si, unit, form } : { value, si, unit, plusMinus: half, form },
  };
}

function relative(
  amount: Amount,
  end: number,
  unit: Unit | undefined,
  percent: number,
  negative: boolean,
): LiteralScan {
  if (unit?.reading) {
    return problem(
      end,
      'a percentage of a temperature reading depends on the scale and means nothing',
      `write the ± in degrees: ${String(amount.value)} ± 0.5 ${unit.symbol}`,
    );
  }
  const size = amount.inches === undefined ? amount.value * (unit?.factor ?? 1) : metres(amount.inches);
  return finish(amount, end, unit, (Math.abs(size) * percent) / 100, negative);
}

/** After `±`: a number, a percentage, or an amount with its own unit. */
function scanPlusMinus(text: string, at: number, amount: Amount, options: LiteralOptions): LiteralScan {
  const negative = options.negative ?? false;
  const place = amount.unit ?? options.unit;
  const number = scanNumber(text, at);
  const percent = number === undefined ? null : match(PERCENT, text, number.end);
  if (number !== undefined && percent !== null) {
    const end = number.end + percent[0].length;
    const percentUnit = known('%');
    if (place?.symbol === percentUnit.symbol) {
      return finish(amount, end, place, number.value * percentUnit.factor, negative);
    }
    const following = scanUnit(text, end);
    if (amount.unit === undefined && following !== undefined) {
      const { symbol } = following.unit;
      return problem(
        following.end,
        `in '± ${text.slice(at, following.end)}' the percent and the unit cannot both belong to the ±`,
        `write ${String(amount.value)} ${symbol} ± ${String(number.value)} %`,
      );
    }
    return relative(amount, end, place, number.value, negative);
  }
  // After feet and inches, `± 1/16` is a fraction of an inch even inside a formula.
  const inLengths = amount.form === 'feet-inches';
  const half = scanAmount(text, at, inLengths ? { ...options, entry: true, feetInches: false } : options);
  if (half === undefined) {
    return problem(
      at,
      'after ± a positive number has to follow',
      'for instance 20.0 ± 0.5 Pa, or 20.0 Pa ± 2 %',
    );
  }
  if (half.ambiguous) return ambiguousUnit(half.end);
  if (half.spread !== undefined) return problem(half.end, 'a ± cannot have a ± of its own');
  const unit = amount.unit ?? half.unit ?? options.unit;
  const halfUnit = half.unit ?? amount.last ?? unit;
  if (halfUnit !== undefined && unit !== undefined && halfUnit.dimension !== unit.dimension) {
    return problem(
      half.end,
      `the value is in ${unit.symbol || 'plain numbers'} (${describeDimension(unit.dimension)}), ` +
        `its ± in ${halfUnit.symbol || 'plain numbers'} (${describeDimension(halfUnit.dimension)})`,
      unit.symbol === '' ? undefined : `give the ± in ${unit.symbol}, or in %`,
    );
  }
  const si = half.inches === undefined ? half.value * (halfUnit?.factor ?? 1) : metres(half.inches);
  return finish(amount, half.end, unit, si, negative);
}

function ambiguousUnit(end: number): LiteralProblem {
  return problem(
    end,
    'this unit can be read in two ways after the division',
    'put what is divided by in parentheses, for instance W/(m2 K)',
  );
}

/**
 * The literal that starts at `at` with a digit, a decimal point or a fraction sign; undefined where none does.
 * In a formula `+-` and `+/-` are ±, too.
 */
export function scanLiteral(text: string, at: number, options: LiteralOptions = {}): LiteralScan | undefined {
  const amount = scanAmount(text, at, options);
  if (amount === undefined) return undefined;
  if (amount.ambiguous) return ambiguousUnit(amount.end);
  const next = text[skipSpaces(text, amount.end)];
  const plusMinus = next === '±' || next === '+' ? match(PLUS_MINUS, text, amount.end) : null;
  if (plusMinus !== null) {
    const after = amount.end + plusMinus[0].length;
    if (amount.spread === undefined) return scanPlusMinus(text, after, amount, options);
    return problem(after, 'this value has two ±', 'keep one of them: 20.0(5) already means 20.0 ± 0.5');
  }
  const unit = amount.unit ?? options.unit;
  const half = amount.spread === undefined ? undefined : amount.spread * (unit?.factor ?? 1);
  return finish(amount, amount.end, unit, half, options.negative ?? false);
}

/**
 * Numbers inside the words that a function writes. Who writes them knows neither the language nor the units of the
 * screen, and who shows them cannot tell a number from “R402.4.1” or from what a person typed. So a number is marked
 * where it is written, and the engine takes the marks out where it takes the words over: the text is plain from then
 * on, for whoever compares, searches or exports it, and beside it stands where its numbers are.
 */
import { formatFeetInches, formatNumber, formatQuantity } from './format.ts';
import { parseUnit } from './unit-text.ts';
import { fromSI } from './unit.ts';

/** From and to, in characters of the plain text. */
export interface Stretch {
  readonly start: number;
  readonly end: number;
}

export interface Words {
  readonly text: string;
  /** Where its numbers stand, each with its unit where that was written with it; undefined where it has none. */
  readonly numerals?: readonly Stretch[];
}

/** Unicode keeps these two for the inner use of a program: no text from elsewhere has them. */
const OPEN = '\uFDD0';
const CLOSE = '\uFDD1';
const MARKS = /[\uFDD0\uFDD1]/gu;
/** Digits of a number without declared places: taking off a baseline shows no rounding noise. */
const DIGITS = 6;

/** A number or a quantity in words, as it stands here: `written('0.05 in')`. */
export function written(text: string): string {
  return OPEN + text + CLOSE;
}

function placesOf(value: number): number {
  return (String(Number(value.toPrecision(DIGITS))).split('.')[1] ?? '').length;
}

/** A number in words: with so many decimals, else with six digits at most. */
export function numeral(value: number, places = placesOf(value)): string {
  return written(formatNumber(value, { places }).value);
}

/** An SI value in words, in the unit that it is told in where no other is asked for. */
export function quantityInWords(si: number, unitText: string, places?: number): string {
  const unit = parseUnit(unitText);
  if ('problem' in unit) throw new Error(unit.problem);
  const { value, unit: symbol } = formatQuantity(si, unit, { places: places ?? placesOf(fromSI(si, unit)) });
  return written(`${value} ${symbol}`);
}

/** A length in words, as on a tape. */
export function lengthInWords(metres: number): string {
  return written(formatFeetInches(metres));
}

/** The plain text of words with marks, and where its numbers stand. */
export function plainWords(words: string): Words {
  if (!words.includes(OPEN)) return { text: words };
  const numerals: Stretch[] = [];
  let text = '';
  for (const piece of words.split(OPEN)) {
    const end = piece.indexOf(CLOSE);
    if (end > 0) numerals.push({ start: text.length, end: text.length + end });
    text += piece.replace(MARKS, '');
  }
  return { text, numerals };
}

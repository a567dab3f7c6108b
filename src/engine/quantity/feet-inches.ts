/**
 * Lengths as they stand on a tape and on a drawing: 5' 3 5/8", 63 5/8", 5ft 3-5/8in, 5-3-5/8. A form of reading and
 * writing only; the unit stays the foot or the inch.
 */
import { MEASURE, measureValue, MIXED } from './number-text.ts';

export interface FeetInches {
  readonly end: number;
  readonly inches: number;
  /** The largest unit written, in which the value is given. */
  readonly unit: 'ft' | 'in';
  /** The last unit written, which a bare ± takes. */
  readonly last: 'ft' | 'in';
}

/** In a formula `5' - 3"` is a difference, and only `5'-3"`, as on drawings, a length; an entry has no differences. */
export type Place = 'formula' | 'entry' | 'length entry';

const FOOT_MARK = `['′’‘](?!['′’‘])`;
const INCH_MARK = `(?:["″”“]|''|′′|’’)`;
const INCH_WORD = `(?:inches|inch|in)(?![\\p{L}\\p{N}_^*/·]|\\s*[\\^²³])`;

function pattern(source: string): RegExp {
  return new RegExp(source, 'uy');
}

const FEET_MARKED = {
  formula: pattern(`(${MEASURE})${FOOT_MARK}(?:(?:\\s*|-)(${MEASURE})${INCH_MARK})?`),
  entry: pattern(
    `(${MEASURE})\\s*${FOOT_MARK}(?:\\s*-?\\s*(${MEASURE})(?:\\s*${INCH_MARK}|\\s*${INCH_WORD}|(?=\\s*(?:$|[±+]))))?`,
  ),
};
const INCHES_MARKED = {
  formula: pattern(`(${MEASURE})${INCH_MARK}`),
  entry: pattern(`(${MEASURE})\\s*${INCH_MARK}`),
};
const FEET = `(${MEASURE})\\s*(?:feet|foot|ft)(?:\\s+|(?=[\\d./]+in))(${MEASURE})`;
const FEET_WORD = {
  formula: pattern(`${FEET}(?:\\s*${INCH_WORD}|${INCH_MARK})`),
  entry: pattern(`${FEET}(?:\\s*${INCH_WORD}|${INCH_MARK}|(?=\\s*(?:$|[±+])))`),
};
const INCHES_WORD = pattern(`(${MIXED})\\s*${INCH_WORD}`);
const DASHED = pattern(`(\\d+)-(\\d+)-(\\d+[/⁄]\\d+|0)(?:\\s*${INCH_MARK})?(?![\\d/.])`);
const SPACED = pattern(`(\\d+)\\s+(\\d+(?:\\s+\\d+[/⁄]\\d+)?)(?=\\s*(?:$|[±+)]))`);

function match(expression: RegExp, text: string, at: number): RegExpExecArray | null {
  expression.lastIndex = at;
  return expression.exec(text);
}

function feetAndInches(found: RegExpExecArray, at: number): FeetInches {
  const [whole, feet, inches] = found;
  return {
    end: at + whole.length,
    inches: measureValue(feet ?? '') * 12 + (inches === undefined ? 0 : measureValue(inches)),
    unit: 'ft',
    last: inches === undefined ? 'ft' : 'in',
  };
}

function inchesOnly(found: RegExpExecArray, at: number): FeetInches {
  return { end: at + found[0].length, inches: measureValue(found[1] ?? ''), unit: 'in', last: 'in' };
}

/** A length in feet and inches that starts at `at`; undefined where the text there has another form. */
export function scanFeetInches(text: string, at: number, place: Place): FeetInches | undefined {
  const spacing = place === 'formula' ? 'formula' : 'entry';
  const feet = match(FEET_MARKED[spacing], text, at) ?? match(FEET_WORD[spacing], text, at);
  if (feet !== null) return feetAndInches(feet, at);
  const inches = match(INCHES_MARKED[spacing], text, at) ?? match(INCHES_WORD, text, at);
  if (inches !== null) return inchesOnly(inches, at);
  if (place !== 'length entry') return undefined;
  const dashed = match(DASHED, text, at);
  if (dashed !== null) {
    const [whole, feetPart, inchPart, fraction] = dashed;
    const total = Number(feetPart) * 12 + Number(inchPart) + measureValue(fraction ?? '0');
    return { end: at + whole.length, inches: total, unit: 'ft', last: 'in' };
  }
  const spaced = match(SPACED, text, at);
  return spaced === null ? undefined : feetAndInches(spaced, at);
}

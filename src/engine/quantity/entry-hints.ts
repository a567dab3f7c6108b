/** What is written on site in the place of a value, or beside it, and is none: what it is, and what to type instead. */
import { MEASURE } from './number-text.ts';
import { parseUnit } from './unit-text.ts';
import type { Unit } from './unit.ts';

export interface EntryHint {
  readonly problem: string;
  readonly suggestion: string;
}

const DIGIT = String.raw`\s*[$]?[\d.½⅓⅔¼¾⅛⅜⅝⅞]`;
/** Behind a sign a value may be negative; a word and a minus are a difference. */
const BEHIND_SIGN = `(?=\\s*[-−–+]?${DIGIT})`;
const BEHIND_WORD = `(?=${DIGIT})`;

/** Signs and words in the place of a value that is not known. */
const MISSING =
  /^(?:n\/a|n\.a\.?|na|[-–—−]{1,3}|\?+|\.{1,3}|…|x{2,}|tb[acd]|t\.b\.[acd]\.?|tb[acd][.?]+|none|nil|null|unknown|open|pending|later|todo|blank|empty|(?:to be|not yet) [a-z]+|to follow)$/iu;
/** Those among them that no formula begins with. */
const MISSING_SIGNS =
  /^(?:n\/a|n\.a\.|t\.b\.[acd]\.|tb[acd][.?]+|(?:to be|not yet) [a-z]+|to follow|[-–—−]{1,3}|\?+|\.{1,3}|…|%)$/iu;

const ABOUT = new RegExp(
  `^(?:[~≈≃≅∼]${BEHIND_SIGN}|(?:about|approx(?:imately)?|around|roughly|circa|ca|c)\\b\\.?${BEHIND_WORD})`,
  'iu',
);
const LIMIT = new RegExp(
  `^(?:(?:<=?|>=?|≤|≥|=<|=>)${BEHIND_SIGN}|(?:under|below|over|above|max|min|at least|at most|up to|less than|more than)\\b\\.?${BEHIND_WORD})`,
  'iu',
);
/** Behind the second number a unit at most: `1 - 0.5 * share` is a formula. */
const RANGE =
  /^(\d+(?:\.\d+)?)\s*(?:-|–|—|−|\.{2,3}|…|\bto\b)\s*(\d+(?:\.\d+)?)(?:$|\s*(?=[\p{L}%°$])([\p{L}\d%°$/·²³⁻() ]*)$)/iu;
/** Two of them join numbers in no formula. */
const RANGE_WORD = /^\d+(?:\.\d+)?\s*(?:\bto\b|\.{2,3}|…)\s*\d/iu;
/** Behind a number, in no formula; a condition that is being typed begins with a name or has a sign. */
const REMARK = /^[-−–—+]?\s*[\d.½⅓⅔¼¾⅛⅜⅝⅞][^<>=*^+]*(?:\?|\b(?:or so|approx\.?)|ish)$/iu;
const NEVER_FORMULAS: readonly RegExp[] = [MISSING_SIGNS, ABOUT, LIMIT, RANGE_WORD, REMARK];
const FRACTION = /^\d+\s*\/\s*\d+$/u;
/** Of two numbers of a range no more than this is told. */
const DIGITS = 12;

const WORDS: ReadonlyMap<string, string> = new Map(
  'zero one two three four five six seven eight nine ten eleven twelve'
    .split(' ')
    .map((word, value): [string, string] => [word, String(value)])
    .concat([
      ['half', '0.5'],
      ['a half', '0.5'],
      ['quarter', '0.25'],
      ['a quarter', '0.25'],
      ['three quarters', '0.75'],
      ['dozen', '12'],
      ['a dozen', '12'],
    ]),
);

/** The number that a word stands for, in digits. */
export function numberOfWord(word: string): string | undefined {
  return WORDS.get(word.toLowerCase());
}

/** `eight feet` in digits. */
function inDigits(text: string): string | undefined {
  const [, word = '', symbol = ''] = /^(\p{L}+(?: \p{L}+)?) (\p{L}+)$/u.exec(text) ?? [];
  const number = numberOfWord(word);
  const unit = number && parseUnit(symbol);
  return unit && 'symbol' in unit ? `${number} ${unit.symbol}` : undefined;
}

/**
 * Whether a text that no formula can be was meant as a value: signs for what is missing, about, a limit; a range or
 * a fraction where a quantity with a dimension is wanted, which no two plain numbers give.
 */
export function isEntryLike(text: string, hasDimension: boolean): boolean {
  if (NEVER_FORMULAS.some((pattern) => pattern.test(text))) return true;
  // Most formulas have a sign or a digit soon.
  if (/^[\p{L}\s]+$/u.test(text) && inDigits(text.replace(/\s+/gu, ' '))) return true;
  return hasDimension && (RANGE.test(text) || FRACTION.test(text));
}

function rounded(value: number): string {
  return String(Number(value.toPrecision(DIGITS)));
}

/** What is said of a word or a sign for what is not known, where it stands alone. */
export function missingHint(text: string): EntryHint | undefined {
  if (!MISSING.test(text)) return undefined;
  const suggestion = 'leave it empty until it is known; a remark goes into the note';
  return { problem: `'${text}' is no value`, suggestion };
}

/** What is said of a whole entry that is no value. `instead`: a value such as the place takes. */
export function entryHint(text: string, unit: Unit | undefined, instead: string): EntryHint | undefined {
  const missing = missingHint(text);
  if (missing !== undefined) return missing;
  if (text === '%') return { problem: 'before % a number is missing', suggestion: instead };
  const number = numberOfWord(text) ?? inDigits(text);
  if (number !== undefined)
    return { problem: `'${text}' is in words`, suggestion: `numbers are typed in digits: ${number}` };
  const about = ABOUT.exec(text)?.[0];
  if (about !== undefined) return aboutHint(text, text.slice(about.length).trim(), unit);
  const limit = LIMIT.exec(text)?.[0];
  return limit === undefined ? undefined : limitHint(text, text.slice(limit.length).trim());
}

function aboutHint(text: string, value: string, unit: Unit | undefined): EntryHint {
  const spread = unit?.reading ? `1 ${unit.symbol}` : '5 %';
  const bare = /^[-\d.,½⅓⅔¼¾⅛⅜⅝⅞/ ]+$/u.test(value);
  const withSpread = unit?.reading && !bare ? '' : `, or with how near that is: ${value} ± ${spread}`;
  return {
    problem: `'${text}' does not say how near that is`,
    suggestion: `type ${value}${withSpread}`,
  };
}

function limitHint(text: string, value: string): EntryHint {
  return {
    problem: `'${text}' is a limit, not a value`,
    suggestion: `type ${value}, and write into the note that it is a limit`,
  };
}

/** Two numbers where one goes in; not where they are feet and inches, which are told elsewhere. */
export function rangeHint(text: string): EntryHint | undefined {
  const range = rangeIn(text);
  if (range === undefined) return undefined;
  const { low, high, middle } = range;
  return low < high
    ? { problem: `'${text}' is a range`, suggestion: `type its middle with what it reaches: ${middle}` }
    : { problem: `'${text}' is two numbers`, suggestion: `type their difference, ${rounded(low - high)}` };
}

/** How a range of feet is typed, to go behind how feet and inches are. */
export function middleOf(text: string): string {
  const range = rangeIn(text);
  return range === undefined || range.low >= range.high ? '' : `; a range by its middle, ${range.middle}`;
}

function rangeIn(
  text: string,
): { readonly low: number; readonly high: number; readonly middle: string } | undefined {
  const [, from = '', to = '', unit = ''] = RANGE.exec(text) ?? [];
  if (from === '') return undefined;
  const [low, high] = [Number(from), Number(to)];
  const middle = `${rounded((low + high) / 2)} ± ${rounded((high - low) / 2)} ${unit}`.trim();
  return { low, high, middle };
}

/** `25.000.5` and `1.234.567`; `minus` is the sign before the text. */
export function pointsHint(text: string, minus: string): EntryHint | undefined {
  const found = /\d[\d,]*\.[\d,]*\.[\d.,]*/u.exec(text);
  const number = found?.[0];
  // `1.234.567,8` is told by its comma, `5...6` as a range.
  if (number === undefined || number.includes('..') || /^\d{1,3}(?:\.\d{3})+,\d+$/u.test(number))
    return undefined;
  const sign = found?.index === 0 ? minus : '';
  const isGrouped = /^[1-9]\d{0,2}(?:\.\d{3}){2,}$/u.test(number);
  return {
    problem: `'${number}' has more than one point`,
    suggestion: isGrouped
      ? `for thousands type ${sign}${number.replaceAll('.', '')} or ${sign}${number.replaceAll('.', ',')}`
      : 'one point stands before the decimals, commas may stand between thousands: 12,345.6',
  };
}

const MULTIPLES: ReadonlyMap<string, readonly [zeros: number, said: string]> = new Map([
  ['k', [3, 'thousands']],
  ['K', [3, 'thousands']],
  ['thousand', [3, 'thousands']],
  ['M', [6, 'millions']],
  ['MM', [6, 'millions']],
  ['mio', [6, 'millions']],
  ['million', [6, 'millions']],
]);

/** What stands behind a number that was read. */
export function behindHint(read: string, rest: string): EntryHint | undefined {
  const [, word = '', more = ''] = /^(\p{L}+)(?![\p{L}\d_])\s*(.*)$/u.exec(rest) ?? [];
  const multiple = MULTIPLES.get(word);
  if (multiple && new RegExp(`^-?${MEASURE}$`, 'u').test(read))
    return {
      problem: `${multiple[1]} are written out`,
      suggestion: `type ${rounded(Number(read) * 10 ** multiple[0])} ${more}`.trim(),
    };
  if (rest === '+') return limitHint(`${read}+`, read);
  // A name: what it stands for is not looked up here.
  if (/^\*\s?\p{L}[\p{L}\p{N}_.]*(?:\s?[-+*/^].*)?$/u.test(rest))
    return {
      problem: `'${read} ${rest}' is a formula, and a place in a table takes a value`,
      suggestion: 'type what it comes to, or give the whole column a formula',
    };
  const isRemark =
    /^(?:[?!*,;#]|\/\/|-\s?\p{L}|\((?![\d\s.]*\)))/u.test(rest) ||
    /^(?:ish|approx\.?|or so|about|roughly|max\.?|min\.?)$/iu.test(rest);
  if (!isRemark) return undefined;
  const remark = rest.replace(/^(?:[,;#-]|\/\/)\s*/u, '');
  return {
    problem: `behind ${read} stands a remark, ${remark}`,
    suggestion: `type ${read}, and the remark into the note`,
  };
}

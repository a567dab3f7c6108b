/** A whole entry as a person types it into a cell: its value, or what is wrong with it and what to type instead. */
import { dimension, dimensionName, describeDimension, DIMENSIONLESS } from './dimension.ts';
import { behindHint, entryHint, middleOf, pointsHint, rangeHint } from './entry-hints.ts';
import { scanLiteral } from './literal.ts';
import type { Literal } from './literal.ts';
import { withoutCommas } from './number-text.ts';
import { productHint } from './product-hint.ts';
import { plainDigits } from './superscript.ts';
import { flowMeant, meantAs, meantFor, miswritten } from './unit-hints.ts';
import { parseUnit, UNIT_EXAMPLES, withoutPoints } from './unit-text.ts';
import type { Unit } from './unit.ts';

export { scanLiteral } from './literal.ts';
export type { Literal, LiteralOptions, LiteralProblem, LiteralScan } from './literal.ts';

export interface EntryProblem {
  readonly problem: string;
  readonly suggestion?: string;
}

export type Entry = { readonly literal: Literal } | { readonly blank: true } | EntryProblem;

const LENGTH = dimension({ length: 1 });
const TEMPERATURE = dimension({ temperature: 1 });

/** "a mass", "an area", "a temperature reading": what a value with this unit is. */
function kindOf(unit: Unit): string {
  if (unit.dimension === DIMENSIONLESS) return 'a plain number';
  if (unit.dimension === TEMPERATURE)
    return unit.reading ? 'a temperature reading' : 'a temperature difference';
  const everyday = dimensionName(unit.dimension);
  if (everyday === undefined) return `of dimension ${describeDimension(unit.dimension)}`;
  if (everyday === 'money') return 'an amount of money';
  return `${/^[aeiou]/u.test(everyday) ? 'an' : 'a'} ${everyday}`;
}

function isFeetOrInches(unit: Unit | undefined): boolean {
  return unit !== undefined && (unit.symbol === 'ft' || unit.symbol === 'in');
}

function example(unit: Unit): string {
  if (unit.reading) return unit.symbol === '°F' ? '68 °F' : '20 °C';
  if (isFeetOrInches(unit)) return `12 ${unit.symbol} or 12' 4"`;
  return unit.symbol === '' ? '0.65' : `20 ${unit.symbol}`;
}

function typeInstead(unit: Unit | undefined): string {
  return `type for instance ${unit === undefined ? `24.5, 24.5 ft2 or 12' 4"` : example(unit)}`;
}

function refuse(problem: string, suggestion: string): EntryProblem {
  return { problem, suggestion };
}

/** The wide signs of East Asian keyboards, `２５．５％`, as the ordinary ones. */
export function plainWidth(text: string): string {
  return text.replace(/[\uff01-\uff5e]/gu, (sign) => String.fromCharCode(sign.charCodeAt(0) - 0xfee0));
}

/**
 * Spaces of all widths become one kind; narrow ones, and those at which no line breaks, separate thousands between
 * groups of three digits.
 */
function plainSpaces(text: string): string {
  return withoutPoints(plainWidth(text))
    .replace(/(?<=\d)[\u00a0\u2009\u202f](?=\d{3}(?!\d))/gu, '')
    .replace(/\s/gu, ' ')
    .replace(/[⁰¹²³⁴-⁹]+⁄[₀-₉]+/gu, (fraction) => ` ${plainDigits(fraction)}`)
    .trim();
}

/** `$4.50/ft2` is 4.50 $/ft2. */
function moneyBehind(text: string): string {
  const found = /^\$ ?(\d*\.?\d+(?:\(\d+\))?)/u.exec(text);
  return found === null ? text : `${found[1] ?? ''} $${text.slice(found[0].length)}`;
}

const DEGREES = /(?<=[\d.½⅓⅔¼¾\s])[FC](?![\p{L}\p{N}_])/gu;

/** `72°` and `72 degrees`, with nothing that says of which scale. */
const SCALELESS = /(?<=[\d.])\s*(?:[°º˚]|deg(?:s|rees?)?)(?=\s*(?:$|[±+]))/giu;
const DEGREE_WORD = /(?<=[\d.\s])(?:deg(?:rees?)?)\s+(?=[FC](?![\p{L}\p{N}_]))/giu;

/**
 * In the place of a temperature F and C, in SI the farad and the coulomb, can only be degrees, and degrees of no
 * scale only those of the place.
 */
function degrees(body: string, unit: Unit | undefined): string {
  if (unit?.dimension !== TEMPERATURE) return body;
  return body
    .replace(SCALELESS, '')
    .replace(DEGREE_WORD, '')
    .replace(DEGREES, unit.reading ? 'deg$&' : '$&deg');
}

/** Where any unit may stand, F and C say nothing. */
function eitherUnit(written: string, { unit, value }: Literal): EntryProblem | undefined {
  if (unit === undefined || (unit.text.trim() !== 'F' && unit.text.trim() !== 'C')) return undefined;
  const letter = unit.text.trim();
  const other = letter === 'F' ? 'farad' : 'coulomb';
  return refuse(
    `'${written}' may be degrees or ${other}s`,
    `type ${String(value)} deg${letter}, or ${String(value)} ${other}`,
  );
}

/** Behind a number a word may be the name of a cell; not where it is plainly a unit, known or with a letter too many. */
function productWay(read: string, word: string | undefined, way: string): string {
  if (word === undefined || miswritten(word) !== undefined) return '';
  if (way === UNIT_EXAMPLES) return `; a product as ${read} * ${word}; a remark goes into the note`;
  const near = /^did you mean (.+)\?$/u.exec(way)?.[1]?.toLowerCase();
  const plain = word.length < 4 || (near !== undefined && word.toLowerCase().startsWith(near));
  return plain || near === word.toLowerCase() ? '' : ` A product is written ${read} * ${word}`;
}

/** `minus` is the sign before the body: it belongs to what is to be typed as well. */
function leftOver(body: string, end: number, unit: Unit | undefined, minus: string): EntryProblem {
  const product = productHint(body, unit, minus, typeInstead(unit));
  if (product !== undefined) return product;
  const read = `${minus}${body.slice(0, end).trim()}`;
  const rest = body.slice(end).trim();
  const behind = behindHint(read, rest);
  if (behind !== undefined) return behind;
  if (/^[\p{L}°%$Δ(]/u.test(rest)) {
    const asUnit = parseUnit(/^[^±+]*/u.exec(rest)?.[0] ?? rest);
    if ('problem' in asUnit) {
      const word = /^\p{L}[\p{L}\p{N}_.]*(?=$|\s*[-+*/^])/u.exec(rest)?.[0];
      const flow = word === undefined || unit === undefined ? undefined : flowMeant(word, unit);
      if (flow !== undefined) return refuse(asUnit.problem, `did you mean ${flow}?`);
      const way = asUnit.suggestion ?? typeInstead(unit);
      return refuse(asUnit.problem, `${way}${productWay(read, word, way)}`);
    }
  }
  if (/^\d/u.test(rest)) {
    const groups = /^-?\d{1,3}$/u.test(read) ? /^\d{3}(?: \d{3})*(?!\d)/u.exec(rest)?.[0] : undefined;
    const after = rest.slice(groups?.length ?? 0);
    const suggestion =
      groups === undefined
        ? typeInstead(unit)
        : `for thousands type ${read}${groups.replaceAll(' ', '')}${after} or ${read},${groups.replaceAll(' ', ',')}${after}`;
    return refuse(`after ${read} stands another number, ${rest}`, suggestion);
  }
  return refuse(`after ${read} I cannot read '${rest}'`, typeInstead(unit));
}

/** Entries of a length that could be feet or inches, or a subtraction. */
function unclearLength(body: string, unit: Unit | undefined, minus: string): EntryProblem | undefined {
  if (!isFeetOrInches(unit)) return undefined;
  const twoParts = /^(\d+)-(\d+)$/u.exec(body);
  if (twoParts !== null) {
    const [, feet = '', inches = ''] = twoParts;
    return refuse(
      `'${minus}${body}' may be feet and inches, a range or a difference`,
      `type ${minus}${feet}' ${inches}" or ${minus}${feet}-${inches}-0${minus === '' ? middleOf(body) : ''}`,
    );
  }
  if (unit?.symbol !== 'ft') return undefined;
  const fraction = /^(?:\d+[ -])?\d+[/⁄]\d+$/u.exec(body);
  if (fraction === null) return undefined;
  const written = `${minus}${body}`;
  return refuse(`'${written}' may be inches or feet`, `type ${written}" or ${written} ft`);
}

function wrongKind(written: string, literal: Literal, unit: Unit): EntryProblem | undefined {
  const typed = literal.unit;
  if (typed === undefined || (typed.dimension === unit.dimension && typed.reading === unit.reading))
    return undefined;
  const problem = `'${written}' is ${kindOf(typed)}; this entry is ${kindOf(unit)}`;
  // Behind a number, 25K, it is the kelvin.
  if (typed.text.trim() === 'K' && unit.dimension !== TEMPERATURE)
    return refuse(problem, `for thousands type ${String(literal.value * 1000)}`);
  const meant = meantFor(typed.text, unit);
  if (meant !== undefined) return refuse(problem, `type ${String(literal.value)} ${meant}`);
  return refuse(problem, typeInstead(unit));
}

/**
 * Reads a whole entry. A bare number takes `unit`; another unit of the same dimension is converted; another
 * dimension is a problem that names both. `undefined` as unit accepts any.
 */
export function readEntry(text: string, unit: Unit | undefined): Entry {
  const written = plainSpaces(text);
  if (written === '') return { blank: true };
  if (written.length > 200) return refuse('this entry is too long for a value', typeInstead(unit));
  const hint = entryHint(plainWidth(text).replace(/\s+/gu, ' ').trim(), unit, typeInstead(unit));
  if (hint !== undefined) return hint;
  const based = /^0[xbo][\da-f]+$/iu.test(written) ? Number(written.toLowerCase()) : NaN;
  if (!Number.isNaN(based)) return refuse(`'${written}' is not written in tens`, `type ${String(based)}`);
  const sign = /^[-−–—+](?![-/−]) ?/u.exec(written);
  const negative = sign !== null && !sign[0].startsWith('+');
  const unsigned = written.slice(sign?.[0].length ?? 0);
  const minus = negative ? '-' : '';
  const points = pointsHint(unsigned, minus);
  if (points !== undefined) return points;
  const plain = withoutCommas(unsigned, minus);
  if (typeof plain !== 'string') return plain;
  const body = degrees(moneyBehind(plain), unit);
  const unclear = unclearLength(body, unit, minus) ?? (sign === null ? rangeHint(body) : undefined);
  if (unclear !== undefined) return unclear;
  const feetInches = isFeetOrInches(unit) || unit?.dimension === LENGTH;
  const found = scanLiteral(body, 0, { entry: true, negative, feetInches, unit });
  if (found === undefined) {
    if (/^(?:±|\+\/?[-−])/u.test(written)) {
      return refuse('a ± needs a value before it', typeInstead(unit));
    }
    return refuse(`'${written}' is not a number`, typeInstead(unit));
  }
  if ('problem' in found) {
    return found.suggestion === undefined
      ? { problem: found.problem }
      : { problem: found.problem, suggestion: found.suggestion };
  }
  if (found.end !== body.length) {
    const meant = unit === undefined ? undefined : meantAs(body.slice(found.end), unit);
    if (meant !== undefined) return readEntry(`${sign?.[0] ?? ''}${body.slice(0, found.end)} ${meant}`, unit);
    return leftOver(body, found.end, unit, minus);
  }
  const wrong =
    unit === undefined ? eitherUnit(written, found.literal) : wrongKind(written, found.literal, unit);
  return wrong ?? { literal: found.literal };
}

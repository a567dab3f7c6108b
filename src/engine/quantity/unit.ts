/**
 * Units: a text becomes a dimension and a size in SI. The symbols come from unit-table.ts, then from mathjs with
 * mathjs's own prefixes; mathjs is asked for its table only, never to calculate.
 */
import { createUnitClass } from 'mathjs';
import { dimension, DIMENSIONLESS, multiply, power, writeProduct } from './dimension.ts';
import type { Base, Dimension } from './dimension.ts';
import { ONE, ratioOf, timesPower } from './ratio.ts';
import type { Ratio } from './ratio.ts';
import { scanExpression } from './unit-expression.ts';
import type { Term } from './unit-expression.ts';
import { UNIT_ROWS } from './unit-table.ts';
import type { UnitRow, UnitSystem } from './unit-table.ts';

export interface Unit {
  /** As written. */
  readonly text: string;
  /** As shown: m³/h, °F, ft². */
  readonly symbol: string;
  readonly dimension: Dimension;
  readonly factor: number;
  /** SI = v · factor + offset; not zero only for °C and °F. */
  readonly offset: number;
  /** A temperature reading, as against a difference. */
  readonly reading: boolean;
  /** The factor as a quotient of whole numbers, where it is one: conversions are then correctly rounded. */
  readonly ratio?: Ratio;
}

/** One unit word with its prefix: the parts of which units are composed. */
export interface UnitSymbol {
  /** Equal for all spellings of a unit. */
  readonly canonical: string;
  readonly show: string;
  readonly dimension: Dimension;
  readonly factor: number;
  readonly offset: number;
  readonly reading: boolean;
  readonly system: UnitSystem | 'both';
  readonly counterpart?: string;
  readonly ratio?: Ratio;
}

export type UnitTerms = readonly Term<UnitSymbol>[];

interface MathjsUnit {
  readonly name: string;
  readonly prefixes: Readonly<Record<string, { readonly value: number }>>;
  readonly value: unknown;
  readonly offset: number;
  readonly dimensions: readonly number[];
}

interface MathjsTable {
  readonly BASE_DIMENSIONS: readonly string[];
  readonly UNITS: Readonly<Record<string, MathjsUnit>>;
}

declare module 'mathjs' {
  // Exported, but missing from its declarations.
  export function createUnitClass(dependencies: object): MathjsTable;
}

function unused(): never {
  throw new Error('mathjs is asked for its table of units, never to calculate');
}

/** With stand-ins for its arithmetic the table costs 12 kB of the page (gzipped) instead of 66. */
const mathjs = createUnitClass({
  config: { number: 'number' },
  Complex: { I: NaN },
  Fraction: class {
    readonly quotient: number;
    constructor(above: number, below: number) {
      this.quotient = above / below;
    }
  },
  BigNumber: unused,
  addScalar: unused,
  subtractScalar: unused,
  multiplyScalar: unused,
  divideScalar: unused,
  pow: unused,
  abs: unused,
  fix: unused,
  round: unused,
  equal: unused,
  isNumeric: unused,
  format: unused,
  number: unused,
});

/** mathjs's base dimensions by ours. An angle is a ratio and drops out; a bit is nothing we count. */
const MATHJS_BASES: Readonly<Record<string, Base>> = {
  MASS: 'mass',
  LENGTH: 'length',
  TIME: 'time',
  CURRENT: 'current',
  TEMPERATURE: 'temperature',
  LUMINOUS_INTENSITY: 'luminosity',
  AMOUNT_OF_SUBSTANCE: 'amount',
};

const rows = new Map<string, UnitRow>();
for (const row of UNIT_ROWS) for (const symbol of row.symbols) rows.set(symbol, row);

const mathjsUnits = new Map<string, MathjsUnit>(Object.entries(mathjs.UNITS));

function mathjsDimension(unit: MathjsUnit): Dimension | undefined {
  const parts: Partial<Record<Base, number>> = {};
  for (const [i, baseName] of mathjs.BASE_DIMENSIONS.entries()) {
    const exponent = unit.dimensions[i] ?? 0;
    if (exponent === 0 || baseName === 'ANGLE') continue;
    const base = MATHJS_BASES[baseName];
    if (base === undefined) return undefined;
    parts[base] = exponent;
  }
  return dimension(parts);
}

const LONGEST_PREFIX = 'quetta'.length;

/** mathjs takes the whole word first, then a prefix that it allows before the unit. */
function splitPrefix(word: string): { unit: MathjsUnit; prefix: string } | undefined {
  const whole = mathjsUnits.get(word);
  if (whole !== undefined) return { unit: whole, prefix: '' };
  for (let cut = 1; cut <= LONGEST_PREFIX && cut < word.length; cut++) {
    const prefix = word.slice(0, cut);
    const unit = mathjsUnits.get(word.slice(cut));
    if (unit !== undefined && Object.hasOwn(unit.prefixes, prefix)) return { unit, prefix };
  }
  return undefined;
}

function fromMathjs(word: string): UnitSymbol | undefined {
  const split = splitPrefix(word);
  if (split === undefined) return undefined;
  const { unit, prefix } = split;
  // A reading takes no prefix: a thousandth of 20 °C means nothing. VAR has an imaginary size, here not a number.
  if (unit.offset !== 0 || typeof unit.value !== 'number' || Number.isNaN(unit.value)) return undefined;
  const unitDimension = mathjsDimension(unit);
  if (unitDimension === undefined) return undefined;
  const scale = unit.prefixes[prefix]?.value ?? 1;
  // A row sets the size of its unit right with prefixes, too: keV.
  const size =
    prefix !== '' && rows.has(unit.name) ? (resolveWord(unit.name)?.symbol.factor ?? NaN) : unit.value;
  return {
    canonical: word,
    show: prefix === 'u' ? `µ${unit.name}` : word,
    dimension: unitDimension,
    factor: size * scale,
    offset: 0,
    reading: false,
    system: 'both',
    ...withRatio(ratioOf(size * scale)),
  };
}

function withRatio(ratio: Ratio | undefined): { ratio?: Ratio } {
  return ratio === undefined ? {} : { ratio };
}

function fromRow(row: UnitRow): UnitSymbol {
  const [canonical] = row.symbols;
  let rowDimension = row.base === undefined ? DIMENSIONLESS : dimension({ [row.base]: 1 });
  let factor = row.factor;
  let ratio = ratioOf(factor);
  // The base units of SI stand on mathjs's table like all others, under their own symbol.
  const base = row.of === '' ? splitPrefix(canonical)?.unit : undefined;
  if (base !== undefined && row.base === undefined && row.factor === 1) {
    rowDimension = mathjsDimension(base) ?? rowDimension;
  }
  if (row.of !== '') {
    const { expression } = scanExpression(row.of, 0, resolveWord, false);
    if (expression?.end !== row.of.length) throw new Error(`unit ${canonical}: cannot read "${row.of}"`);
    const size = compose(expression.terms);
    rowDimension = size.dimension;
    ratio = timesPower(ratio, size.ratio, 1);
    factor = ratio === undefined ? factor * size.factor : ratio[0] / ratio[1];
  }
  return {
    canonical,
    show: row.show ?? canonical,
    dimension: rowDimension,
    factor,
    offset: row.offset ?? 0,
    reading: row.offset !== undefined,
    system: row.system,
    ...(row.counterpart === undefined ? {} : { counterpart: row.counterpart }),
    ...withRatio(ratio),
  };
}

const LENGTH = dimension({ length: 1 });
const symbols = new Map<string, Term<UnitSymbol> | null>();

function findSymbol(word: string): Term<UnitSymbol> | undefined {
  const row = rows.get(word);
  if (row !== undefined) return { symbol: fromRow(row), power: 1 };
  // `ft2`, `cm4`: digits are powers on lengths only (and on `s2`), so that names such as h2 or A1 stay free.
  const digit = /^(\p{L}+)([234])$/u.exec(word);
  if (digit !== null) {
    const base = resolveWord(digit[1] ?? '');
    const exponent = Number(digit[2]);
    const isLength = base?.symbol.dimension === LENGTH && base.power === 1;
    if (base !== undefined && (isLength || word === 's2')) return { symbol: base.symbol, power: exponent };
  }
  const symbol = fromMathjs(word.replace(/^[µμ]/u, 'u'));
  return symbol === undefined ? undefined : { symbol, power: 1 };
}

export function resolveWord(word: string): Term<UnitSymbol> | undefined {
  const known = symbols.get(word);
  if (known !== undefined) return known ?? undefined;
  const found = word.length > 40 ? undefined : findSymbol(word.replace(/[º˚]/u, '°'));
  // Words of people end up here too: the memory of failures is bounded.
  if (found !== undefined || symbols.size < 20_000) symbols.set(word, found ?? null);
  return found;
}

function compose(terms: UnitTerms): { dimension: Dimension; factor: number; ratio?: Ratio } {
  let result = DIMENSIONLESS;
  let factor = 1;
  let ratio: Ratio | undefined = ONE;
  for (const { symbol, power: exponent } of terms) {
    result = multiply(result, power(symbol.dimension, exponent));
    factor *= symbol.factor ** exponent;
    ratio = timesPower(ratio, symbol.ratio, exponent);
  }
  return {
    dimension: result,
    factor: ratio === undefined ? factor : ratio[0] / ratio[1],
    ...withRatio(ratio),
  };
}

function writeSymbol(terms: UnitTerms): string {
  const [only] = terms;
  if (terms.length === 1 && only?.power === 1) return only.symbol.show;
  return writeProduct(
    terms.map(({ symbol: { show }, power: exponent }) => {
      if (/^\p{L}+²$/u.test(show)) return [show.slice(0, -1), exponent * 2] as const;
      if (/^\p{L}+³$/u.test(show)) return [show.slice(0, -1), exponent * 3] as const;
      return [/[·/ ]/u.test(show) ? `(${show})` : show, exponent] as const;
    }),
  );
}

export function composeUnit(text: string, terms: UnitTerms): Unit {
  const size = compose(terms);
  const [only] = terms;
  const reading = terms.length === 1 && only?.power === 1 && only.symbol.reading;
  const offset = reading ? only.symbol.offset : 0;
  return Object.freeze({ text, symbol: writeSymbol(terms), ...size, offset, reading });
}

export const PLAIN: Unit = Object.freeze({
  text: '',
  symbol: '',
  dimension: DIMENSIONLESS,
  factor: 1,
  offset: 0,
  reading: false,
});

let words: readonly string[] | undefined;

/** Every word that names a unit without a prefix, those of our own table first. */
export function unitWords(): readonly string[] {
  words ??= [...new Set([...rows.keys(), ...mathjsUnits.keys()])].filter((word) => isUnitSymbol(word));
  return words;
}

/** A unit that mathjs knows and we refuse: the bit and its multiples. */
export function isInformation(word: string): boolean {
  const split = rows.has(word) ? undefined : splitPrefix(word);
  return split !== undefined && mathjsDimension(split.unit) === undefined;
}

/** True for a word that is a unit by itself: such a word cannot be the name of a cell. */
export function isUnitSymbol(word: string): boolean {
  return resolveWord(word) !== undefined;
}

export function toSI(v: number, unit: Unit): number {
  const { ratio } = unit;
  return (ratio === undefined ? v * unit.factor : (v * ratio[0]) / ratio[1]) + unit.offset;
}

export function fromSI(si: number, unit: Unit): number {
  const { ratio } = unit;
  const size = si - unit.offset;
  return ratio === undefined ? size / unit.factor : (size * ratio[1]) / ratio[0];
}

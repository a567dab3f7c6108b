/** `30 mm * 40 mm` and `4 x 6 in` where one value goes in: what they come to is what is to be typed. */
import { dimension, DIMENSIONLESS, multiply, power } from './dimension.ts';
import type { Dimension } from './dimension.ts';
import type { EntryHint } from './entry-hints.ts';
import { scanLiteral } from './literal.ts';
import type { Literal } from './literal.ts';
import { parseUnit } from './unit-text.ts';
import { fromSI } from './unit.ts';
import type { Unit } from './unit.ts';

const TIMES = /\s*([*×·⋅]|(?:x|by)(?![\p{L}_]))\s*(?=[\d.½⅓⅔¼¾⅛⅜⅝⅞])/iuy;
const LENGTH = dimension({ length: 1 });

/** The unit in which an area is told whose sides are in this one. */
const AREA_OF: ReadonlyMap<string, string> = new Map([
  ['mm', 'cm2'],
  ['cm', 'cm2'],
  ['m', 'm2'],
  ['in', 'in2'],
  ['ft', 'ft2'],
]);
/** So many digits of what it comes to are told. */
const DIGITS = 9;

interface Factors {
  readonly literals: readonly Literal[];
  /** The first sign between them. */
  readonly sign: string;
}

function factorsOf(body: string): Factors | undefined {
  const literals: Literal[] = [];
  let sign = '';
  for (let at = 0; ;) {
    const found = scanLiteral(body, at, { entry: true });
    if (found === undefined || 'problem' in found) return undefined;
    literals.push(found.literal);
    if (found.end === body.length) break;
    TIMES.lastIndex = found.end;
    const times = TIMES.exec(body);
    if (times === null) return undefined;
    sign ||= (times[1] ?? '').toLowerCase();
    at = TIMES.lastIndex;
  }
  return literals.length > 1 ? { literals, sign } : undefined;
}

/** What a product of values is answered with; `minus` stands before the whole, `instead` is a value such as the place takes. */
export function productHint(
  body: string,
  place: Unit | undefined,
  minus: string,
  instead: string,
): EntryHint | undefined {
  const factors = factorsOf(body);
  if (factors === undefined) return undefined;
  const { literals, sign } = factors;
  const units = literals.flatMap(({ unit }) => unit ?? []);
  // As holes and openings are called out.
  const isOfLengths = units.length > 0 || (place?.dimension === LENGTH && /^[xb]/u.test(sign));
  const areSides = sign !== '*' && isOfLengths && units.every((unit) => unit.dimension === LENGTH);
  // Of bare numbers with an x between them nothing says what they are in.
  if (!areSides && /^[xb]/u.test(sign)) return undefined;
  const written = `${minus}${body}`;
  const comesTo = literals.some(({ plusMinus }) => plusMinus !== undefined)
    ? undefined
    : (area(literals, units, place) ?? (areSides ? undefined : product(literals, place)));
  return {
    problem: areSides
      ? `'${written}' is ${literals.length === 2 ? 'two' : 'several'} sides, and one value goes in`
      : `'${written}' is a formula, and a place in a table takes a value`,
    suggestion: comesTo === undefined ? instead : `type ${minus}${comesTo}`,
  };
}

function told(value: number, unit: Unit): string | undefined {
  if (!Number.isFinite(value)) return undefined;
  return `${String(Number(value.toPrecision(DIGITS)))} ${unit.symbol}`.trim();
}

/** Two lengths where an area is wanted; in `30 x 40 mm` both are in the one unit. */
function area(
  literals: readonly Literal[],
  units: readonly Unit[],
  place: Unit | undefined,
): string | undefined {
  const last = units.at(-1);
  if (last === undefined || literals.length !== 2 || units.some((unit) => unit.dimension !== LENGTH))
    return undefined;
  if (place !== undefined && place.dimension !== power(LENGTH, 2)) return undefined;
  const name = units.every(({ symbol }) => symbol === last.symbol) ? AREA_OF.get(last.symbol) : undefined;
  const found = name === undefined ? place : parseUnit(name);
  if (found === undefined || 'problem' in found) return undefined;
  const si = literals.reduce((all, { si, unit }) => all * si * (unit === undefined ? last.factor : 1), 1);
  return told(fromSI(si, found), found);
}

/** Any other product, told in the unit of the place; plain numbers make one that is in this unit. */
function product(literals: readonly Literal[], place: Unit | undefined): string | undefined {
  if (place === undefined || place.reading || literals.some(({ unit }) => unit?.reading)) return undefined;
  const si = literals.reduce((all, each) => all * each.si, 1);
  if (literals.every(({ unit }) => unit === undefined)) return told(si, place);
  const found = literals.reduce<Dimension>(
    (all, { unit }) => multiply(all, unit?.dimension ?? DIMENSIONLESS),
    DIMENSIONLESS,
  );
  return found === place.dimension ? told(fromSI(si, place), place) : undefined;
}

/** Which unit a value is shown in: its own, the counterpart that the US/SI toggle asks for, or an everyday one. */
import { exponents } from './dimension.ts';
import type { Dimension } from './dimension.ts';
import { COUNTERPARTS, EVERYDAY, UNIT_ROWS } from './unit-table.ts';
import type { UnitSystem } from './unit-table.ts';
import { parseTerms, parseUnit } from './unit-text.ts';
import type { Unit, UnitTerms } from './unit.ts';

/** A unit of our own tables: one that cannot be read is a programmer's mistake. */
function own(text: string): Unit {
  const unit = parseUnit(text);
  if ('problem' in unit) throw new Error(`unit table: ${unit.problem}`);
  return unit;
}

/** Equal for all spellings of one expression: m3/(h m2), m³/h/m². */
function keyOf(terms: UnitTerms): string {
  return terms
    .map(({ symbol: { show }, power }) => {
      const raised = /^(\p{L}+)([²³])$/u.exec(show);
      return raised === null
        ? `${show}^${String(power)}`
        : `${raised[1] ?? ''}^${String(power * (raised[2] === '²' ? 2 : 3))}`;
    })
    .sort()
    .join(' ');
}

function termsOf(text: string): UnitTerms {
  const result = parseTerms(text);
  return 'unit' in result ? result.terms : [];
}

let pairs: { us: Map<string, string>; si: Map<string, string> } | undefined;

/** Counterparts by the system asked for, then by the expression that is not of it. */
function counterparts(): Record<UnitSystem, Map<string, string>> {
  if (pairs === undefined) {
    pairs = { us: new Map(), si: new Map() };
    for (const [us, si] of COUNTERPARTS) {
      const usKey = keyOf(termsOf(us));
      const siKey = keyOf(termsOf(si));
      if (!pairs.si.has(usKey)) pairs.si.set(usKey, si);
      if (!pairs.us.has(siKey)) pairs.us.set(siKey, us);
    }
  }
  return pairs;
}

function other(system: UnitSystem): UnitSystem {
  return system === 'us' ? 'si' : 'us';
}

/** In a product a temperature is a difference, written degF or K. */
function replaceInProduct(canonical: string, counterpart: string): string {
  if (canonical === 'K' || canonical === 'Cdeg') return 'degF';
  return canonical === 'degF' || canonical === 'Fdeg' ? 'K' : counterpart;
}

function counterpartOf(unit: Unit, terms: UnitTerms, system: UnitSystem): Unit {
  const [only] = terms;
  const whole = counterparts()[system].get(keyOf(terms));
  if (whole !== undefined) return own(whole);
  if (terms.length === 1 && only?.power === 1) {
    return only.symbol.counterpart === undefined ? unit : own(only.symbol.counterpart);
  }
  const text = terms
    .map(({ symbol, power }) => {
      const changes = symbol.system === other(system) && symbol.counterpart !== undefined;
      const name = changes ? replaceInProduct(symbol.canonical, symbol.counterpart ?? '') : symbol.canonical;
      return `(${name})^(${String(power)})`;
    })
    .join('*');
  const changed = parseUnit(text);
  // As people write it, since what is typed on the screen takes it on: lb/ft³.
  return 'problem' in changed || changed.dimension !== unit.dimension ? unit : own(changed.symbol);
}

function fits(terms: UnitTerms, system: UnitSystem): boolean {
  const unfit = other(system);
  return terms.every(({ symbol }) => symbol.system !== unfit);
}

let everyday: Map<Dimension, { us: Unit; si: Unit; also: Unit[] }> | undefined;

function everydayOf(dimension: Dimension): { us: Unit; si: Unit; also: Unit[] } | undefined {
  if (everyday === undefined) {
    everyday = new Map();
    for (const { us, si, also } of EVERYDAY) {
      const unit = own(us);
      everyday.set(unit.dimension, { us: unit, si: own(si), also: (also ?? []).map(own) });
    }
    const difference = own('K');
    everyday.set(difference.dimension, { us: own('Fdeg'), si: difference, also: [own('Cdeg'), own('degR')] });
  }
  return everyday.get(dimension);
}

const BASE_UNITS = {
  us: ['ft', 'lb', 's', 'degF', 'A', 'mol', 'cd', '$'],
  si: ['m', 'kg', 's', 'K', 'A', 'mol', 'cd', '$'],
} as const;

/** The product of base units, for a dimension that nobody has an everyday unit for. */
function coherent(dimension: Dimension, system: UnitSystem): Unit {
  const parts = exponents(dimension).flatMap((exponent, i) =>
    exponent === 0
      ? []
      : [`(${BASE_UNITS[system][i] ?? ''})^(${exponent.toFixed(9).replace(/\.?0+$/u, '')})`],
  );
  return own(own(parts.join('*')).symbol);
}

const shown = new Map<string, Unit>();

/**
 * The unit in which a value of `dimension` is shown: its own unit if that belongs to the system or to both, else
 * the counterpart of its own unit, else the everyday unit of the dimension. The value in SI never changes.
 */
export function displayUnit(
  unit: Unit | undefined,
  dimension: Dimension,
  reading: boolean,
  system: UnitSystem,
): Unit {
  const key = `${system}${reading ? 'r' : 'd'}${String(dimension)} ${unit?.text ?? ' '}`;
  const known = shown.get(key);
  if (known !== undefined) return known;
  const chosen = choose(unit, dimension, reading, system);
  if (shown.size < 20_000) shown.set(key, chosen);
  return chosen;
}

function choose(unit: Unit | undefined, dimension: Dimension, reading: boolean, system: UnitSystem): Unit {
  if (unit?.dimension === dimension && unit.reading === reading) {
    const terms = termsOf(unit.text);
    return fits(terms, system) ? unit : counterpartOf(unit, terms, system);
  }
  if (reading) return own(system === 'us' ? 'degF' : 'degC');
  return everydayOf(dimension)?.[system] ?? coherent(dimension, system);
}

/** Units to offer for a dimension, everyday ones first. */
export function unitsOf(dimension: Dimension, reading: boolean): Unit[] {
  if (reading) return [own('degF'), own('degC')];
  const everydayUnits = everydayOf(dimension);
  const found =
    everydayUnits === undefined
      ? [coherent(dimension, 'us'), coherent(dimension, 'si')]
      : [everydayUnits.us, everydayUnits.si, ...everydayUnits.also];
  for (const row of UNIT_ROWS) {
    const unit = own(row.symbols[0]);
    if (unit.dimension === dimension && !unit.reading) found.push(unit);
  }
  const bySymbol = new Map<string, Unit>();
  for (const unit of found) if (!bySymbol.has(unit.symbol)) bySymbol.set(unit.symbol, unit);
  return [...bySymbol.values()];
}

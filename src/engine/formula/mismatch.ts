/** What is said when two sides do not fit: both dimensions in everyday words, and one way out. */
import {
  describeDimension,
  dimensionName,
  divide,
  DIMENSIONLESS,
  meantFor,
  unitsOf,
  type Dimension,
} from '../quantity/index.ts';
import { diagnostic, type Diagnostic, type Span } from './diagnostic.ts';
import { LIVE } from './refused.ts';
import { describeType, LOGICAL, TEXT, type QuantityType, type Type } from './type.ts';

interface Side extends Span {
  readonly type: Type;
}

export interface Source {
  readonly text: string;
}

const VERBS: Readonly<Record<string, string>> = {
  '+': 'cannot be added',
  '-': 'cannot be subtracted',
  otherwise: 'cannot stand in for each other',
  '? :': 'cannot be the two results of one condition',
};

function slice(source: Source, side: Span): string {
  return source.text.slice(side.start, side.end);
}

/** Two lines, aligned: text of each side and what it is. */
function aligned(source: Source, left: Side, right: Side): string {
  const a = slice(source, left);
  const b = slice(source, right);
  const width = Math.min(Math.max(a.length, b.length), 40);
  return `${a.padEnd(width)}  ${describeType(left.type)}\n${b.padEnd(width)}  ${describeType(right.type)}`;
}

/** An everyday unit of the dimension, for instance "1 m3/h". */
export function exampleUnit(d: Dimension): string | undefined {
  return unitsOf(d, false)[0]?.text;
}

export function mismatch(source: Source, operator: string, left: Side, right: Side, whole: Span): Diagnostic {
  const verb = VERBS[operator] ?? 'cannot be compared';
  const found = aligned(source, left, right);
  const a = left.type;
  const b = right.type;
  if (a.kind === 'quantity' && b.kind === 'quantity') {
    if (a.reading || b.reading) return readings(source, operator, a, b, left, right, whole, found);
    const parts =
      percentSuggestion(source, operator, left, right) ?? factorSuggestion(source, a, b, left, right);
    return diagnostic('dimension-mismatch', whole, `these two ${verb}`, {
      found,
      expected: 'the same dimension on both sides',
      ...(parts === undefined ? {} : { suggestion: parts }),
    });
  }
  return diagnostic('kind-mismatch', whole, `these two ${verb}`, {
    found,
    expected: 'the same kind on both sides',
    suggestion:
      joined(operator, a === TEXT ? a : b) ??
      (a === TEXT || b === TEXT
        ? 'text stands in double quotes: "open"'
        : a === LOGICAL || b === LOGICAL
          ? 'a condition gives yes or no; use condition ? value : value'
          : 'take one field of the record: name.field'),
  });
}

/** Who adds to a text wants to join. */
export function joined(operator: string, type: Type): string | undefined {
  return operator === '+' && type === TEXT ? LIVE : undefined;
}

/** Who adds 10 % to a quantity means a tenth of it. */
function percentSuggestion(source: Source, operator: string, left: Side, right: Side): string | undefined {
  const share = slice(source, right);
  if ((operator !== '+' && operator !== '-') || !/(?:%|percent)$/u.test(share)) return undefined;
  return `for ${share} ${operator === '+' ? 'more' : 'less'} write ${slice(source, left)} * (1 ${operator} ${share})`;
}

/** The factor that the right side lacks, said in words. */
function factorSuggestion(
  source: Source,
  a: QuantityType,
  b: QuantityType,
  left: Side,
  right: Side,
): string | undefined {
  const leftText = slice(source, left);
  const rightText = slice(source, right);
  if (b.dimension === DIMENSIONLESS) {
    const unit = exampleUnit(a.dimension);
    return unit === undefined ? undefined : `give ${rightText} a unit, for instance ${rightText} * 1 ${unit}`;
  }
  if (a.dimension === DIMENSIONLESS) {
    const unit = exampleUnit(b.dimension);
    return unit === undefined ? undefined : `give ${leftText} a unit, for instance ${leftText} * 1 ${unit}`;
  }
  const missing = divide(a.dimension, b.dimension);
  const name = everyday(missing);
  if (name !== undefined) return `multiply ${rightText} by ${article(name)}`;
  const inverse = everyday(divide(b.dimension, a.dimension));
  if (inverse !== undefined) return `divide ${rightText} by ${article(inverse)}`;
  return `the two differ by a factor of ${describeDimension(missing)}`;
}

/** Factors that a person may have forgotten; nobody forgets a permeance. */
const EVERYDAY: ReadonlySet<string> = new Set([
  'length',
  'area',
  'volume',
  'time',
  'mass',
  'pressure',
  'velocity',
]);

function everyday(dimension: Dimension): string | undefined {
  const name = dimensionName(dimension);
  return name !== undefined && EVERYDAY.has(name) ? name : undefined;
}

export function article(name: string): string {
  return /^(?:a|an|the) /.test(name) ? name : `${/^[aeiou]/.test(name) ? 'an' : 'a'} ${name}`;
}

function readings(
  source: Source,
  operator: string,
  a: QuantityType,
  b: QuantityType,
  left: Side,
  right: Side,
  whole: Span,
  found: string,
): Diagnostic {
  if (a.reading && b.reading)
    return diagnostic('reading-sum', whole, 'two temperature readings cannot be added', {
      found,
      expected: 'a reading and a difference, or reading − reading',
      suggestion: `for the mean write ${slice(source, right)} + (${slice(source, left)} - ${slice(source, right)}) / 2; differences are written in Fdeg or Cdeg`,
    });
  const reading = a.reading ? left : right;
  const other = a.reading ? right : left;
  if (other.type.kind === 'quantity' && describeType(other.type) === 'a temperature difference') {
    if (operator === '-')
      return diagnostic('reading-from-difference', whole, 'a reading cannot be taken from a difference', {
        found,
        expected: 'reading − reading, or reading − difference',
        suggestion: `write ${slice(source, reading)} - ${slice(source, other)} if that is meant`,
      });
    return diagnostic('reading-and-difference', whole, 'a reading and a difference cannot be compared', {
      found,
      expected: 'two readings or two differences',
      suggestion: 'subtract a second reading first; differences are written in Fdeg or Cdeg',
    });
  }
  return diagnostic('dimension-mismatch', whole, `these two ${VERBS[operator] ?? 'cannot be compared'}`, {
    found,
    expected: 'a temperature on both sides',
    suggestion: `give ${slice(source, other)} a unit: degF or degC for a reading, Fdeg or Cdeg for a difference`,
  });
}

/** A reading where only a difference or an absolute temperature makes sense. */
export function readingRefused(source: Source, side: Side, what: string): Diagnostic {
  const text = slice(source, side);
  return diagnostic('reading-scaled', side, `a temperature reading cannot be ${what}`, {
    found: `${text} is a point on the scale; 0 °F and 0 °C are not "nothing"`,
    expected: 'a temperature difference, or an absolute temperature',
    suggestion: `subtract another reading, or write absolute(${text})`,
    replacement: `absolute(${text})`,
  });
}

/** A power whose exponent is not a constant, of something with a dimension. */
export function powerRefused(source: Source, base: Side, exponent: Side): Diagnostic {
  const text = slice(source, base);
  const unit = base.type.kind === 'quantity' ? (exampleUnit(base.type.dimension) ?? 'unit') : 'unit';
  return diagnostic(
    'power-dimension',
    { start: base.start, end: exponent.end },
    'the unit of this power would depend on the exponent',
    {
      found: `${text} is ${describeType(base.type)}; ${slice(source, exponent)} is not a constant`,
      expected: 'a plain number as base, or a constant exponent',
      suggestion: `divide by a reference quantity first: (${text} / (1 ${unit})) ^ ${slice(source, exponent)}`,
      replacement: `(${text} / (1 ${unit})) ^ ${slice(source, exponent)}`,
    },
  );
}

/** A function of plain numbers, given a quantity. */
export function plainNumberNeeded(source: Source, name: string, side: Side): Diagnostic {
  const text = slice(source, side);
  const unit = side.type.kind === 'quantity' ? exampleUnit(side.type.dimension) : undefined;
  return diagnostic('plain-number', side, `${name} takes a plain number`, {
    found: `${text} is ${describeType(side.type)}`,
    ...(unit === undefined
      ? {}
      : {
          suggestion: `divide by a reference quantity: ${name}(${text} / (1 ${unit}))`,
          replacement: `${text} / (1 ${unit})`,
        }),
  });
}

export function needs(
  source: Source,
  side: Side,
  expected: string,
  where: string,
  suggestion?: string,
): Diagnostic {
  return diagnostic('kind', side, `${where} needs ${expected}`, {
    found: `${slice(source, side)} is ${describeType(side.type)}`,
    expected,
    ...(suggestion === undefined ? {} : { suggestion }),
  });
}

/** The unit beside a formula asserts what it yields; this says that it does not. */
export function unitMismatch(text: string, found: Type, wanted: QuantityType, unit: string): Diagnostic {
  const whole = { start: 0, end: text.length };
  const parts = {
    found: `the formula gives ${describeType(found)}`,
    expected: `${describeType(wanted)} (${unit})`,
  };
  if (found.kind !== 'quantity')
    return diagnostic('unit-assertion', whole, `this cell is in ${unit}, the formula is not`, {
      ...parts,
      suggestion:
        found.kind === 'record' ? 'take one field of the record: name.field' : 'clear the unit of this cell',
    });
  const meant = meantFor(unit.trim(), { dimension: found.dimension, reading: found.reading });
  if (meant !== undefined)
    return diagnostic('unit-assertion', whole, `this cell is in ${unit}, the formula is not`, {
      ...parts,
      suggestion: `did you mean the unit ${meant}?`,
    });
  const missing = dimensionName(divide(wanted.dimension, found.dimension));
  const excess = dimensionName(divide(found.dimension, wanted.dimension));
  return diagnostic('unit-assertion', whole, `this cell is in ${unit}, the formula is not`, {
    ...parts,
    suggestion:
      found.dimension === DIMENSIONLESS
        ? `give the number a unit, for instance * 1 ${unit}`
        : found.dimension === wanted.dimension
          ? 'readings are written in degF or degC, differences in Fdeg or Cdeg'
          : excess !== undefined
            ? `divide by ${article(excess)}, or change the unit of this cell`
            : missing !== undefined
              ? `multiply by ${article(missing)}, or change the unit of this cell`
              : 'change the unit of this cell, or the formula',
  });
}

/** Typed values: what a person typed into a cell or a row becomes a number in SI, a text, a blank, or a fault. */
import {
  closest,
  isEntryLike,
  parseUnit,
  plainWidth,
  readEntry,
  type Literal,
  type Unit,
} from '../quantity/index.ts';
import { isDiagnostic } from '../formula/diagnostic.ts';
import type { Expression } from '../formula/expression.ts';
import { fault } from '../formula/library.ts';
import { parse } from '../formula/parse.ts';
import type { EntryType } from './node.ts';
import { BLANK, FAULT, VALUE, type Cause, type SlotState, type Storage } from './storage.ts';

export interface Entered {
  readonly value: number;
  readonly state: SlotState;
  readonly cause?: Cause;
  /** Typed half width of ±, SI. */
  readonly plusMinus?: number;
  readonly unit?: Unit | undefined;
}

/** The unit of a plain number, for places where another dimension is a mistake. */
export const PLAIN: Unit = plainUnit();

function plainUnit(): Unit {
  const unit = parseUnit('');
  if ('problem' in unit) throw new Error(unit.problem);
  return unit;
}

const NOTHING: Entered = { value: NaN, state: BLANK };
const PLAIN_NUMBER = /^-?\d+(?:\.\d+)?$/;

export function enter(
  storage: Storage,
  type: EntryType,
  text: string | undefined,
  unit: Unit | undefined,
  choices: readonly string[] | undefined,
): Entered {
  if (text === undefined || text === '') return NOTHING;
  if (type === 'number') return enterNumber(text, unit);
  const trimmed = text.trim();
  if (trimmed === '') return NOTHING;
  if (choices && !choices.includes(trimmed))
    return {
      value: NaN,
      state: FAULT,
      cause: { fault: fault(`"${trimmed}" is not one of the choices`, choicesNamed(trimmed, choices)) },
    };
  return { value: storage.textNumber(trimmed), state: VALUE };
}

/** So many choices are named; of more the number is told. */
const NAMED = 12;

/** The nearest first, where one is near enough to be meant. */
function choicesNamed(text: string, choices: readonly string[]): string {
  if (choices.length === 0)
    return 'there is nothing to choose from yet: fill the list that it is chosen from';
  const near = closest(text, choices);
  const shown = choices.slice(0, NAMED).join(', ');
  const more = choices.length > NAMED ? ` or another of the ${choices.length}` : '';
  return near === undefined
    ? `choose ${shown}${more}`
    : `did you mean ${near}? The choices are ${shown}${more}`;
}

function enterNumber(text: string, unit: Unit | undefined): Entered {
  if (PLAIN_NUMBER.test(text)) {
    const n = Number(text);
    return { value: unit ? n * unit.factor + unit.offset : n, state: VALUE, unit };
  }
  const entry = readEntry(text, unit);
  if ('blank' in entry) return NOTHING;
  if ('problem' in entry)
    return { value: NaN, state: FAULT, cause: { fault: fault(entry.problem, entry.suggestion) } };
  return fromLiteral(entry.literal);
}

function fromLiteral(literal: Literal): Entered {
  return {
    value: literal.si,
    state: VALUE,
    unit: literal.unit,
    ...(literal.plusMinus === undefined ? {} : { plusMinus: literal.plusMinus }),
  };
}

/** Whether the text of a number cell is a typed value; otherwise it is a formula. */
export function isTyped(text: string, unit: string): boolean {
  const trimmed = text.trim();
  if (trimmed === '' || PLAIN_NUMBER.test(trimmed)) return true;
  if (trimmed.startsWith('=')) return false;
  const known = parseUnit(unit);
  const hasDimension = !('problem' in known) && known.dimension !== PLAIN.dimension;
  if (isEntryLike(trimmed, hasDimension)) return true;
  // A name comes first in most formulas; only what begins like a number can be one value.
  if (!/^[-−–—+]?\s*\$?\s*[\d.½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]/u.test(plainWidth(trimmed))) return false;
  if (!('problem' in readEntry(trimmed, 'problem' in known ? undefined : known))) return true;
  const expression = parse(trimmed);
  // What neither reads as a formula is said about as a value: "12 fts" is a mistyped unit.
  if (!isDiagnostic(expression)) return isLiteral(expression);
  return VALUE_LIKE.has(expression.code) && !CALCULATED.test(trimmed);
}

/** An operator between spaces, or a bracket directly behind a number, is no part of one value. */
const CALCULATED = /\s[-+*/^]\s|\d\((?!\d+\))/u;

/** Mistakes that a mistyped value makes; any other was meant as a formula. */
const VALUE_LIKE: ReadonlySet<string> = new Set([
  'no-operator',
  'loose-unit',
  'comma',
  'literal',
  'dot',
  'quote',
  'character',
]);

function isLiteral(e: Expression): boolean {
  return e.kind === 'literal' || (e.kind === 'unary' && e.operator === '-' && e.operand.kind === 'literal');
}

/** How a state is shown: as strings, in the unit system asked for. The numbers themselves come from the workbook. */
import {
  displayUnit,
  formatNumber,
  fromSI,
  parseUnit,
  plainWords,
  readEntry,
  saidInLine,
  type Stretch,
  type Unit,
  type UnitSystem,
} from '../engine/index.ts';
import { localNumber, localSaid, localText } from './locale.ts';
import type { SampledCheck } from '../workbook/index.ts';
import type { CellState, ValueKind } from './view.ts';

/** What a cell or a column says about its display. */
export interface DisplayRule {
  readonly unit: string;
  readonly places?: number;
  readonly pinned?: boolean;
  /** What was typed, where it was: feet and inches are shown as a carpenter wrote them. */
  readonly text?: string;
}

export type Shown =
  | {
      readonly kind: 'value';
      readonly value: string;
      readonly plusMinus?: string;
      /** True: there is a ±, and to first order it cannot be told. */
      readonly untold?: true;
      readonly unit: string;
    }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'blank'; readonly reason: string }
  | { readonly kind: 'faulty'; readonly message: string; readonly suggestion?: string }
  | { readonly kind: 'waiting'; readonly for: string };

export function ownUnit(text: string): Unit | undefined {
  if (text === '') return undefined;
  const unit = parseUnit(text);
  return 'problem' in unit ? undefined : unit;
}

/** The unit a quantity is shown in: its own where it fits the system or is pinned, else its counterpart. */
export function shownUnit(
  rule: DisplayRule,
  type: ValueKind | undefined,
  system: UnitSystem,
): Unit | undefined {
  const own = ownUnit(rule.unit);
  if (rule.pinned && own) return own;
  if (type?.kind === 'quantity') return displayUnit(own, type.dimension, type.reading, system);
  return own && displayUnit(own, own.dimension, own.reading, system);
}

export function show(state: CellState, rule: DisplayRule, system: UnitSystem): Shown {
  switch (state.state) {
    case 'blank':
      return { kind: 'blank', reason: state.reason ?? '' };
    case 'invalid':
      return {
        kind: 'faulty',
        message: saidInLine(state.diagnostic),
        ...(state.diagnostic.suggestion === undefined ? {} : { suggestion: state.diagnostic.suggestion }),
      };
    case 'fault': {
      const { fault, suggestion, numerals, span } = state;
      // Without a place in a formula it is about what was typed.
      const said = (words: string, places: readonly Stretch[] | undefined) =>
        (numerals ?? span) ? localWords(words, places, system) : localSaid(words);
      return {
        kind: 'faulty',
        message: said(fault, numerals?.fault),
        ...(suggestion === undefined ? {} : { suggestion: said(suggestion, numerals?.suggestion) }),
      };
    }
    case 'waiting':
      return { kind: 'waiting', for: state.for };
    case 'value':
      if (typeof state.value === 'string') return { kind: 'text', text: saidIn(state, system) };
      if (typeof state.value === 'boolean') return { kind: 'text', text: state.value ? 'yes' : 'no' };
      return (
        (state.typed ? feetInches(rule, shownUnit(rule, state.type, system)) : undefined) ??
        withUntold(state, quantity(state.value, state.plusMinus, rule, shownUnit(rule, state.type, system)))
      );
  }
}

/** Words that a function wrote, with their numbers and units as the screen has them. */
function localWords(text: string, numerals: readonly Stretch[] | undefined, system: UnitSystem): string {
  let said = text;
  for (const { start, end } of numerals?.toReversed() ?? [])
    said = said.slice(0, start) + localNumeral(text.slice(start, end), system) + said.slice(end);
  return said;
}

/** What a state says in words, where it says anything. */
export function saidIn(state: CellState, system: UnitSystem): string {
  return state.state === 'value' && typeof state.value === 'string'
    ? localWords(state.value, state.numerals, system)
    : '';
}

/** The same of what a function was just asked for, before any engine took it over. */
export function saidByFunction(words: string, system: UnitSystem): string {
  const { text, numerals } = plainWords(words);
  return localWords(text, numerals, system);
}

/** Functions write US units where they write any that the switch changes. */
function localNumeral(text: string, system: UnitSystem): string {
  const entry = system === 'us' || /^[\d.,−]+$/u.test(text) ? undefined : readEntry(text, undefined);
  if (!entry || !('literal' in entry)) return localNumber(text);
  const { si, unit } = entry.literal;
  if (unit === undefined) return localNumber(text);
  const there = displayUnit(unit, unit.dimension, unit.reading, system);
  if (there === unit) return localNumber(text);
  // A tape's marks have no decimals; those of a number are about as many in the other unit.
  const places = /['"/]/u.test(text) ? undefined : (/\.(\d+)/u.exec(text)?.[1]?.length ?? 0);
  const rule = { unit: unit.text, ...(places !== undefined && { places }) };
  return asText(quantity(si, undefined, rule, there));
}

function withUntold({ doubt }: Extract<CellState, { state: 'value' }>, shown: Shown): Shown {
  return shown.kind === 'value' && doubt === 'flat' ? { ...shown, untold: true } : shown;
}

/** A length typed in feet and inches, where feet are shown. */
function feetInches(rule: DisplayRule, unit: Unit | undefined): Shown | undefined {
  if (rule.text === undefined || unit?.symbol !== 'ft' || !/['"′″’”-]|\d\s*(?:ft|in)/u.test(rule.text))
    return undefined;
  const read = readEntry(rule.text, unit);
  if (!('literal' in read) || read.literal.form !== 'feet-inches' || read.literal.plusMinus !== undefined)
    return undefined;
  return { kind: 'value', value: localText(rule.text.trim()), unit: '' };
}

function quantity(
  si: number,
  plusMinus: number | undefined,
  rule: DisplayRule,
  unit: Unit | undefined,
): Shown {
  const own = ownUnit(rule.unit);
  const value = unit ? fromSI(si, unit) : si;
  const half = plusMinus === undefined || !unit ? plusMinus : plusMinus / unit.factor;
  if (unit?.symbol === 'in' && rule.places !== 0 && !(half !== undefined && half > 0)) {
    const onRule = inchFraction(value);
    if (onRule !== undefined) return { kind: 'value', value: onRule, unit: unit.symbol };
  }
  const shifted = rule.places === undefined ? undefined : rule.places + shiftOfPlaces(own, unit);
  // What lies on a mark of the rule is no finer than tenths of a millimetre.
  const isOnRule =
    own?.symbol === 'in' && unit?.symbol === 'mm' && inchFraction(fromSI(si, own)) !== undefined;
  const places = shifted !== undefined && isOnRule ? Math.min(shifted, 1) : shifted;
  const text = formatNumber(value, {
    ...(places === undefined ? {} : { places: Math.max(0, places) }),
    ...(half === undefined || !(half > 0) ? {} : { plusMinus: half }),
  });
  return {
    kind: 'value',
    value: localNumber(text.value),
    ...(text.plusMinus === undefined || text.plusMinus === '0'
      ? {}
      : { plusMinus: localNumber(text.plusMinus) }),
    unit: unit?.symbol ?? '',
  };
}

/** A length that lies on a mark of the rule, to 1/64 in, as a carpenter reads it: 158 15/16. */
function inchFraction(inches: number): string | undefined {
  const parts = Math.round(Math.abs(inches) * 64);
  if (Math.abs(Math.abs(inches) * 64 - parts) > 1e-6) return undefined;
  const whole = Math.floor(parts / 64);
  let above = parts % 64;
  let below = 64;
  while (above !== 0 && above % 2 === 0) {
    above /= 2;
    below /= 2;
  }
  const sign = inches < 0 && parts !== 0 ? '−' : '';
  const wholeText = whole === 0 && above !== 0 ? [] : [localNumber(formatNumber(whole, { places: 0 }).value)];
  return sign + [...wholeText, ...(above === 0 ? [] : [`${above}/${below}`])].join(' ');
}

/** The declared places belong to the own unit; another unit of a different size shows about as many digits. */
function shiftOfPlaces(own: Unit | undefined, shown: Unit | undefined): number {
  if (!own || !shown || own.factor === shown.factor) return 0;
  return Math.round(Math.log10(shown.factor / own.factor));
}

/** A result as a number alone, in the column's own unit and without rounding, words with points: for files. */
export function plainText(state: CellState, rule: DisplayRule): string {
  if (state.state !== 'value') return '';
  if (typeof state.value === 'string') return state.value;
  if (typeof state.value === 'boolean') return state.value ? 'yes' : 'no';
  const own = ownUnit(rule.unit);
  return String(Number((own ? fromSI(state.value, own) : state.value).toPrecision(12)));
}

/** One line of text, for the clipboard, titles and the live region. */
export function asText(shown: Shown): string {
  switch (shown.kind) {
    case 'value': {
      const plusMinus = shown.plusMinus === undefined ? '' : `± ${shown.plusMinus}`;
      const text = [shown.value, plusMinus, shown.unit].filter((part) => part !== '').join(' ');
      return shown.untold ? `${text}, ${DOUBT_WORDS.flat}` : text;
    }
    case 'text':
      return shown.text;
    case 'blank':
      return shown.reason;
    case 'faulty':
      return shown.message;
    case 'waiting':
      return `waits for ${shown.for}`;
  }
}

type DoubtKind = NonNullable<Extract<CellState, { state: 'value' }>['doubt']>;

const DOUBT_WORDS: Readonly<Record<DoubtKind, string>> = {
  undecided: 'undecided',
  'not-smooth': 'at a corner',
  flat: '± not told',
};

const DOUBT_TEXTS: Readonly<Record<DoubtKind, string>> = {
  undecided:
    'Undecided: a comparison in this formula is closer than its ± may move it (twice the standard uncertainty), so it could go the other way.',
  'not-smooth':
    'At a corner: min, max, abs or a rounding step turns within reach of the ±, so the ± shown may be too small or too large.',
  flat: 'The ± cannot be told from the slope: the result is flat here, as x² is at 0, yet it does move with what it rests on. Open its ± and check it by sampling.',
};

/** The engine's doubt about a result in a word; blank where it has none. */
export function doubtWord(state: CellState): string {
  const doubt = doubtOf(state);
  return doubt === undefined ? '' : DOUBT_WORDS[doubt];
}

/** What the word means, and what it means for the person. */
export function doubtText(state: CellState): string {
  const doubt = doubtOf(state);
  return doubt === undefined ? '' : DOUBT_TEXTS[doubt];
}

/** A corner bends a ±, and a verdict has none. */
function doubtOf(state: CellState): DoubtKind | undefined {
  if (state.state !== 'value') return undefined;
  return state.doubt === 'not-smooth' && typeof state.value !== 'number' ? undefined : state.doubt;
}

/** The 95 % interval of a sampled check that disagrees with the linear ±, which it then stands for; else undefined. */
export function sampledText(
  check: SampledCheck | undefined,
  rule: DisplayRule,
  state: CellState,
  system: UnitSystem,
): string | undefined {
  if (check === undefined || check.agrees || state.state !== 'value') return undefined;
  const unit = shownUnit(rule, state.type, system);
  const plusMinus = check.uncertainty / (unit?.factor ?? 1);
  if (!(plusMinus > 0)) return undefined;
  const end = (si: number): string =>
    localNumber(formatNumber(unit ? fromSI(si, unit) : si, { plusMinus }).value);
  return `sampled ${end(check.low)} to ${end(check.high)}`;
}

/** With a space before it that no formatter of markup takes away: what is read aloud and copied needs it. */
export function beside(text: string): string {
  return ` ${text}`;
}

/** At least and at most: the limits a person sets to the numbers of a column, read as an entry of it would be. */
import { readEntry, type Entry, type EntryProblem, type Unit } from '../../engine/index.ts';
import { ownUnit } from '../display.ts';
import { inShownUnit } from '../entry.ts';
import { storedText } from '../locale.ts';

/** In SI; undefined where there is none, or none that can be read. */
export interface Limits {
  readonly least: number | undefined;
  readonly most: number | undefined;
}

/** Dust of the arithmetic: what was typed as 2 1/2" is no less than 2.5 in. */
const DUST = 1e-12;

/** The unit the column has for itself, and the one on the screen. */
export interface LimitUnits {
  readonly own: string;
  readonly shown: Unit | undefined;
}

/** A limit as it is kept: with points, and with the unit that a bare number took, so that it means the same later. */
export function limitToKeep(typed: string, { own, shown }: LimitUnits): string {
  const read = storedText(typed.trim());
  const text = inShownUnit(typeof read === 'string' ? read : read.decimal, {
    own,
    shown: shown?.symbol ?? own,
  });
  const entry = readEntry(text, undefined);
  const bare = 'literal' in entry && entry.literal.unit === undefined && entry.literal.form === 'number';
  return bare ? `${text} ${(ownUnit(own) ?? shown)?.symbol ?? ''}`.trim() : text;
}

function entryOf(text: string, { own, shown }: LimitUnits): Entry {
  const entry = readEntry(text, ownUnit(own) ?? shown);
  return 'literal' in entry && entry.literal.plusMinus !== undefined
    ? { problem: 'a limit has no ±', suggestion: 'type the value alone' }
    : entry;
}

function limitOf(text: string, units: LimitUnits): number | undefined {
  const entry = entryOf(text, units);
  return 'literal' in entry ? entry.literal.si : undefined;
}

export function limitsOf(
  asked: { readonly least: string; readonly most: string },
  units: LimitUnits,
): Limits {
  return { least: limitOf(asked.least, units), most: limitOf(asked.most, units) };
}

/** What is wrong with a limit, and what to type instead. */
export function limitProblem(text: string, units: LimitUnits): string {
  const entry = entryOf(text, units);
  return 'problem' in entry ? problemText(entry) : '';
}

function problemText({ problem, suggestion }: EntryProblem): string {
  return suggestion === undefined ? problem : `${problem}; ${suggestion}`;
}

export function hasLimits({ least, most }: Limits): boolean {
  return least !== undefined || most !== undefined;
}

export function crossed({ least, most }: Limits): boolean {
  return least !== undefined && most !== undefined && exceeds(least, most);
}

export function within({ least, most }: Limits, value: number): boolean {
  if (least !== undefined && exceeds(least, value)) return false;
  return most === undefined || !exceeds(value, most);
}

function exceeds(a: number, b: number): boolean {
  return a - b > DUST * Math.max(Math.abs(a), Math.abs(b));
}

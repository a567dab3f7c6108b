/** What a person types, between the editor and the stored text. */
import { readEntry } from '../engine/index.ts';
import type { Cell } from '../workbook/index.ts';
import { ownUnit } from './display.ts';
import { localText, storedText } from './locale.ts';

const NUMBER = String.raw`[\d.,\s]*\d[\d.,]*(?:[eE][+-]?\d+)?`;
const BARE = new RegExp(String.raw`^\s*[-−+]?\s*${NUMBER}(?:\(\d+\))?\s*(?:(?:±|\+-|\+/-)\s*${NUMBER}\s*)?$`);

/** A number (with its ±, if any) without a unit. */
export function isBareNumber(text: string): boolean {
  return BARE.test(text);
}

/** A value with or without its ± and unit, as typed on this screen: no formula. */
export function isValue(text: string): boolean {
  const read = storedText(text);
  return 'literal' in readEntry(typeof read === 'string' ? read : read.decimal, undefined);
}

/** Whether a new job can be asked for it: a formula is the workbook's own. */
export function canBeAsked({ input, text, type, unit }: Cell): boolean {
  if (input === true || text === '') return true;
  return type === 'number' ? 'literal' in readEntry(text, ownUnit(unit)) : !text.trimStart().startsWith('=');
}

export interface Units {
  /** The unit of the cell or column: a stored bare number means this one. */
  readonly own: string;
  /** The unit on the screen: a typed bare number means this one. */
  readonly shown: string;
}

/** The stored text as it is opened in the editor: a number that is on the screen in another unit names its own. */
export function textToEdit(stored: string, units: Units): string {
  return units.own !== units.shown && isBareNumber(stored) && units.own !== ''
    ? `${stored.trim()} ${units.own}`
    : stored;
}

/** Whether a text as it is opened names another unit than the screen's: what is put into it would mean that one. */
export function isInOtherUnit(opened: string, { shown }: Units): boolean {
  const entry = readEntry(plainEntry(opened), undefined);
  if (!('literal' in entry) || entry.literal.unit === undefined) return false;
  const there = ownUnit(shown);
  const { unit, form } = entry.literal;
  // Feet and inches are one way to write a length.
  if (form === 'feet-inches') return there?.symbol !== 'ft' && there?.symbol !== 'in';
  return there !== undefined && unit.symbol !== there.symbol;
}

/** The stored text as a field shows it: words, for which `units` is undefined, have no comma that could be a point. */
export function textToOpen(stored: string, units: Units | undefined): string {
  return units ? localText(textToEdit(stored, units)) : stored;
}

/** The text to store for what was typed; undefined when the person changed nothing. Words stay as they are. */
export function textToStore(typed: string, opened: string, units: Units | undefined): string | undefined {
  if (typed === opened) return undefined;
  return units ? inShownUnit(plainEntry(typed), units) : typed.trim();
}

/** What was typed as a value on this screen, as it is stored: of two readings of a comma the decimal one. */
export function plainEntry(typed: string): string {
  const read = storedText(typed.trim());
  return typeof read === 'string' ? read : read.decimal;
}

/** `72°`: a temperature in the scale on the screen. */
const SCALELESS = /\s*(?:[°º˚]|deg(?:s|rees?)?)\s*$/iu;

/** A typed bare number means the unit on the screen, which is named where the stored text would mean another. */
export function inShownUnit(text: string, units: Units): string {
  const number = text.replace(SCALELESS, '');
  return units.own !== units.shown && isBareNumber(number) && units.shown !== ''
    ? `${number} ${units.shown}`
    : text;
}

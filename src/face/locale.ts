/**
 * Numbers as the person's language writes them. The workbook keeps points, so that a file means the same everywhere;
 * commas exist on the screen and in what is typed there. Formulas are written with points in every language, because
 * a comma separates the arguments of a function.
 */
import { plainWidth, readEntry } from '../engine/index.ts';

export interface NumberSigns {
  readonly decimal: '.' | ',';
  readonly group: string;
}

/** Known without asking, which takes a browser as long as drawing a table. */
const POINT = /^en(?:-(?:US|GB|CA|AU|NZ|IE))?(?:@posix)?$/u;

/** Some systems hand the browser a name that is no language tag (`en-US@posix`): read like English. */
export function signsOf(language: string): NumberSigns {
  if (POINT.test(language)) return { decimal: '.', group: ',' };
  let format: Intl.NumberFormat;
  try {
    format = new Intl.NumberFormat(language);
  } catch {
    format = new Intl.NumberFormat('en');
  }
  const parts = format.formatToParts(1_234_567.5);
  const of = (type: Intl.NumberFormatPartTypes) => parts.find((part) => part.type === type)?.value;
  return { decimal: of('decimal') === ',' ? ',' : '.', group: of('group') ?? ',' };
}

/** What the browser says. */
export const signs: NumberSigns = signsOf(typeof navigator === 'undefined' ? 'en' : navigator.language);

/** A number as the engine writes it (`1,234.5`) with the signs of the screen. */
export function localNumber(text: string, { decimal, group }: NumberSigns = signs): string {
  if (decimal === '.') return text;
  return text.replace(/[.,]/gu, (sign) => (sign === '.' ? decimal : group));
}

/** A number with a point and without groups, for other programs on this device. */
export function localPlain(text: string, { decimal }: NumberSigns = signs): string {
  return decimal === ',' && /^[-−]?\d+\.\d+(?:e[+-]?\d+)?$/iu.test(text) ? text.replace('.', ',') : text;
}

const WRITTEN = /\d[\d.,]*\d|\d[.,]|[.,]\d+/gu;

/** Stored text as it is opened for editing. Only values are rewritten; a formula keeps its points. */
export function localText(stored: string, { decimal }: NumberSigns = signs): string {
  if (decimal === '.' || !isValue(stored)) return stored;
  return stored.replace(WRITTEN, (number) => number.replaceAll(',', '').replace('.', ','));
}

/** What is said of a typed value, its numbers as they were typed; formulas are told with points, as they are written. */
export function localSaid(said: string, { decimal }: NumberSigns = signs): string {
  if (decimal === '.') return said;
  return said.replace(/(?<![\p{L}\d]|\d[.,])\d+\.\d+(?!\d|[.,]\d)/gu, (number) => number.replace('.', ','));
}

/** Words of a limit, `at most 50,000 rows`, as the screen writes numbers; what is quoted stays as it is. */
export function localLimits(said: string, { decimal, group }: NumberSigns = signs): string {
  if (decimal === '.') return said;
  return said.replace(/(?<![\p{L}\d.,'"“„‘])\d{1,3}(?:,\d{3})+(?![\d.,]*\d)/gu, (number) =>
    number.replaceAll(',', group),
  );
}

export interface TwoReadings {
  /** What was typed. */
  readonly written: string;
  /** The whole text, its comma or point read as the decimal sign. */
  readonly decimal: string;
  /** The whole text, its comma or point read between thousands. */
  readonly thousands: string;
}

/**
 * What was typed, as it is stored. `12,5` has one meaning where commas are decimal signs; `1,234` and `1.234` there
 * have two, and the person is asked. Where points are decimal signs the text stays as it is.
 */
export function storedText(typed: string, { decimal }: NumberSigns = signs): string | TwoReadings {
  const text = plainWidth(typed);
  if (decimal === '.' || !/[.,]/u.test(text)) return text === typed || !isValue(text) ? typed : text;
  let unclear: string | undefined;
  const read = (asDecimal: boolean) =>
    text.replace(WRITTEN, (number) => {
      const both = number.includes('.') && number.includes(',');
      if (!both && /^[1-9]\d{0,2}[.,]\d{3}$/u.test(number)) {
        unclear ??= number;
        return asDecimal ? number.replace(',', '.') : number.replace(/[.,]/u, '');
      }
      return withPoint(number);
    });
  const [decimals, thousands] = [read(true), read(false)];
  // What is no value is told about with points; a formula, which has its commas in calls, stays as it is.
  if (!isValue(decimals)) return isFormula(text) ? typed : text.replace(COMMA, withPoint);
  return unclear === undefined ? decimals : { written: unclear, decimal: decimals, thousands };
}

/** Numbers with a comma, before which no others may stand in a call. */
const COMMA = /\d[\d.]*,\d+(?![\d.,])/gu;

function isFormula(text: string): boolean {
  return /[\p{L}_]\s*\(|["*^=]|^\s*\p{L}[\p{L}\p{N}_.]*\s*[-+/<>]|[-+/<>]\s*\p{L}/u.test(text);
}

/**
 * The last sign is the decimal one when it stands alone; what stands before it, or a sign that comes twice, separates
 * groups of three. Otherwise the number is written in no way that is known, and stays as it is.
 */
function withPoint(number: string): string {
  const last = Math.max(number.lastIndexOf('.'), number.lastIndexOf(','));
  const sign = number.charAt(last);
  const isRepeated = number.indexOf(sign) !== last;
  const whole = isRepeated ? number : number.slice(0, last);
  const digits = whole.replace(/[.,]/gu, '');
  if (digits !== whole && !GROUPS.test(whole)) return number;
  return isRepeated ? digits : `${digits}.${number.slice(last + 1)}`;
}

const GROUPS = /^\d{1,3}(?:(?:\.\d{3})+|(?:,\d{3})+)$/u;

function isValue(text: string): boolean {
  return 'literal' in readEntry(text, undefined);
}

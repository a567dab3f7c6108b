/** Numbers as they are shown. Rounding happens here and nowhere else. */
import { writeSuperscript } from './superscript.ts';
import { fromSI } from './unit.ts';
import type { Unit } from './unit.ts';

export interface NumberFormat {
  /** Decimals of a value without ±. */
  readonly places?: number | undefined;
  /** In the unit of the value. */
  readonly plusMinus?: number | undefined;
}

export interface FormattedNumber {
  readonly value: string;
  readonly plusMinus?: string;
}

const SIGNIFICANT = 4;
/** From here on a number is written with a power of ten. */
const HUGE = 1e12;
const TINY = 1e-4;
/** A ± below this part of its value is what rounding left over: written out it would take fourteen digits. */
const NEGLIGIBLE = 1e-9;
/** `toFixed` and the reader both lose their sense beyond these. */
const MAX_PLACES = 15;

/** Power of ten of the first digit, after rounding to `digits` digits: 0.0996 to two digits starts at 0.1. */
function magnitude(value: number, digits: number): number {
  return Number(value.toExponential(digits - 1).split('e')[1]);
}

function sign(negative: boolean, digits: string): string {
  return negative && /[1-9]/u.test(digits) ? `−${digits}` : digits;
}

/** Rounds to `places` decimals, or to tens, hundreds … where `places` is negative; with thousands separators. */
function fixed(value: number, places: number): string {
  const size = Math.abs(value);
  const digits = places >= 0 ? size.toFixed(Math.min(places, MAX_PLACES)) : roundToTens(size, -places);
  const [whole = '0', decimals] = digits.split('.');
  const grouped = whole.replace(/\B(?=(?:\d{3})+(?!\d))/gu, ',');
  return sign(value < 0, decimals === undefined ? grouped : `${grouped}.${decimals}`);
}

function roundToTens(size: number, zeros: number): string {
  const unit = 10 ** zeros;
  return (Math.round(size / unit) * unit).toFixed(0);
}

function raisedTen(exponent: number): string {
  return `×10${writeSuperscript(exponent)}`;
}

function isExtreme(size: number): boolean {
  return size !== 0 && (size >= HUGE || size < TINY);
}

/** value · 10^tens without leaving the range of numbers on the way. */
function shifted(value: number, tens: number): number {
  const [mantissa, exponent] = value.toExponential().split('e');
  return Number(`${mantissa ?? '0'}e${String(Number(exponent) + tens)}`);
}

function withPlusMinus(value: number, plusMinus: number): FormattedNumber {
  const half = Math.abs(plusMinus);
  const place = magnitude(half, 2) - 1;
  const size = Math.max(Math.abs(value), half);
  if (!isExtreme(size) && -place <= MAX_PLACES) {
    return { value: fixed(value, -place), plusMinus: fixed(half, -place) };
  }
  // One power of ten for both, so that the two can be compared at a glance.
  const exponent = magnitude(size, SIGNIFICANT);
  const decimals = Math.min(Math.max(exponent - place, 0), MAX_PLACES);
  const write = (v: number) => fixed(shifted(v, -exponent), decimals) + raisedTen(exponent);
  return { value: write(value), plusMinus: write(half) };
}

function withoutPlusMinus(value: number, places: number | undefined): string {
  const size = Math.abs(value);
  if (places !== undefined && size < HUGE) return fixed(value, Math.max(0, Math.round(places)));
  if (size === 0) return '0';
  const exponent = magnitude(size, SIGNIFICANT);
  if (isExtreme(size)) {
    const mantissa = size.toExponential(SIGNIFICANT - 1).split('e')[0] ?? '';
    const shortened = mantissa.replace(/\.?0+$/u, '');
    return sign(value < 0, shortened + raisedTen(exponent));
  }
  const text = fixed(value, Math.max(0, SIGNIFICANT - 1 - exponent));
  return text.includes('.') ? text.replace(/\.?0+$/u, '') : text;
}

/**
 * With ±: the ± to two significant digits and the value to the same place. Else `places` decimals; without them
 * four significant digits, whole numbers in full. A value that is no number is shown as a dash.
 */
export function formatNumber(value: number, format: NumberFormat = {}): FormattedNumber {
  if (Number.isNaN(value)) return { value: '–' };
  if (!Number.isFinite(value)) return { value: value < 0 ? '−∞' : '∞' };
  const { plusMinus, places } = format;
  if (plusMinus === undefined || !Number.isFinite(plusMinus))
    return { value: withoutPlusMinus(value, places) };
  if (Math.abs(plusMinus) <= NEGLIGIBLE * Math.abs(value) || plusMinus === 0)
    return { value: withoutPlusMinus(value, places), plusMinus: '0' };
  return withPlusMinus(value, plusMinus);
}

/** A value in SI, shown in `unit`; the ± of a reading is a difference and takes no offset. */
export function formatQuantity(
  si: number,
  unit: Unit,
  format: NumberFormat = {},
): FormattedNumber & { readonly unit: string } {
  const { plusMinus } = format;
  const half = plusMinus === undefined ? undefined : plusMinus / unit.factor;
  return { ...formatNumber(fromSI(si, unit), { places: format.places, plusMinus: half }), unit: unit.symbol };
}

/** 1.6097 m as 5' 3 3/8", to the nearest 1/denominator of an inch. */
export function formatFeetInches(metres: number, denominator = 16): string {
  if (!Number.isFinite(metres)) return formatNumber(metres).value;
  const parts = Math.round(Math.abs(metres / 0.0254) * denominator);
  const feet = Math.floor(parts / (12 * denominator));
  const inches = Math.floor(parts / denominator) - feet * 12;
  let above = parts % denominator;
  let below = denominator;
  while (above !== 0 && above % 2 === 0 && below % 2 === 0) {
    above /= 2;
    below /= 2;
  }
  const fraction = above === 0 ? '' : `${String(above)}/${String(below)}`;
  const wholeInches = inches === 0 && fraction !== '' && feet === 0 ? '' : String(inches);
  const inchText = `${[wholeInches, fraction].filter((part) => part !== '').join(' ')}"`;
  const text = feet === 0 ? inchText : `${String(feet)}' ${inchText}`;
  return metres < 0 && parts !== 0 ? `−${text}` : text;
}

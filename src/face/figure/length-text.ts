/** Lengths of drawings: from the unit on the screen to metres, and back to what a tape or a ruler says. */
import { localNumber } from '../locale.ts';
import { formatFeetInches, parseUnit, toSI } from '../../engine/index.ts';

/** Thirty-seconds: plaster is 3/32 in. */
const DENOMINATOR = 32;
const METRE = parseUnit('m');

/** Metres of a value shown in `unit`; undefined where it is no length. */
export function inMetres(value: unknown, unit: string): number | undefined {
  if (typeof value !== 'number') return undefined;
  const parsed = parseUnit(unit);
  if ('problem' in parsed || 'problem' in METRE || parsed.dimension !== METRE.dimension) return undefined;
  return toSI(value, parsed);
}

/** Feet, inches and fractions where the page shows feet or inches, else whole millimetres. */
export function lengthText(metres: number, unit: string): string {
  return unit === 'ft' || unit === 'in'
    ? formatFeetInches(metres, DENOMINATOR)
    : `${localNumber(String(Number((metres * 1000).toFixed(1))))} mm`;
}

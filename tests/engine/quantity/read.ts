import { parseUnit, readEntry, scanLiteral } from '../../../src/engine/quantity/index.ts';
import type { Literal, LiteralOptions, Unit } from '../../../src/engine/quantity/index.ts';

/** A unit that has to be readable. */
export function unit(text: string): Unit {
  const result = parseUnit(text);
  if ('problem' in result) throw new Error(`${text}: ${result.problem}`);
  return result;
}

/** A literal that has to be readable to the end of the text. */
export function literal(text: string, options?: LiteralOptions): Literal {
  const found = scanLiteral(text, 0, options);
  if (found === undefined || 'problem' in found) throw new Error(`${text}: ${found?.problem ?? 'nothing'}`);
  if (found.end !== text.length) throw new Error(`${text}: read to ${String(found.end)} only`);
  return found.literal;
}

/** An entry that has to be a value. */
export function entry(text: string, place?: string): Literal {
  const found = readEntry(text, place === undefined ? undefined : unit(place));
  if (!('literal' in found)) throw new Error(`${text}: ${'problem' in found ? found.problem : 'blank'}`);
  return found.literal;
}

/** What is said about an entry that is no value, as one line. */
export function refusal(text: string, place?: string): string {
  const found = readEntry(text, place === undefined ? undefined : unit(place));
  if (!('problem' in found)) throw new Error(`${text} was read`);
  return found.suggestion === undefined ? found.problem : `${found.problem}; ${found.suggestion}`;
}

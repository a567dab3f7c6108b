/** Fields and the key pad of a phone: which of the two keyboards a field asks for, and what its unit key offers. */
import { unitsOf, type Unit } from '../../engine/index.ts';
import { ownUnit } from '../display.ts';
import type { Session } from '../session.svelte.ts';

/** A finger is at work, on a phone or a tablet. */
export function isTouched(): boolean {
  return matchMedia('(max-width: 700px), (pointer: coarse)').matches;
}

/** `none`: our own pad stands for the phone's keyboard, so that nothing hides under it. */
export function fieldMode(session: Session, field: Element | undefined): 'none' | 'text' | 'decimal' {
  if (!isTouched()) return 'decimal';
  return session.letters && session.pad?.element === field ? 'text' : 'none';
}

const MOST = 11;

/** Symbols of the units that fit, the one on the screen first. */
export function unitKeys(unit: string, shown: Unit | undefined): string[] {
  const own = ownUnit(unit) ?? shown;
  if (!own) return [];
  const all = unitsOf(own.dimension, own.reading).map(({ symbol }) => symbol);
  return [...new Set([shown?.symbol ?? own.symbol, own.symbol, ...all])].filter(Boolean).slice(0, MOST);
}

/**
 * A field whose text was typed in another unit than the screen's: at rest it says its value in the unit on the screen;
 * touched it opens as typed, taken whole, so that what is typed then replaces it and means the unit on the screen.
 */
import { asText, show, type DisplayRule } from '../display.ts';
import type { UnitSystem } from '../../engine/index.ts';
import type { CellState } from '../view.ts';

/** The value without its unit, which stands beside the field; `opened` where there is none to show. */
export function atRest(opened: string, state: CellState, rule: DisplayRule, system: UnitSystem): string {
  const shown = show(state, rule, system);
  return shown.kind === 'value' ? asText({ ...shown, unit: '' }) : opened;
}

/** At once, and whole: the next key comes before the next picture. */
export function openAsTyped(field: HTMLInputElement, typed: string): void {
  field.value = typed;
  field.select();
}

/** Takes the whole text when a finger comes to the field: the browser would put the caret into the middle of it. */
export function takenWhole(field: HTMLInputElement, isWanted: () => boolean): { destroy: () => void } {
  let fresh = false;
  const came = () => (fresh = true);
  const typed = () => (fresh = false);
  const touched = () => {
    if (fresh && isWanted()) field.select();
    fresh = false;
  };
  field.addEventListener('focus', came);
  field.addEventListener('input', typed);
  field.addEventListener('click', touched);
  return {
    destroy() {
      field.removeEventListener('focus', came);
      field.removeEventListener('input', typed);
      field.removeEventListener('click', touched);
    },
  };
}

/** Lights up an element for a moment when what it shows has changed. */
import { afterPaint } from './after-paint.ts';

const MOMENT = 140;

let changed: Set<HTMLElement> | undefined;

export function lit(element: HTMLElement, shown: string) {
  let last = shown;
  return {
    update(next: string) {
      if (next === last) return;
      last = next;
      if (!changed) {
        changed = new Set();
        // When the new values are on the screen: to light up none of them waits for a style of the page.
        afterPaint(light);
      }
      changed.add(element);
    },
  };
}

/** On, and off again: a light that fades would have the page drawn anew all the while, and the next key wait for it. */
function light() {
  const elements = changed ?? [];
  changed = undefined;
  if (matchMedia('(prefers-reduced-motion: reduce)').matches) return;
  const backgroundColor = getComputedStyle(document.documentElement).getPropertyValue('--chalk-wash');
  const lights = Array.from(elements, (element) =>
    element.animate({ backgroundColor }, { duration: 0, fill: 'forwards' }),
  );
  setTimeout(() => {
    for (const each of lights) each.cancel();
  }, MOMENT);
}

/** Lights up an element for a moment when what it shows has changed. */

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
        requestAnimationFrame(() => setTimeout(light));
      }
      changed.add(element);
    },
  };
}

function light() {
  const elements = changed ?? [];
  changed = undefined;
  if (matchMedia('(prefers-reduced-motion: reduce)').matches) return;
  const color = getComputedStyle(document.documentElement).getPropertyValue('--chalk-wash');
  const lit = [{ backgroundColor: color }, { backgroundColor: color, offset: 0.5 }, {}];
  for (const element of elements) element.animate(lit, 140);
}

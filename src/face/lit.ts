/** Lights up an element for a moment when what it shows has changed. */
export function lit(element: HTMLElement, shown: string) {
  let last = shown;
  const still = matchMedia('(prefers-reduced-motion: reduce)');
  return {
    update(next: string) {
      if (next === last) return;
      last = next;
      if (still.matches) return;
      const color = getComputedStyle(element).getPropertyValue('--chalk-wash');
      element.animate([{ backgroundColor: color }, { backgroundColor: color, offset: 0.5 }, {}], 140);
    },
  };
}

/** Moving between named rows with the keyboard, in reading order. */

/** Puts the focus on the next (or previous) row's name; opens it where asked. False at the end of the sheet. */
export function focusNeighbour(from: HTMLElement, move: -1 | 1, open: boolean): boolean {
  const all = [...document.querySelectorAll<HTMLElement>('[data-row-name]')];
  const next = all[all.indexOf(from) + move];
  if (!next) return false;
  next.focus({ preventScroll: true });
  if (open) next.click();
  next.closest('li')?.scrollIntoView({ block: 'nearest' });
  return true;
}

/** A page less high than this has no room for a strip above what lies over it. */
const LOW = 500;

/** How far down the window a phone's headline strip reaches: nothing lies over it. Nought where the title block is at the foot. */
export function stripEnd(): number {
  const strip = document.querySelector('.bench > footer');
  if (!strip || innerHeight < LOW || getComputedStyle(strip).position !== 'sticky') return 0;
  return Math.max(0, strip.getBoundingClientRect().bottom);
}

/** What its styles may then leave free, as `--strip`. */
export function belowStrip(over: HTMLElement): void {
  over.style.setProperty('--strip', `${stripEnd()}px`);
}

/** What need not be done before a change is seen is done after it. */

/** A page that is not drawn, because it lies behind another, does it after so many milliseconds all the same. */
const AT_THE_LATEST = 150;

/** So long, in milliseconds, an idle page may keep something waiting, or a browser that cannot tell. */
const PATIENCE = 500;

/** Runs something when the page has nothing else to do. */
export function whenIdle(run: () => void): void {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(run, { timeout: PATIENCE });
  else setTimeout(run, PATIENCE);
}

/** Runs something once the coming picture of the page is drawn, or before the page is printed. */
export function afterPaint(run: () => void): void {
  // Where no page is drawn there is nothing to wait for.
  if (!('requestAnimationFrame' in globalThis)) {
    run();
    return;
  }
  let isDue = true;
  const once = (): void => {
    if (!isDue) return;
    isDue = false;
    removeEventListener('beforeprint', once);
    run();
  };
  requestAnimationFrame(() => setTimeout(once));
  setTimeout(once, AT_THE_LATEST);
  addEventListener('beforeprint', once);
}

/** What need not be done before a change is seen is done after it. */

/** A page that is not drawn, because it lies behind another, does it after so many milliseconds all the same. */
const AT_THE_LATEST = 150;

/** So long, in milliseconds, a busy page may keep something waiting. */
const PATIENCE = 500;
/** A browser that cannot tell whether it is idle is left so long to answer in between. */
const PAUSE = 40;

/** Runs something when the page has nothing else to do. */
export function whenIdle(run: () => void): void {
  const go = due(run);
  if ('requestIdleCallback' in globalThis) requestIdleCallback(go, { timeout: PATIENCE });
  else setTimeout(go, PAUSE);
}

/** Runs it once, at the latest before the page is printed. */
function due(run: () => void): () => void {
  let isDue = true;
  const once = (): void => {
    if (!isDue) return;
    isDue = false;
    removeEventListener('beforeprint', once);
    run();
  };
  addEventListener('beforeprint', once);
  return once;
}

/** Runs something once the coming picture of the page is drawn, or before the page is printed. */
export function afterPaint(run: () => void): void {
  // Where no page is drawn there is nothing to wait for.
  if (!('requestAnimationFrame' in globalThis)) {
    run();
    return;
  }
  const go = due(run);
  requestAnimationFrame(() => setTimeout(go));
  setTimeout(go, AT_THE_LATEST);
}

/** Small choices of the person that this browser keeps: nothing of a job. */

/** `null` where nothing was kept yet; undefined where the browser keeps nothing at all. */
export function remembered(key: string): string | null | undefined {
  try {
    return localStorage.getItem(key);
  } catch {
    return undefined;
  }
}

/** A browser that keeps nothing forgets the choice when the page is closed. */
export function remember(key: string, text: string): void {
  try {
    localStorage.setItem(key, text);
  } catch {
    // Nothing of a job is lost.
  }
}

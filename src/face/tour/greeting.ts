/** Whether this browser has been shown round, or did not want to be. */
const KEY = 'close-in shown round';

export function wasGreeted(): boolean {
  try {
    return localStorage.getItem(KEY) !== null;
  } catch {
    // Where nothing is kept it would be offered at every visit.
    return true;
  }
}

export function greeted(): void {
  try {
    localStorage.setItem(KEY, 'yes');
  } catch {
    // It is offered once more at the next visit.
  }
}

/** Whether this browser has been shown round, or did not want to be. */
import { remember, remembered } from '../remembered.ts';

const KEY = 'close-in shown round';

/** Where the browser keeps nothing the tour would be offered at every visit: there it never is. */
export function wasGreeted(): boolean {
  return remembered(KEY) !== null;
}

export function greeted(): void {
  remember(KEY, 'yes');
}

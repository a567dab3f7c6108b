/** What reads pasted blocks is loaded when a page first needs it. */
import type * as Paste from './paste.ts';

export function pastedBlocks(): Promise<typeof Paste> {
  return import('./paste.ts');
}

/** When to remind of a file: what is kept in a browser goes with the browser. */
import { counted } from '../../workbook/index.ts';
import type { Filed, KeptHead } from './store.ts';

const DAY = 86_400_000;
const MANY_EDITS = 300;
const SOME_EDITS = 25;
const DAYS = 7;
const PEACE_DAYS = 7;

export function unfiledEdits({ sequence, filed }: KeptHead): number {
  return sequence - (filed?.sequence ?? 0);
}

/** How the workbook and its last file stand to each other; short where there is room for little more than two words. */
export function filedWords(filed: Filed | undefined, edits: number, isShort = false): string {
  if (!filed) return 'in no file yet';
  const since = edits - filed.sequence;
  const count = counted(since, 'edit');
  if (filed.how !== 'downloaded' && filed.name !== undefined)
    return since === 0 ? `as in ${filed.name}` : `${count} not in ${filed.name}`;
  if (isShort) return since === 0 ? 'downloaded' : `${count} behind`;
  return since === 0 ? 'a copy was downloaded' : `${count} since the downloaded copy`;
}

/** What to say, or nothing. */
export function reminder(head: KeptHead, now: number): string | undefined {
  if (head.remindAfter !== undefined && now < head.remindAfter) return undefined;
  const edits = unfiledEdits(head);
  const days = Math.floor((now - (head.filed?.at ?? head.createdAt)) / DAY);
  if (edits < MANY_EDITS && (edits < SOME_EDITS || days < DAYS)) return undefined;
  const since = head.filed ? `since it was last saved as a file` : 'and it was never saved as a file';
  return `${edits} edits ${since}. A file is the backup: clearing the browser’s data clears what is kept here.`;
}

export function peaceUntil(now: number): number {
  return now + PEACE_DAYS * DAY;
}

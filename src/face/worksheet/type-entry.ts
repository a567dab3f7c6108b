/** Words typed into a table, and what follows them where others choose them. */
import {
  counted,
  followEntries,
  type Edit,
  type EntryChange,
  type Following,
  type Row,
  type Table,
} from '../../workbook/index.ts';
import { setEntries, together } from '../edits.ts';
import type { Session } from '../session.svelte.ts';

/**
 * Keeps an entry as it was typed, and with it what has chosen it by its words: one step, which is told. At once, as all
 * that is typed: what is done next, as leaving the page or printing it, finds it there.
 */
export function typeEntry(session: Session, table: Table, change: EntryChange): void {
  const following = followEntries(session.document, table, [change]);
  const [words] = following.words;
  const label = words === undefined ? 'type in a table' : `call “${words[0]}” “${words[1]}”`;
  const refused = session.apply(together(label, [setEntries(table, [change]), ...following.edits]));
  if (refused === undefined) sayFollowing(session, table, following);
}

/** The same for a block of entries, which `edits` make. */
export function typeBlock(
  session: Session,
  table: Table,
  label: string,
  edits: readonly Edit[],
  entries: readonly EntryChange[],
  added: readonly Row[] = [],
): void {
  const following = followEntries(session.document, table, entries, added);
  const refused = session.apply({ kind: 'batch', label, edits: [...edits, ...following.edits] });
  if (refused === undefined) sayFollowing(session, table, following);
}

/** Says what else was changed, if anything was; `before`: what is said in any case. */
export function sayFollowing(session: Session, table: Table, following: Following, before = ''): void {
  const followed = wordsOf(following);
  if (followed !== '') session.tell(table.id, [before, followed].filter(Boolean).join('; '));
  else if (before !== '') session.announcement = before;
}

function wordsOf({ words, places, formulas }: Following): string {
  const where = [
    ...(places === 0 ? [] : [counted(places, 'other place')]),
    ...(formulas === 0
      ? []
      : [`${counted(formulas, 'formula')} that ${formulas === 1 ? 'quotes' : 'quote'} it`]),
  ];
  const [only] = words;
  if (where.length === 0 || only === undefined) return '';
  const what = words.size === 1 ? `“${only[0]}” is now “${only[1]}”` : `${words.size} have other words`;
  return `${what}, also in ${where.join(' and ')}`;
}

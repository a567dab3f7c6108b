/** What figures rest on: typed values whose note names a source, and what is assumed or from memory. */
import { itemsOf, type Cell } from '../../workbook/index.ts';
import { standingOf } from '../outline.ts';
import type { Session } from '../session.svelte.ts';

export interface Foundations {
  readonly sources: readonly Cell[];
  readonly unsure: readonly Cell[];
  /** In words, a line for each table that has such rows. */
  readonly rows: readonly string[];
}

const UNSURE = /from memory|remembered|assum/i;
/** The checks of a test method stand beside every headline. */
const LIMITS = 'method_limits';

/** `seeds`: names of cells and columns that are shown; all that they read is followed. */
export function foundationsOf(session: Session, seeds: readonly string[], headline: boolean): Foundations {
  const { document, outline, workbook } = session;
  const reached = new Set<string>();
  const tables = new Set<string>(headline ? [LIMITS] : []);
  const names = [...seeds];
  for (let name = names.pop(); name !== undefined; name = names.pop()) {
    if (reached.has(name)) continue;
    reached.add(name);
    const item = standingOf(outline, name)?.item;
    if (!item) continue;
    if (item.kind === 'table') tables.add(item.name);
    names.push(...workbook.precedents(name));
  }
  const noted = [...itemsOf(document)].filter(
    (item): item is Cell => item.kind === 'cell' && reached.has(item.name) && item.note !== '',
  );
  return {
    unsure: noted.filter(({ note }) => UNSURE.test(note)),
    sources: noted.filter(({ name, note }) => !UNSURE.test(note) && workbook.precedents(name).length === 0),
    rows: [...itemsOf(document)].flatMap((item): string[] => {
      if (item.kind !== 'table' || !tables.has(item.name)) return [];
      const found = item.rows.filter(({ entries }) =>
        Object.values(entries).some((text) => UNSURE.test(text)),
      );
      const label = item.name === LIMITS ? 'Limits of the methods' : item.label || item.name;
      return found.length === 0
        ? []
        : [`${label}: ${String(found.length)} of ${String(item.rows.length)} are from memory, check them.`];
    }),
  };
}

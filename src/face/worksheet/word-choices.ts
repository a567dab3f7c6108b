import type { Column } from '../../workbook/index.ts';
import type { Session } from '../session.svelte.ts';

/** What may be chosen in a column whose list stands in another table: words of a block are held against it. */
export function choicesElsewhere(session: Session): (column: Column) => readonly string[] | undefined {
  const known = new Map<string, readonly string[]>();
  return (column) => {
    const { choices } = column;
    if (typeof choices !== 'string') return undefined;
    const found = known.get(choices) ?? session.choices(column);
    known.set(choices, found);
    return found;
  };
}

import type { Column, Row } from '../../workbook/index.ts';

/**
 * Choices with which a row begins go on as in the row above: the next reading is usually taken with the same range.
 * What stands further on is said of one row: no leak is sealed, or looked at again, because the last one was.
 */
export function leadingChoices(columns: readonly Column[], above: Row | undefined): Record<string, string> {
  const typed = columns.filter(({ formula }) => formula === undefined);
  const end = typed.findIndex(({ type }) => type !== 'choice');
  return Object.fromEntries(
    typed.slice(0, end < 0 ? undefined : end).flatMap(({ id }) => {
      const text = above?.entries[id];
      return text === undefined ? [] : [[id, text]];
    }),
  );
}

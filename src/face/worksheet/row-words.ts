/** What there is to say of a row besides what stands in its columns. */
import type { Column, Row } from '../../workbook/index.ts';
import { photoCount } from '../photos/picture-words.ts';
import { saidText } from '../said.ts';
import type { Session } from '../session.svelte.ts';
import { remarksOf, type TableShape } from '../shown-rows.ts';

/** `word`: said elsewhere already. */
export function wordsOfRow(
  session: Session,
  table: TableShape,
  columns: readonly Column[],
  index: number,
  row: Row | undefined,
  word = '',
): string {
  return [
    ...remarksOf(session, table, columns, index, word),
    ...(row?.note ? [`note: ${saidText(session, row.note)}`] : []),
    ...photoCount(row),
  ].join('; ');
}

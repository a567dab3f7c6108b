/** What a column says about the ± of its typed values, in words short enough for its heading. */
import type { Column, PlusMinusMeaning } from '../../workbook/index.ts';
import { localText } from '../locale.ts';

export const MEANINGS: readonly { readonly meaning: PlusMinusMeaning; readonly words: string }[] = [
  { meaning: 'standard', words: 'standard uncertainty' },
  { meaning: '95', words: '95 % interval' },
  { meaning: 'limits', words: 'limits, equally likely between' },
];

export function meaningWords(meaning: PlusMinusMeaning | undefined): string {
  return MEANINGS.find((each) => each.meaning === (meaning ?? 'standard'))?.words ?? '';
}

export function spreadOf(column: Pick<Column, 'each' | 'shared'>): string {
  const parts = [];
  if (column.each) parts.push(`± ${localText(column.each)}`);
  if (column.shared) parts.push(`shared ± ${localText(column.shared)}`);
  return parts.join(', ');
}

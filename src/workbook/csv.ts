/** What reads and writes tables as CSV files is loaded when a page first needs it. */
import type * as Files from './file/csv.ts';

export function csvFiles(): Promise<typeof Files> {
  return import('./file/csv.ts');
}

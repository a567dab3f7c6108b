/** An edit as it stands in the log. */
import { checksumOf, type Edit } from '../../workbook/index.ts';
import type { LogEntry } from './store.ts';

/** Undefined where the entry is damaged. */
export function editOf({ text, checksum }: LogEntry): Edit | undefined {
  if (checksumOf(text) !== checksum) return undefined;
  try {
    return JSON.parse(text) as Edit;
  } catch {
    return undefined;
  }
}

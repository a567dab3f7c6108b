/**
 * From what is kept back to the workbook: the newest sound snapshot, then every edit logged after it. What is
 * damaged is left out and told; nothing throws.
 */
import {
  applyEdit,
  checksumOf,
  FILE_FORMAT,
  readWorkbook,
  writeWorkbook,
  type EditProblem,
  type Applied,
  type WorkbookDocument,
} from '../../workbook/index.ts';
import { editOf } from './log-entry.ts';
import type { KeptRecords, LogEntry, Snapshot, WorkbookStore } from './store.ts';

export interface Recovered {
  /** The workbook as a file would hold it. */
  readonly text: string;
  /** The number that the next edit follows. */
  readonly sequence: number;
  /** What could not be read, or only from a second copy, in words for the person; empty where all is well. */
  readonly lost: readonly string[];
  /** Why it must not be written. */
  readonly readOnly?: string;
}

export interface Unrecoverable {
  readonly problem: string;
}

export interface Found {
  readonly records: KeptRecords;
  readonly found: Recovered | Unrecoverable;
}

/** Undefined where nothing is kept. What is damaged is taken from the second copy, where that is whole and as new. */
export async function recoverFrom(store: WorkbookStore, id: string): Promise<Found | undefined> {
  const records = await store.read(id);
  if (!records) return undefined;
  const found = recover(records);
  if (isWhole(found)) return { records, found };
  const second = await store.second?.(id).catch(() => undefined);
  const other = second && recover(second);
  if (!other || !isWhole(other) || other.sequence < newestOf(records)) return { records, found };
  const lost = ['What this device kept of it was damaged. It is whole again, from its second copy.'];
  return { records, found: { ...other, lost } };
}

function isWhole(found: Recovered | Unrecoverable): found is Recovered {
  return 'text' in found && found.lost.length === 0;
}

function newestOf({ head, log }: KeptRecords): number {
  return Math.max(head.sequence, log.at(-1)?.sequence ?? 0);
}

export function recover({ head, snapshots, log }: KeptRecords): Recovered | Unrecoverable {
  const newest = newestOf({ head, snapshots, log });
  if (head.format > FILE_FORMAT) return newerFormat(head.format, snapshots, newest);
  let best: Recovered | undefined;
  for (const snapshot of snapshots) {
    const tried = from(snapshot, log, newest);
    if (tried?.lost.length === 0) return tried;
    if (tried && (!best || tried.lost.length < best.lost.length)) best = tried;
  }
  return best ?? { problem: 'What is kept of it on this device is damaged.' };
}

function from(snapshot: Snapshot, log: readonly LogEntry[], newest: number): Recovered | undefined {
  if (checksumOf(snapshot.text) !== snapshot.checksum) return undefined;
  const opened = readWorkbook(snapshot.text);
  if ('code' in opened) return undefined;
  let { document } = opened;
  let changed = false;
  const lost: string[] = [];
  const entries = new Map(log.map((entry) => [entry.sequence, entry]));
  for (let sequence = snapshot.sequence + 1; sequence <= newest; sequence++) {
    const entry = entries.get(sequence);
    const applied = entry && replayed(document, entry);
    if (applied) {
      document = applied;
      changed = true;
    } else {
      lost.push(
        entry
          ? `An edit kept at ${new Date(entry.at).toLocaleString()} is damaged and was left out.`
          : `An edit (number ${sequence}) is missing.`,
      );
    }
  }
  return {
    text: changed ? writeWorkbook(document) : snapshot.text,
    sequence: newest,
    lost,
    ...(opened.readOnly === undefined ? {} : { readOnly: opened.readOnly }),
  };
}

function replayed(document: WorkbookDocument, entry: LogEntry): WorkbookDocument | undefined {
  const edit = editOf(entry);
  if (!edit) return undefined;
  try {
    const applied = applyEdit(document, edit) as Applied | EditProblem | undefined;
    return applied && 'document' in applied ? applied.document : undefined;
  } catch {
    // An edit of a kind that this version does not know.
    return undefined;
  }
}

/** Its log may hold edits that this version would misread: only the snapshot is shown. */
function newerFormat(
  format: number,
  snapshots: readonly Snapshot[],
  newest: number,
): Recovered | Unrecoverable {
  const readOnly = `A newer version of this page keeps this workbook (format ${format}; this one knows ${FILE_FORMAT}). It is open for reading only, and its last edits may be missing: load the page again.`;
  const sound = snapshots.find(({ text, checksum }) => checksumOf(text) === checksum);
  return sound ? { text: sound.text, sequence: newest, lost: [], readOnly } : { problem: readOnly };
}

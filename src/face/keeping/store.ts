/**
 * What is kept of each workbook, and what a place to keep it must be able to do. A workbook is its newest sound
 * snapshot and the edits logged after it; the snapshot before, with the log since, stays as a second way back.
 */
import type { FileHandle, Seen } from './file-access.ts';

/** How a workbook last was the same as a file. */
export interface Filed {
  /** Edits that had been logged by then. */
  readonly sequence: number;
  readonly at: number;
  /** Fingerprints of what it was saved as. */
  readonly versions?: readonly string[];
  readonly how?: 'opened' | 'downloaded' | 'written';
  readonly name?: string;
}

/** What the list of workbooks shows: small, and read without the workbook. */
export interface KeptHead {
  readonly id: string;
  readonly title: string;
  /** Format of the file that the snapshots are written in. */
  readonly format: number;
  /** Edits logged so far; the number of the newest. */
  readonly sequence: number;
  /** Who wrote last: a tab, for as long as it is open. */
  readonly writer: string;
  readonly createdAt: number;
  readonly savedAt: number;
  /** Of the newest snapshot and the log behind it. */
  readonly characters: number;
  /** Where it last was the same as a file. */
  readonly filed?: Filed;
  /** It is no workbook to work on, but one as it was saved as a file: so that copies can be merged later. */
  readonly version?: string;
  /** No reminder of a file before this time. */
  readonly remindAfter?: number;
  /** It is a template of the person's own: offered for new jobs and not among the jobs. */
  readonly template?: { readonly about: string };
  /** In the list of the deleted since then. */
  readonly deletedAt?: number;
}

export interface Snapshot {
  readonly id: string;
  /** It holds every edit up to this one. */
  readonly sequence: number;
  readonly text: string;
  readonly checksum: string;
  readonly at: number;
}

export interface LogEntry {
  readonly id: string;
  readonly sequence: number;
  /** The edit as JSON. */
  readonly text: string;
  readonly checksum: string;
  readonly at: number;
}

export interface KeptRecords {
  readonly head: KeptHead;
  /** Newest first. */
  readonly snapshots: readonly Snapshot[];
  /** Oldest first. */
  readonly log: readonly LogEntry[];
}

/** Written as a whole or not at all. */
export interface StoreChange {
  /** The head's sequence that the writer builds on; undefined where the workbook must be new. */
  readonly expects: number | undefined;
  readonly head: KeptHead;
  readonly snapshot?: Snapshot;
  readonly log?: readonly LogEntry[];
  /** What is no longer needed: snapshots before one, log entries up to one. */
  readonly drop?: { readonly snapshotsBefore: number; readonly logUpTo: number };
}

export interface WorkbookStore {
  heads(): Promise<readonly KeptHead[]>;
  read(id: string): Promise<KeptRecords | undefined>;
  snapshot(id: string, sequence: number): Promise<Snapshot | undefined>;
  /** Resolves once the whole change is on the device. Rejects with a `WriteConflict` when another has written. */
  write(change: StoreChange): Promise<void>;
  /** For a page that is going: all is asked for at once, since no answer comes any more. Where another wrote, nothing is. */
  leave?(change: StoreChange): void;
  remove(id: string): Promise<void>;
  /** What a second copy holds of it, where there is one: it may be older. */
  second?(id: string): Promise<KeptRecords | undefined>;
}

/** The file that a workbook is saved in, where the browser lets the page write it. */
export interface KeptFile {
  /** The workbook's. */
  readonly id: string;
  readonly handle: FileHandle;
  readonly seen: Seen;
}

export interface FileMemory {
  file(id: string): Promise<KeptFile | undefined>;
  files(): Promise<readonly KeptFile[]>;
  setFile(kept: KeptFile): Promise<void>;
  removeFile(id: string): Promise<void>;
}

/** The workbook is not as the writer knew it: nothing was written. */
export class WriteConflict extends Error {
  readonly found: KeptHead | undefined;

  constructor(found: KeptHead | undefined) {
    super(
      found ? 'Another tab has written this workbook meanwhile.' : 'The workbook is no longer kept here.',
    );
    this.name = 'WriteConflict';
    this.found = found;
  }
}

/** Another version of this page holds the store, so this one cannot read or write it. */
export class OtherVersion extends Error {
  override readonly name = 'OtherVersion';
}

/** A key without meaning, practically unique on this device. */
export function freshId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  return Array.from(bytes, (byte) => byte.toString(36).padStart(2, '0')).join('');
}

/**
 * Writes every edit of one workbook to the store, in order, and says truthfully how far it has come. A failed write
 * loses nothing: the edits stay in line and are written again, with the next edit or after a while.
 */
import {
  checksumOf,
  FILE_FORMAT,
  writeWorkbook,
  type Edit,
  type WorkbookDocument,
} from '../../workbook/index.ts';
import {
  WriteConflict,
  type KeptHead,
  type KeptRecords,
  type LogEntry,
  type Snapshot,
  type StoreChange,
  type WorkbookStore,
} from './store.ts';

export type Kept =
  | { readonly state: 'not yet' }
  | { readonly state: 'saving' }
  | { readonly state: 'saved'; readonly at: Date }
  | { readonly state: 'failed'; readonly why: string }
  /** Another tab has written: what is here since then is in this tab only. */
  | { readonly state: 'overtaken' };

export interface RecorderOptions {
  readonly store: WorkbookStore;
  readonly id: string;
  /** The tab. */
  readonly writer: string;
  readonly document: () => WorkbookDocument;
  /** As the store holds it; undefined for a workbook that is not kept yet. */
  readonly kept?: KeptRecords | undefined;
  /** What is kept is damaged, so the first write is a snapshot. */
  readonly damaged?: boolean;
  readonly onstate: (kept: Kept, sequence: number) => void;
  readonly later?: (milliseconds: number, run: () => void) => () => void;
  readonly now?: () => number;
  /** When an edit that came in is to be written: at once, where nothing else is said. */
  readonly soon?: (run: () => void) => void;
}

/** A new snapshot after so many edits, or when the log outgrows the last one. */
const EDITS_A_SNAPSHOT = 100;
const LEAST_LOG = 100_000;
const FIRST_RETRY = 2_000;
const LONGEST_RETRY = 60_000;
/** Without an answer for so long, the person is told. */
const PATIENCE = 10_000;

export class Recorder {
  readonly id: string;
  readonly #options: Required<RecorderOptions>;
  #head: KeptHead | undefined;
  /** Number of the newest edit made here; the store may not have it yet. */
  #sequence: number;
  #waiting: LogEntry[] = [];
  #headChange: Partial<KeptHead> = {};
  #running: Promise<void> | undefined;
  #failures = 0;
  #stopRetry: (() => void) | undefined;
  #overtaken = false;
  /** A write may have arrived although an error came back. */
  #unsure = false;
  /** The whole workbook, or a change of the head alone, is to be written though no edit waits. */
  #wanted = false;
  /** The newest snapshot that is known to be sound. */
  #newest: { readonly sequence: number; readonly characters: number } | undefined;
  #logCharacters = 0;

  constructor(options: RecorderOptions) {
    this.#options = {
      kept: undefined,
      damaged: false,
      later: (milliseconds, run) => {
        const timer = setTimeout(run, milliseconds);
        return () => {
          clearTimeout(timer);
        };
      },
      now: Date.now,
      soon: (run) => {
        run();
      },
      ...options,
    };
    this.id = options.id;
    const { kept } = options;
    this.#head = kept?.head;
    this.#sequence = Math.max(kept?.head.sequence ?? 0, kept?.log.at(-1)?.sequence ?? 0);
    const newest = options.damaged ? undefined : kept?.snapshots[0];
    if (newest) this.#newest = { sequence: newest.sequence, characters: newest.text.length };
    for (const { sequence, text } of kept?.log ?? [])
      if (newest && sequence > newest.sequence) this.#logCharacters += text.length;
  }

  get head(): KeptHead | undefined {
    return this.#head;
  }

  /** Number of the newest edit, whether the device has it or not. */
  get sequence(): number {
    return this.#sequence;
  }

  /** Edits made here that are not known to be on the device. */
  get unsaved(): number {
    return this.#waiting.length;
  }

  /** Takes in an edit that the workbook has just undergone. */
  add(edit: Edit): void {
    this.#sequence++;
    const text = JSON.stringify(edit);
    this.#waiting.push({
      id: this.id,
      sequence: this.#sequence,
      text,
      checksum: checksumOf(text),
      at: this.#options.now(),
    });
    // At once: a snapshot may be on its way, and until it is written this edit is not.
    if (this.#failures === 0 && !this.#overtaken) this.#tell({ state: 'saving' });
    this.#options.soon(() => {
      if (this.#pending()) void this.flush();
    });
  }

  /** Keeps the workbook as it stands, though nothing was edited: one that came from a link or a file. */
  keepWhole(): Promise<void> {
    this.#wanted = true;
    return this.flush();
  }

  /** Changes what the list of workbooks says of this one; kept with the next write, or now if it is kept at all. */
  note(change: Partial<Pick<KeptHead, 'filed' | 'remindAfter'>>): Promise<void> {
    this.#headChange = { ...this.#headChange, ...change };
    if (this.#head === undefined) return Promise.resolve();
    this.#wanted = true;
    return this.flush();
  }

  /** Resolves when everything taken in so far was tried; the state says with what success. */
  async flush(): Promise<void> {
    if (this.#overtaken) return;
    if (!this.#running) {
      this.#stopRetry?.();
      this.#running = this.#run().finally(() => {
        this.#running = undefined;
      });
    }
    await this.#running;
    // Came in while the last write was on its way out.
    if (this.#failures === 0 && this.#pending() && !this.#isOvertaken()) await this.flush();
  }

  /** The page is going: what waits is handed over. If it comes back, it looks what has arrived. */
  leave(): void {
    if (this.#overtaken || this.#waiting.length === 0) return;
    this.#options.store.leave?.(this.#change([...this.#waiting]));
    this.#unsure = true;
  }

  #pending(): boolean {
    return this.#waiting.length > 0 || this.#wanted;
  }

  /** Asked anew after each wait. */
  #isOvertaken(): boolean {
    return this.#overtaken;
  }

  async #run(): Promise<void> {
    while (this.#pending()) {
      if (this.#failures === 0) this.#tell({ state: 'saving' });
      const stopClock = this.#options.later(PATIENCE, () => {
        this.#tell({ state: 'failed', why: 'the device has not answered for 10 seconds' });
      });
      try {
        await this.#write();
        this.#failures = 0;
        this.#unsure = false;
      } catch (problem) {
        this.#unsure = true;
        if (problem instanceof WriteConflict) {
          this.#overtaken = true;
          this.#tell({ state: 'overtaken' });
          return;
        }
        this.#failed(problem);
        return;
      } finally {
        stopClock();
      }
    }
    if (this.#head) this.#tell({ state: 'saved', at: new Date(this.#options.now()) });
    await this.#snapshotWhenDue();
  }

  #failed(problem: unknown): void {
    this.#failures++;
    this.#tell({ state: 'failed', why: reasonOf(problem) });
    const pause = Math.min(LONGEST_RETRY, FIRST_RETRY * 2 ** (this.#failures - 1));
    this.#stopRetry = this.#options.later(pause, () => void this.flush());
  }

  /** Everything that waits, as one transaction. */
  async #write(): Promise<void> {
    if (this.#unsure) await this.#lookAgain();
    const { store } = this.#options;
    const log = [...this.#waiting];
    const change = this.#headChange;
    this.#wanted = false;
    if (log.length === 0 && Object.keys(change).length === 0 && this.#head) return;
    const next = this.#change(log);
    const { head, snapshot } = next;
    try {
      await store.write(next);
    } catch (problem) {
      this.#wanted ||= log.length === 0;
      throw problem;
    }
    this.#head = head;
    this.#headChange = Object.fromEntries(
      Object.entries(this.#headChange).filter(([key, value]) => change[key as keyof KeptHead] !== value),
    );
    this.#waiting = this.#waiting.filter(({ sequence }) => sequence > head.sequence);
    if (snapshot) this.#newest = { sequence: snapshot.sequence, characters: snapshot.text.length };
    else this.#logCharacters += charactersOf(log);
  }

  #change(log: readonly LogEntry[]): StoreChange {
    const before = this.#head;
    // Where no sound snapshot is known, the edits alone would not bring the workbook back.
    const snapshot = before && this.#newest ? undefined : this.#snapshot();
    return {
      expects: before?.sequence,
      head: {
        ...this.#nextHead(),
        characters: snapshot?.text.length ?? (before?.characters ?? 0) + charactersOf(log),
        ...this.#headChange,
      },
      ...(snapshot ? { snapshot } : {}),
      // A new workbook has none who follow its log.
      ...(before ? { log } : {}),
    };
  }

  #nextHead(): KeptHead {
    const { now, writer, document } = this.#options;
    const at = now();
    const { title } = document();
    return {
      id: this.id,
      createdAt: at,
      characters: 0,
      ...this.#head,
      title,
      format: FILE_FORMAT,
      sequence: this.#sequence,
      writer,
      savedAt: at,
    };
  }

  /** After an error it is not known whether the change arrived: what is ours there counts as written. */
  async #lookAgain(): Promise<void> {
    const head = (await this.#options.store.read(this.id))?.head;
    if (head?.writer !== this.#options.writer) return;
    this.#head = head;
    this.#waiting = this.#waiting.filter(({ sequence }) => sequence > head.sequence);
  }

  #snapshot(): Snapshot {
    const text = writeWorkbook(this.#options.document());
    return {
      id: this.id,
      sequence: this.#sequence,
      text,
      checksum: checksumOf(text),
      at: this.#options.now(),
    };
  }

  /** The edits are kept already, so a failure here is no failure to keep: it is tried again with later edits. */
  async #snapshotWhenDue(): Promise<void> {
    const head = this.#head;
    if (!head) return;
    const newest = this.#newest;
    const isShort = newest && head.sequence - newest.sequence < EDITS_A_SNAPSHOT;
    if (isShort && this.#logCharacters < Math.max(LEAST_LOG, newest.characters)) return;
    try {
      await this.#writeSnapshot();
    } catch (problem) {
      this.#unsure = true;
      if (!(problem instanceof WriteConflict)) return;
      // What was handed over by a page that was about to go was faster.
      if (problem.found?.writer === this.#options.writer) return;
      this.#overtaken = true;
      this.#tell({ state: 'overtaken' });
    }
  }

  /** Writes a snapshot and reads it back; only then what it and the one before it replace is dropped. */
  async #writeSnapshot(): Promise<void> {
    const { store } = this.#options;
    // While edits wait, the workbook is ahead of the log.
    if (this.#waiting.length > 0 || !this.#head) return;
    const snapshot = this.#snapshot();
    const head = { ...this.#nextHead(), savedAt: this.#head.savedAt, characters: snapshot.text.length };
    const expects = this.#head.sequence;
    await store.write({ expects, head, snapshot });
    this.#head = head;
    const readBack = await store.snapshot(this.id, snapshot.sequence);
    if (readBack?.text !== snapshot.text || checksumOf(readBack.text) !== readBack.checksum) return;
    const former = this.#newest?.sequence;
    this.#newest = { sequence: snapshot.sequence, characters: snapshot.text.length };
    this.#logCharacters = 0;
    if (former === undefined) return;
    await store.write({
      expects: this.#head.sequence,
      head: this.#head,
      drop: { snapshotsBefore: former, logUpTo: former },
    });
  }

  #tell(kept: Kept): void {
    this.#options.onstate(kept, this.#head?.sequence ?? 0);
  }
}

function charactersOf(log: readonly LogEntry[]): number {
  return log.reduce((sum, { text }) => sum + text.length, 0);
}

/** What a browser says, in the person's words. */
export function reasonOf(problem: unknown): string {
  const { name, message } = problem instanceof Error ? problem : { name: '', message: String(problem) };
  if (name === 'QuotaExceededError') return `no room is left on this device: ${message}`;
  if (letsKeepNothing(problem))
    return `this browser lets the page keep nothing, as in a private window: ${message}`;
  return message || name || 'no reason was given';
}

/** As in a private window, or where the person has forbidden it; some browsers then have no database to name. */
export function letsKeepNothing(problem: unknown): boolean {
  const name = problem instanceof Error ? problem.name : '';
  return name === 'SecurityError' || name === 'InvalidStateError' || name === 'ReferenceError';
}

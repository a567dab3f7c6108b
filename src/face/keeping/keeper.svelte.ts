/**
 * Keeps one open workbook: as its writer, which records every edit, or as a reader of what another tab writes.
 * A tab becomes the writer when the lease is free, when the writing tab is closed, or when the person takes over.
 */
import { afterPaint } from '../after-paint.ts';
import type { Session } from '../session.svelte.ts';
import { Lease, type LeaseWish, type Tabs } from './lease.ts';
import { Recorder, type Kept } from './recorder.ts';
import { editOf } from './log-entry.ts';
import { askToStay } from './persistence.ts';
import type { Filed, KeptHead, KeptRecords, WorkbookStore } from './store.ts';
import { FILE_FORMAT } from '../../workbook/index.ts';

export type { Kept } from './recorder.ts';

/** `apart`: nothing is kept until the person asks for it, as with a link; `sealed`: it never is. */
export type Role = 'writer' | 'reader' | 'apart' | 'sealed';

export interface KeeperOptions {
  readonly store: WorkbookStore;
  readonly tabs: Tabs;
  readonly id: string;
  readonly session: Session;
  readonly kept?: KeptRecords | undefined;
  readonly damaged?: boolean;
  readonly apart?: boolean;
  /** The file that it was opened from. */
  readonly filed?: Filed | undefined;
  /** The first edits are on the device, or more of them. */
  readonly onkept: () => void;
  /** The store's copy has moved on in a way that cannot be followed: it has to be opened anew. */
  readonly onstale: () => void;
}

const ELSEWHERE = 'Another tab is editing this workbook; what it keeps appears here at once.';
const APART = 'This workbook came by a link and is for reading until you keep it.';
/** From so many edits on the work would be missed. */
const WOULD_BE_MISSED = 5;
const PATIENCE = 1_500;

export class Keeper {
  readonly id: string;
  readonly #options: KeeperOptions;
  kept = $state.raw<Kept>({ state: 'not yet' });
  role = $state<Role>('writer');
  /** As last kept, for the reminder of a backup. */
  head = $state.raw<KeptHead>();
  /** Edits that the workbook has seen, also those that the device could not keep. */
  edits = $state(0);
  /** Where it last was the same as a file. */
  filed = $state.raw<Filed>();
  #recorder: Recorder | undefined;
  #sequence: number;
  #lease: Lease | undefined;
  readonly #stops: (() => void)[] = [];
  #asked = false;
  #stopped = false;
  #syncing: Promise<void> | undefined;

  constructor(options: KeeperOptions) {
    this.#options = options;
    this.id = options.id;
    this.head = options.kept?.head;
    this.#sequence = options.kept?.head.sequence ?? 0;
    this.edits = this.#sequence;
    this.filed = options.filed ?? this.head?.filed;
    if (this.head) this.kept = { state: 'saved', at: new Date(this.head.savedAt) };
  }

  start(): void {
    const { session, tabs, apart, kept, damaged } = this.#options;
    if (session.readOnly !== undefined) {
      this.role = 'sealed';
      return;
    }
    this.#stops.push(
      session.workbook.subscribe(({ edit }) => {
        if (edit && this.role === 'writer') this.#record(edit);
      }),
      tabs.listen(({ kind, id }) => {
        if (id !== this.id) return;
        if (kind === 'saved' && this.role === 'reader') void this.#follow();
        if (kind === 'take over' && this.role === 'writer') void this.#yield();
      }),
      whenHidden(() => void this.flush()),
      whenShown(() => {
        if (this.role === 'reader') void this.#follow();
      }),
    );
    if (apart) this.#become('apart', APART);
    else {
      this.#record = this.#recordWith(kept, damaged ?? false);
      this.#ask('if free');
    }
  }

  /** Ends keeping, after what is still unsaved; nothing of this workbook is followed any more. */
  async stop(): Promise<void> {
    this.#stopped = true;
    for (const stop of this.#stops.splice(0)) stop();
    await this.flush();
    await this.#lease?.release();
  }

  /** For a page that is going, with what was typed last. */
  leave(): void {
    if (this.role === 'writer') this.#recorder?.leave();
  }

  async flush(): Promise<void> {
    await this.#recorder?.flush();
  }

  /** True while something done here is in this tab only. */
  get atRisk(): boolean {
    return this.role === 'apart' ? false : (this.#recorder?.unsaved ?? 0) > 0;
  }

  /** From now on a workbook that came from a link is one of this device's own. */
  async keepHere(): Promise<void> {
    this.#record = this.#recordWith(undefined, false);
    this.#become('writer', undefined);
    this.#ask('if free');
    await this.#recorder?.keepWhole();
  }

  /** As it stands, though nothing was edited. */
  async keepWhole(): Promise<void> {
    await this.#recorder?.keepWhole();
  }

  async takeOver(): Promise<void> {
    const { tabs } = this.#options;
    const answered = tabs.hear('yielded', this.id, PATIENCE);
    tabs.tell('take over', this.id);
    await answered;
    if (!this.#stopped) this.#ask('take');
  }

  /** It was saved as a file just now, or the person wants no reminder for a while. */
  async note(change: Parameters<Recorder['note']>[0]): Promise<void> {
    this.filed = change.filed ?? this.filed;
    await this.#recorder?.note(change);
    this.head = this.#recorder?.head ?? this.head;
  }

  #record: Recorder['add'] = () => undefined;

  #recordWith(kept: KeptRecords | undefined, damaged: boolean): Recorder['add'] {
    const { store, tabs, session } = this.#options;
    const recorder = new Recorder({
      store,
      id: this.id,
      writer: tabs.name,
      document: () => session.workbook.document,
      kept,
      damaged,
      soon: afterPaint,
      onstate: (state, sequence) => {
        // A reader's state is what it has read.
        if (this.#recorder !== recorder || this.role !== 'writer') return;
        this.kept = state;
        if (state.state === 'saved') this.#saved(sequence);
      },
    });
    this.#recorder = recorder;
    this.edits = recorder.sequence;
    // Kept with the first write.
    if (this.filed && !kept) void recorder.note({ filed: this.filed });
    return (edit) => {
      recorder.add(edit);
      this.edits = recorder.sequence;
    };
  }

  #saved(sequence: number): void {
    const { tabs } = this.#options;
    this.head = this.#recorder?.head;
    this.#sequence = sequence;
    this.#options.onkept();
    tabs.tell('saved', this.id);
    if (this.#asked || sequence < WOULD_BE_MISSED) return;
    this.#asked = true;
    void askToStay();
  }

  #ask(wish: LeaseWish): void {
    void this.#lease?.release();
    this.#lease = new Lease(
      this.id,
      wish,
      (held) => {
        if (this.#stopped) void this.#lease?.release();
        else if (!held) this.#read();
        else if (wish !== 'if free') void this.#write();
      },
      () => void this.#lost(),
    );
  }

  /** Another tab writes: this one looks on, and is next when that one goes. */
  #read(): void {
    if (this.#stopped) return;
    this.#become('reader', ELSEWHERE);
    this.#ask('when free');
  }

  async #write(): Promise<void> {
    const { store, session } = this.#options;
    await this.#follow();
    const kept = await store.read(this.id).catch(() => undefined);
    if (this.#stopped) return;
    if (kept && kept.head.sequence !== this.#sequence) {
      this.#options.onstale();
      return;
    }
    this.#record = this.#recordWith(kept, false);
    this.#become('writer', undefined);
    session.announcement = 'You are editing this workbook in this tab now.';
  }

  /** Asked by another tab: this one finishes, and holds the lock until the other has taken it. */
  async #yield(): Promise<void> {
    const lease = this.#lease;
    await this.#finish();
    this.#options.tabs.tell('yielded', this.id);
    setTimeout(() => {
      // It was closed before it took over.
      if (this.#lease === lease && this.role === 'reader' && !this.#stopped) void this.#write();
    }, 2 * PATIENCE);
  }

  /** The lock is gone: this tab was asleep when another asked, or it has finished. */
  async #lost(): Promise<void> {
    if (this.role === 'writer') await this.#finish();
    if (this.role === 'reader') this.#read();
  }

  async #finish(): Promise<void> {
    this.#become('reader', ELSEWHERE);
    await this.flush();
    this.#sequence = this.#recorder?.head?.sequence ?? this.#sequence;
    if (!this.#recorder?.unsaved) return;
    // They are in this tab alone, and must not be hidden behind what the other tab does.
    this.kept = { state: 'overtaken' };
    this.#become('sealed', 'Another tab has taken this workbook over.');
  }

  #become(role: Role, readOnly: string | undefined): void {
    this.role = role;
    this.#options.session.readOnly = readOnly;
  }

  /** Makes here what the store holds beyond what is seen. */
  #follow(): Promise<void> {
    this.#syncing ??= this.#catchUp().finally(() => {
      this.#syncing = undefined;
    });
    return this.#syncing;
  }

  async #catchUp(): Promise<void> {
    const { store, session, onstale } = this.#options;
    const records = await store.read(this.id).catch(() => undefined);
    if (!records || this.#stopped || records.head.sequence < this.#sequence) return;
    const entries = new Map(records.log.map((entry) => [entry.sequence, entry]));
    while (this.#sequence < records.head.sequence) {
      const entry = entries.get(this.#sequence + 1);
      const edit = entry && records.head.format <= FILE_FORMAT ? editOf(entry) : undefined;
      if (!edit || 'problem' in session.workbook.replay(edit)) {
        onstale();
        return;
      }
      this.#sequence++;
    }
    this.head = records.head;
    this.edits = this.#sequence;
    this.filed = records.head.filed;
    this.kept = { state: 'saved', at: new Date(records.head.savedAt) };
  }
}

function whenHidden(run: () => void): () => void {
  return onVisibility('hidden', run);
}

function whenShown(run: () => void): () => void {
  return onVisibility('visible', run);
}

function onVisibility(wanted: DocumentVisibilityState, run: () => void): () => void {
  const look = () => {
    if (document.visibilityState === wanted) run();
  };
  document.addEventListener('visibilitychange', look);
  return () => {
    document.removeEventListener('visibilitychange', look);
  };
}

/** Keeps a workbook on this device after each edit, and says truthfully whether that has happened. */
import { keep } from './storage.ts';
import { writeWorkbook } from '../workbook/index.ts';
import type { WorkbookView } from './view.ts';

const PAUSE = 400;

export type Kept =
  | { readonly state: 'not yet' }
  | { readonly state: 'saving' }
  | { readonly state: 'saved'; readonly at: Date }
  | { readonly state: 'failed'; readonly why: string };

export class Keeper {
  readonly id: string;
  readonly #workbook: WorkbookView;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #writing: Promise<void> | undefined;
  kept = $state.raw<Kept>({ state: 'not yet' });

  constructor(id: string, workbook: WorkbookView, savedAt?: number) {
    this.id = id;
    this.#workbook = workbook;
    if (savedAt !== undefined) this.kept = { state: 'saved', at: new Date(savedAt) };
  }

  /** Begins to keep every edit; the returned function stops, after keeping what is still unsaved. */
  start(): () => void {
    const stop = this.#workbook.subscribe(() => {
      this.#later();
    });
    const now = () => {
      if (document.visibilityState === 'hidden') void this.flush();
    };
    document.addEventListener('visibilitychange', now);
    return () => {
      stop();
      document.removeEventListener('visibilitychange', now);
      void this.flush();
    };
  }

  /** Keeps at once what is not kept yet. */
  async flush(): Promise<void> {
    if (this.#timer === undefined) return this.#writing;
    clearTimeout(this.#timer);
    this.#timer = undefined;
    await this.save();
  }

  async save(): Promise<void> {
    await this.#writing;
    this.#writing = this.#write();
    await this.#writing;
    this.#writing = undefined;
  }

  #later(): void {
    // A failure stays on the screen until something has really been kept again.
    if (this.kept.state !== 'failed') this.kept = { state: 'saving' };
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => {
      this.#timer = undefined;
      void this.save();
    }, PAUSE);
  }

  async #write(): Promise<void> {
    const { document } = this.#workbook;
    const at = new Date();
    try {
      const text = writeWorkbook(document);
      await keep({ id: this.id, title: document.title, text, savedAt: at.getTime() });
      if (this.#timer === undefined) this.kept = { state: 'saved', at };
    } catch (problem) {
      this.kept = { state: 'failed', why: problem instanceof Error ? problem.message : String(problem) };
    }
  }
}

/**
 * How the open workbook goes into a file: in place where the browser allows it, else as a copy that is downloaded.
 * Nothing is written over what another program has put into the file until the person has chosen, and what is then
 * written over is kept on this device.
 */
import { readWorkbook, stamped, versionOf, writeWorkbook } from '../../workbook/index.ts';
import type { Session } from '../session.svelte.ts';
import { pickToSave, savesInPlace, type FileHandle, type Seen } from './file-access.ts';
import { fileName, saveFile } from './files.ts';
import type { Keeper } from './keeper.svelte.ts';
import { LinkedFile, type FileTrouble, type FoundText } from './linked-file.ts';
import type { Shelf } from './shelf.svelte.ts';
import type { Filed, FileMemory } from './store.ts';

export interface SavingOptions {
  readonly session: Session;
  readonly keeper: Keeper;
  readonly shelf: Shelf;
  readonly memory: FileMemory;
  /** The file that it was opened from. */
  readonly file?: { readonly handle: FileHandle; readonly seen: Seen } | undefined;
}

export class Saving {
  readonly #session: Session;
  readonly #keeper: Keeper;
  readonly #shelf: Shelf;
  readonly #memory: FileMemory;
  #file = $state.raw<LinkedFile>();
  #trouble = $state.raw<FileTrouble & { readonly name: string }>();
  /** Why the file does not hold what it should; nothing where another tab sees to it. */
  get trouble(): (FileTrouble & { readonly name: string }) | undefined {
    return this.#owns ? this.#trouble : undefined;
  }
  /** Fingerprints of what was saved since it was opened. */
  #saved: readonly string[] = [];
  #running: Promise<void> | undefined;
  #isRemembered = false;

  /** The one that is written in place. */
  get file(): LinkedFile | undefined {
    return this.#file;
  }

  constructor({ session, keeper, shelf, memory, file }: SavingOptions) {
    this.#session = session;
    this.#keeper = keeper;
    this.#shelf = shelf;
    this.#memory = memory;
    if (file) this.#file = new LinkedFile(file.handle, file.seen);
  }

  /** Fingerprints of the files that the workbook was saved as. */
  get versions(): readonly string[] {
    return [
      ...(this.#session.document.versions ?? []),
      ...(this.#keeper.filed?.versions ?? []),
      ...this.#saved,
    ];
  }

  /** Into its own file; the first time, and wherever this tab is not the one that edits, into one that is chosen. */
  save(): Promise<void> {
    return this.#once(async () => {
      await this.#recall();
      if (this.#file && this.#owns) await this.#write(this.#file);
      else await this.#saveAs();
    });
  }

  saveAs(): Promise<void> {
    return this.#once(() => this.#saveAs());
  }

  /** What the file holds now is kept on this device, and then written over. */
  keepMine(found: FoundText): Promise<void> {
    return this.#once(async () => {
      const file = this.#file;
      if (!file) return;
      const theirs = readWorkbook(found.text);
      if (!('document' in theirs) || theirs.readOnly !== undefined) return;
      const title = `${theirs.document.title}, as it was in ${file.name}`;
      if (!(await this.#shelf.keepCopy({ ...theirs.document, title }))) return;
      // Should it have changed once more meanwhile, that is asked again.
      file.expect(found.seen);
      await this.#write(file);
    });
  }

  /** A copy beside the file, wherever the browser puts what it downloads. */
  download(): void {
    const document = stamped(this.#session.workbook.document, this.versions);
    const name = fileName(document.title, 'json');
    saveFile(name, 'application/json', writeWorkbook(document));
    this.#session.announcement = `A copy was downloaded: ${name}`;
    // The file stays what later edits are measured against.
    if (!this.#file) this.#note({ how: 'downloaded', name }, document.versions);
    void this.#shelf.keepVersion(versionOf(document), document);
  }

  /** Tells whether another program has written the file meanwhile. Asks the person nothing. */
  async look(): Promise<void> {
    if (this.#running) return;
    await this.#recall();
    const file = this.#file;
    if (!file || !this.#owns) return;
    const trouble = await file.look();
    if (trouble?.kind === 'changed') this.#trouble = { ...trouble, name: file.name };
    else if (this.#trouble?.kind === 'changed') this.#trouble = undefined;
  }

  /** What the file was found to hold when it was opened again. */
  async found(found: FoundText): Promise<void> {
    await this.#recall();
    if (this.#file) this.#trouble = { kind: 'changed', found, name: this.#file.name };
  }

  /** The person leaves it as it is. */
  leave(): void {
    this.#trouble = undefined;
  }

  /** So that the file is found again with the workbook; only for one that is kept. */
  async remember(): Promise<void> {
    const file = this.#file;
    if (this.#isRemembered || !file?.seen || !this.#keeper.head) return;
    this.#isRemembered = true;
    const kept = { id: this.#keeper.id, handle: file.handle, seen: file.seen };
    await this.#memory.setFile(kept).catch(() => {
      this.#isRemembered = false;
    });
  }

  /** The file is another workbook's from now on. */
  async forget(): Promise<void> {
    this.#file = undefined;
    this.#trouble = undefined;
    await this.#memory.removeFile(this.#keeper.id).catch(() => undefined);
  }

  get #owns(): boolean {
    return this.#keeper.role === 'writer' || this.#keeper.role === 'apart';
  }

  /** One at a time: a second click while a file is written does nothing. */
  #once(run: () => Promise<void>): Promise<void> {
    this.#running ??= run().finally(() => {
      this.#running = undefined;
    });
    return this.#running;
  }

  async #saveAs(): Promise<void> {
    if (!savesInPlace()) {
      this.download();
      return;
    }
    const { title } = this.#session.workbook.document;
    const picked = await pickToSave(this.#file?.name ?? fileName(title, 'json'));
    if (picked === 'closed') return;
    if (picked === 'shut') this.download();
    else await this.#write(new LinkedFile(picked));
  }

  /** Another tab may have written the file since. */
  async #recall(): Promise<void> {
    const kept = await this.#memory.file(this.#keeper.id).catch(() => undefined);
    if (!kept) return;
    const isSame = this.#file && (await this.#file.handle.isSameEntry(kept.handle).catch(() => false));
    if (isSame) this.#file?.expect(kept.seen);
    else if (!this.#file || this.#isRemembered) {
      this.#file = new LinkedFile(kept.handle, kept.seen);
      this.#isRemembered = true;
    }
  }

  async #write(file: LinkedFile): Promise<void> {
    const document = stamped(this.#session.workbook.document, this.versions);
    const { edits } = this.#keeper;
    const trouble = await file.write(writeWorkbook(document));
    this.#trouble = trouble && { ...trouble, name: file.name };
    if (trouble) {
      this.#session.announcement = `Not saved in ${file.name}`;
      return;
    }
    this.#session.announcement = `Saved in ${file.name}`;
    void this.#shelf.keepVersion(versionOf(document), document);
    if (!this.#owns) return;
    this.#file = file;
    this.#isRemembered = false;
    this.#note({ how: 'written', name: file.name }, document.versions, edits);
    // A workbook that has a file is one to come back to, also where nothing was edited yet.
    if (this.#keeper.role === 'writer' && !this.#keeper.head) await this.#keeper.keepWhole();
    await this.remember();
  }

  #note(
    filed: Pick<Filed, 'how' | 'name'>,
    versions: readonly string[] = [],
    edits = this.#keeper.edits,
  ): void {
    this.#saved = versions;
    void this.#keeper.note({ filed: { ...filed, sequence: edits, at: Date.now(), versions } });
  }
}

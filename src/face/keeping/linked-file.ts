/**
 * The file that a workbook was opened from or saved to. It is written only while it holds what was last read or
 * written here; what another program has put there since is reported and stays.
 */
import { checksumOf } from '../../workbook/index.ts';
import { nameOf, type FileHandle, type Seen } from './file-access.ts';
import { LARGEST_FILE } from './files.ts';
import { reasonOf } from './recorder.ts';

export interface FoundText {
  readonly text: string;
  readonly seen: Seen;
}

/**
 * Why the file was not written; in each case but the last it is as it was.
 * `changed`: another program wrote it; `gone`: moved, renamed or deleted; `refused`: the browser or the person did not
 * allow it; `failed`: the disk did not take it; `unproved`: it was written and did not read back as it should, so that
 * nobody knows what it holds.
 */
export type FileTrouble =
  | { readonly kind: 'changed'; readonly found: FoundText }
  | { readonly kind: 'gone' }
  | { readonly kind: 'refused' }
  | { readonly kind: 'failed'; readonly why: string }
  | { readonly kind: 'unproved'; readonly why: string };

export class LinkedFile {
  readonly handle: FileHandle;
  #seen: Seen | undefined;
  /** What was written and could not be read back; found in the file it is nobody else's. */
  #unproved: string | undefined;

  /** `seen` is undefined for a file that was chosen to be written over. */
  constructor(handle: FileHandle, seen?: Seen) {
    this.handle = handle;
    this.#seen = seen;
  }

  get name(): string {
    return this.handle.name;
  }

  get seen(): Seen | undefined {
    return this.#seen;
  }

  /** From now on this is what is expected in the file: a write over anything else is refused. */
  expect(seen: Seen): void {
    this.#seen = seen;
    this.#unproved = undefined;
  }

  /** Whether another program has written the file, as far as can be told without asking the person. */
  async look(): Promise<FileTrouble | undefined> {
    const may = await this.handle.queryPermission({ mode: 'read' }).catch(() => 'denied');
    return may === 'granted' ? this.#differs(true) : undefined;
  }

  /** Writes the text in place of what the file holds. Undefined once it was read back as written. */
  async write(text: string): Promise<FileTrouble | undefined> {
    if (!(await this.#allowed())) return { kind: 'refused' };
    const before = this.#seen && (await this.#differs(false));
    if (before) return before;
    let stream: FileSystemWritableFileStream | undefined;
    try {
      // The browser writes beside the file and puts it in its place when it is closed.
      stream = await this.handle.createWritable();
      await stream.write(text);
      await stream.close();
    } catch (problem) {
      await stream?.abort().catch(() => undefined);
      return troubleOf(problem);
    }
    this.#unproved = text;
    const after = await this.#read();
    if ('kind' in after) return { kind: 'unproved', why: `it could not be read back: ${wordsOf(after)}` };
    if (after.text !== text) return { kind: 'unproved', why: 'it does not read back as it was written' };
    this.expect(after.seen);
    return undefined;
  }

  async #allowed(): Promise<boolean> {
    const access = { mode: 'readwrite' } as const;
    try {
      if ((await this.handle.queryPermission(access)) === 'granted') return true;
      return (await this.handle.requestPermission(access)) === 'granted';
    } catch {
      // Asked without a click of the person's.
      return false;
    }
  }

  /** `quickly`: an unchanged time and size are taken for an unchanged file. */
  async #differs(quickly: boolean): Promise<FileTrouble | undefined> {
    const seen = this.#seen;
    if (!seen) return undefined;
    if (quickly) {
      const file = await this.handle.getFile().catch(troubleOf);
      if ('kind' in file) return file;
      if (file.lastModified === seen.modified && file.size === seen.bytes) return undefined;
    }
    const found = await this.#read();
    if ('kind' in found) return found;
    const isSame = found.seen.checksum === seen.checksum && found.seen.characters === seen.characters;
    if (!isSame && found.text !== this.#unproved) return { kind: 'changed', found };
    // Only touched, as by a program that copies it; or written here.
    this.expect(found.seen);
    return undefined;
  }

  async #read(): Promise<FoundText | FileTrouble> {
    try {
      const file = await this.handle.getFile();
      if (file.size > LARGEST_FILE) return { kind: 'failed', why: 'it is larger than 50 MB now' };
      return await readText(file);
    } catch (problem) {
      return troubleOf(problem);
    }
  }
}

export async function readText(file: File): Promise<FoundText> {
  const text = await file.text();
  const { lastModified, size } = file;
  const checksum = checksumOf(text);
  return { text, seen: { checksum, characters: text.length, modified: lastModified, bytes: size } };
}

function wordsOf(trouble: FileTrouble): string {
  if (trouble.kind === 'gone') return 'it is not there';
  return 'why' in trouble ? trouble.why : 'the browser did not allow it';
}

function troubleOf(problem: unknown): FileTrouble {
  const name = nameOf(problem);
  if (name === 'NotFoundError') return { kind: 'gone' };
  if (name === 'NotAllowedError' || name === 'SecurityError') return { kind: 'refused' };
  return { kind: 'failed', why: reasonOf(problem) };
}
